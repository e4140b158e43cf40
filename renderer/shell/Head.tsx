import { useState } from 'react';
import { Button, IconButton } from '../parts/Button.tsx';
import { Icon } from '../parts/Icon.tsx';
import { type Command, type CommandState, labelOf } from '../state/command.ts';
import { commands } from '../state/commands.ts';
import styles from './Head.module.css';
import { MenuBar } from './MenuBar.tsx';
import { isMac, shortcutWords } from './shortcut-words.ts';

/** The page's head: which review, whether it is saved, undo and redo, the menus, the way to all commands. */
export function Head({
  state,
  compact,
  hasOwnMenu,
  onTitle,
  onRun,
}: {
  readonly state: CommandState;
  readonly compact: boolean;
  /** The window has the menus in its own frame. */
  readonly hasOwnMenu: boolean;
  readonly onTitle: (title: string) => void;
  readonly onRun: (command: Command) => void;
}) {
  return (
    <header className={styles.head}>
      {!hasOwnMenu && <MenuBar state={state} compact={compact} onRun={onRun} />}
      <div className={styles.undo}>
        <CommandButton id="undo" icon="undo" state={state} onRun={onRun} />
        <CommandButton id="redo" icon="redo" state={state} onRun={onRun} />
      </div>
      <div className={styles.review}>
        <Title title={state.review.title} onTitle={onTitle} />
        <Saving state={state} />
      </div>
      {compact ? (
        <CommandButton id="palette" icon="search" state={state} onRun={onRun} />
      ) : (
        <Button small onPress={() => onRun(commandOf('palette'))}>
          <Icon name="search" />
          All commands
          <kbd>{keysOf(commandOf('palette'))}</kbd>
        </Button>
      )}
    </header>
  );
}

/** The title, edited where it stands: taken over with Enter or when the focus leaves, taken back with Escape. */
function Title({ title, onTitle }: { readonly title: string; readonly onTitle: (title: string) => void }) {
  const [draft, setDraft] = useState<string | null>(null);
  // A browser's own undo goes through all the fields of a page. Taken over, the field begins anew, so that Ctrl+Z in another one leaves it alone.
  const [taken, setTaken] = useState(0);
  return (
    <h1 className={styles.title}>
      <input
        key={taken}
        aria-label="Title of the review"
        placeholder="Untitled review"
        value={draft ?? title}
        onChange={(event) => setDraft(event.target.value)}
        onBlur={() => {
          if (draft === null) return;
          if (draft.trim() !== title) onTitle(draft.trim());
          setDraft(null);
          setTaken(taken + 1);
        }}
        onKeyDown={(event) => {
          if (event.key === 'Enter') event.currentTarget.blur();
          if (event.key === 'Escape') setDraft(null);
        }}
      />
    </h1>
  );
}

/** Where the review is kept and whether what stands there is what is shown, by a shape and in words. */
function Saving({ state: { name, unsaved, saving, review } }: { readonly state: CommandState }) {
  // There is nothing yet that could be lost.
  if (name === null && !unsaved && review.sources.length === 0) return null;
  const words = saving ? 'Saving …' : unsaved ? 'Unsaved changes' : name === null ? 'Not saved yet' : 'Saved';
  return (
    <p className={styles.saving} role="status">
      <span className={unsaved ? styles.unsaved : styles.saved} aria-hidden="true" />
      {name !== null && <span className={styles.name}>{name}</span>}
      <span>{words}</span>
    </p>
  );
}

function CommandButton({
  id,
  icon,
  state,
  onRun,
}: {
  readonly id: string;
  readonly icon: 'undo' | 'redo' | 'search';
  readonly state: CommandState;
  readonly onRun: (command: Command) => void;
}) {
  const command = commandOf(id);
  return (
    <IconButton
      icon={icon}
      label={labelOf(command, state)}
      keyShown={keysOf(command)}
      isDisabled={command.enabled?.(state) === false}
      onPress={() => onRun(command)}
    />
  );
}

function keysOf({ shortcuts }: Command): string | null {
  const [first] = shortcuts ?? [];
  return first === undefined ? null : shortcutWords(first, isMac);
}

function commandOf(id: string): Command {
  return commands.find((command) => command.id === id)!;
}
