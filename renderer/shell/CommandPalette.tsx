import { useDeferredValue, useState } from 'react';
import {
  Autocomplete,
  Dialog,
  Input,
  Label,
  Menu,
  MenuItem,
  Modal,
  ModalOverlay,
  SearchField,
} from 'react-aria-components';
import { Icon } from '../parts/Icon.tsx';
import { type Command, type CommandState, isEnabled, isShown, labelOf } from '../state/command.ts';
import { commands } from '../state/commands.ts';
import styles from './CommandPalette.module.css';
import { filterByWords } from './command-filter.ts';
import { isMac, shortcutWords } from './shortcut-words.ts';

/** All commands, found by a few of their letters: arrows choose, Enter carries out, Escape leaves. */
export function CommandPalette({
  state,
  isOpen,
  onClose,
  onRun,
}: {
  readonly state: CommandState;
  readonly isOpen: boolean;
  readonly onClose: () => void;
  readonly onRun: (command: Command) => void;
}) {
  return (
    <ModalOverlay
      className={styles.veil ?? ''}
      isOpen={isOpen}
      onOpenChange={(open) => !open && onClose()}
      isDismissable
      data-modal
    >
      <Modal className={styles.modal ?? ''}>
        <Dialog aria-label="All commands" className={styles.dialog ?? ''}>
          <Choosing state={state} onRun={onRun} />
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}

function Choosing({ state, onRun }: { readonly state: CommandState; readonly onRun: (command: Command) => void }) {
  const [typed, setTyped] = useState('');
  const words = useDeferredValue(typed);
  const found = filterByWords(
    commands.filter((command) => command.id !== 'palette' && isShown(command, state)),
    (command) => `${labelOf(command, state)} ${command.menu}`,
    words,
  );
  return (
    <Autocomplete inputValue={typed} onInputChange={setTyped}>
      <SearchField className={styles.search ?? ''} autoFocus>
        <Label className={styles.label ?? ''}>Command</Label>
        <Icon name="search" />
        <Input className={styles.input ?? ''} placeholder="What would you like to do?" />
      </SearchField>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: the list is longer than the dialog, and must be scrolled by keys that reach it */}
      <div className={styles.scroll} tabIndex={0}>
        <Menu
          className={styles.list ?? ''}
          aria-label="Commands"
          disabledKeys={commands.filter((command) => !isEnabled(command, state)).map(({ id }) => id)}
          onAction={(id) => {
            const command = commands.find((one) => one.id === id);
            if (command !== undefined) onRun(command);
          }}
          renderEmptyState={() => <p className={styles.none}>No command has these letters in this order.</p>}
        >
          {found.map(({ item: command, at }) => (
            <MenuItem
              key={command.id}
              id={command.id}
              className={styles.item ?? ''}
              textValue={labelOf(command, state)}
            >
              <span className={styles.words}>
                <Marked words={labelOf(command, state)} at={at} />
              </span>
              <span className={styles.menu}>{command.menu}</span>
              <kbd className={styles.keys}>
                {command.shortcuts?.[0] === undefined ? '' : shortcutWords(command.shortcuts[0], isMac)}
              </kbd>
            </MenuItem>
          ))}
        </Menu>
      </div>
    </Autocomplete>
  );
}

/** The letters that were meant stand out by weight and line. */
function Marked({ words, at }: { readonly words: string; readonly at: readonly number[] }) {
  const meant = new Set(at);
  // Neighbours of one kind in one piece, so that a screen reader is not made to spell.
  const runs: { text: string; isMeant: boolean; from: number }[] = [];
  for (const [i, letter] of [...words].entries()) {
    const last = runs.at(-1);
    if (last !== undefined && last.isMeant === meant.has(i)) last.text += letter;
    else runs.push({ text: letter, isMeant: meant.has(i), from: i });
  }
  return runs.map(({ text, isMeant, from }) =>
    isMeant ? <mark key={from}>{text}</mark> : <span key={from}>{text}</span>,
  );
}
