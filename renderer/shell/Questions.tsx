import { Button } from '../parts/Button.tsx';
import { Modal } from '../parts/Modal.tsx';
import { instantWords } from './instant-words.ts';

/** Asked where going on would leave unsaved work behind. */
export function LeaveQuestion({
  name,
  before = null,
  isOpen,
  onSave,
  onDiscard,
  onStay,
}: {
  readonly name: string;
  /** What is to be opened in its place, where that has a name. */
  readonly before?: string | null;
  readonly isOpen: boolean;
  readonly onSave: () => void;
  readonly onDiscard: () => void;
  readonly onStay: () => void;
}) {
  return (
    <Modal
      title={`Save the changes to ${name}?`}
      isOpen={isOpen}
      onClose={onStay}
      width="small"
      role="alertdialog"
      actions={
        <>
          <Button onPress={onDiscard}>Go on without saving</Button>
          <Button onPress={onStay}>Stay here</Button>
          <Button kind="main" onPress={onSave} autoFocus>
            Save and go on
          </Button>
        </>
      }
    >
      {before !== null && <p>{before} is a saved review. It is opened in place of this one, not added to it.</p>}
      <p>What was decided since the last save is not in the file yet.</p>
    </Modal>
  );
}

/** Asked where somebody else has saved the same review meanwhile. Nothing has been written yet. */
export function ConflictQuestion({
  conflict,
  onChoose,
}: {
  readonly conflict: { readonly place: { readonly name: string }; readonly at: string | null } | null;
  readonly onChoose: (choice: 'overwrite' | 'elsewhere' | 'leave') => void;
}) {
  const name = conflict?.place.name ?? '';
  const at = conflict?.at ?? null;
  return (
    <Modal
      title={`${name} has been saved by another window`}
      isOpen={conflict !== null}
      onClose={() => onChoose('leave')}
      width="small"
      role="alertdialog"
      actions={
        <>
          <Button onPress={() => onChoose('overwrite')}>Write over it</Button>
          <Button onPress={() => onChoose('leave')}>Do not save now</Button>
          <Button kind="main" onPress={() => onChoose('elsewhere')} autoFocus>
            Save under another name …
          </Button>
        </>
      }
    >
      <p>
        Since you opened it, somebody has saved other decisions there{at === null ? '' : ` (${instantWords(at)})`}.
        Nothing has been written. Writing over it would lose what they decided.
      </p>
    </Modal>
  );
}
