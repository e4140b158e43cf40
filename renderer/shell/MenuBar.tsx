import { Menu, MenuItem, MenuSection, MenuTrigger, Popover, Toolbar } from 'react-aria-components';
import { Button } from '../parts/Button.tsx';
import {
  type Command,
  type CommandState,
  isEnabled,
  isShown,
  labelOf,
  type MenuName,
  menus,
} from '../state/command.ts';
import { commands } from '../state/commands.ts';
import styles from './MenuBar.module.css';
import { isMac, shortcutWords } from './shortcut-words.ts';

/** The menus from the list of commands; where there is no room, one menu of all. */
export function MenuBar({
  state,
  compact,
  onRun,
}: {
  readonly state: CommandState;
  readonly compact: boolean;
  readonly onRun: (command: Command) => void;
}) {
  if (compact) {
    return (
      <MenuTrigger>
        <Button kind="quiet">Menu</Button>
        <MenuOf names={menus} state={state} onRun={onRun} />
      </MenuTrigger>
    );
  }
  return (
    <Toolbar aria-label="Menus" className={styles.bar ?? ''}>
      {menus.map((name) => (
        <MenuTrigger key={name}>
          <Button kind="quiet" small>
            {name}
          </Button>
          <MenuOf names={[name]} state={state} onRun={onRun} />
        </MenuTrigger>
      ))}
    </Toolbar>
  );
}

function MenuOf({
  names,
  state,
  onRun,
}: {
  readonly names: readonly MenuName[];
  readonly state: CommandState;
  readonly onRun: (command: Command) => void;
}) {
  const groups = names.flatMap((name) => groupsOf(name, state));
  return (
    <Popover className={styles.popover ?? ''} placement="bottom start" offset={4}>
      <Menu
        className={styles.menu ?? ''}
        aria-label={names.join(', ')}
        disabledKeys={commands.filter((command) => !isEnabled(command, state)).map(({ id }) => id)}
        onAction={(id) => {
          const command = commands.find((one) => one.id === id);
          if (command !== undefined) onRun(command);
        }}
      >
        {groups.map((group) => (
          <MenuSection key={group[0]?.id ?? ''} className={styles.section ?? ''} aria-label={group[0]?.menu ?? ''}>
            {group.map((command) => (
              <MenuItem
                key={command.id}
                id={command.id}
                className={styles.item ?? ''}
                textValue={labelOf(command, state)}
              >
                <span>{labelOf(command, state)}</span>
                {command.shortcuts?.[0] !== undefined && (
                  <kbd className={styles.keys}>{shortcutWords(command.shortcuts[0], isMac)}</kbd>
                )}
              </MenuItem>
            ))}
          </MenuSection>
        ))}
      </Menu>
    </Popover>
  );
}

/** The commands of a menu that are shown, in the groups between which a line stands. */
function groupsOf(name: MenuName, state: CommandState): Command[][] {
  const groups: Command[][] = [[]];
  for (const command of commands) {
    if (command.menu !== name || !isShown(command, state)) continue;
    if (command.apart === true) groups.push([]);
    groups.at(-1)?.push(command);
  }
  return groups.filter((group) => group.length > 0);
}
