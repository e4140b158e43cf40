import { Modal } from '../parts/Modal.tsx';
import { type Command, type CommandState, labelOf, menus } from '../state/command.ts';
import { commands } from '../state/commands.ts';
import styles from './ShortcutHelp.module.css';
import { isMac, shortcutWords } from './shortcut-words.ts';

/** Keys that belong to one part of the page and work while it has the focus. */
export interface KeyGroup {
  readonly title: string;
  readonly keys: readonly { readonly shown: string; readonly does: string }[];
}

/** Every shortcut of the list of commands, and the keys of the page's parts. */
export function ShortcutHelp({
  state,
  groups,
  isOpen,
  onClose,
}: {
  readonly state: CommandState;
  readonly groups: readonly KeyGroup[];
  readonly isOpen: boolean;
  readonly onClose: () => void;
}) {
  const ofCommands = menus.map(
    (menu): KeyGroup => ({
      title: menu,
      keys: commands
        .filter(
          (command): command is Command & { shortcuts: readonly string[] } =>
            command.menu === menu && (command.shortcuts?.length ?? 0) > 0,
        )
        .map((command) => ({
          shown: command.shortcuts.map((shortcut) => shortcutWords(shortcut, isMac)).join(' or '),
          does: labelOf(command, state).replace(/ …$/, ''),
        })),
    }),
  );
  return (
    <Modal title="Keys and shortcuts" isOpen={isOpen} onClose={onClose} width="wide" isText>
      <div className={styles.columns}>
        {[...ofCommands, ...groups].map(({ title, keys }) => (
          <section key={title} className={styles.group}>
            <h3>{title}</h3>
            <dl>
              {keys.map(({ shown, does }) => (
                <div key={shown + does}>
                  <dt>
                    <kbd>{shown}</kbd>
                  </dt>
                  <dd>{does}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
    </Modal>
  );
}
