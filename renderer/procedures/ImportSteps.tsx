import { type ReactNode, useState } from 'react';
import { type Guess, guessesOf } from '../../core/import/guesses.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { type Problem, problemLine } from '../../core/outcome.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Icon } from '../parts/Icon.tsx';
import { onScreen } from '../parts/on-screen.ts';
import { Progress } from '../parts/Progress.tsx';
import type { Importing, OpenedSource } from '../state/workbench-state.ts';
import { AnswerInput } from './AnswerFields.tsx';
import own from './ImportSteps.module.css';
import { answerFields, type FileGroup, groupedByShape } from './import-answers.ts';
import styles from './Step.module.css';
import { Step, Steps } from './Step.tsx';
import { understoodWords } from './understood-words.ts';

export interface ImportStepsProps {
  readonly files: readonly OpenedSource[];
  readonly importing: Importing | null;
  readonly onCancel: () => void;
  readonly onOpenFiles: () => void;
  readonly onOpenFolder: () => void;
  /** To be called in the event itself: what was dropped is gone after it. */
  readonly onDropped: (data: DataTransfer) => void;
  /** One recipe for these files. */
  readonly onRecipe: (files: readonly string[], recipe: ImportRecipe) => void;
  /** The columns of a file, with a preview. */
  readonly onColumns: (file: string) => void;
  readonly onRemove: (files: readonly string[]) => void;
  /** The bytes that were found under this name are taken in place of those that the review knows. */
  readonly onTakeFound: (file: string) => void;
  readonly onSelect: (file: string) => void;
  readonly style: FigureStyle;
}

/** Taking files in: what was understood, what is asked, what cannot be read and where. */
export function ImportSteps(props: ImportStepsProps) {
  const { files, importing, onCancel } = props;
  const of = (...states: readonly OpenedSource['state'][]) => files.filter(({ state }) => states.includes(state));
  const [asking, broken, lost, ready] = [of('asking'), of('broken'), of('missing', 'changed'), of('ready')];
  return (
    <>
      <DropZone {...props} />
      {importing !== null && (
        <div className={own.drop}>
          <Progress
            label={`${importing.what}: ${Math.floor(importing.done)} of ${importing.total}`}
            share={importing.total === 0 ? null : importing.done / importing.total}
            onCancel={onCancel}
          />
        </div>
      )}
      {files.length > 0 && (
        <Steps label="Import">
          {asking.length > 0 && (
            <Step
              title="What must be said"
              state="needs"
              summary={`${filesWords(asking.length)} cannot be measured with before something is said.`}
            >
              <Groups {...props} files={asking} />
            </Step>
          )}
          {lost.length > 0 && (
            <Step
              title="Missing or changed"
              state="wrong"
              word="to be located"
              summary={`${filesWords(lost.length)} of this review ${lost.length === 1 ? 'is' : 'are'} not as it knows them. Open the files to have them found by their content.`}
            >
              <Groups {...props} files={lost} />
            </Step>
          )}
          {broken.length > 0 && (
            <Step
              title="What cannot be read"
              state="wrong"
              word="left out"
              summary={`${filesWords(broken.length)}, with what is wrong and where.${ready.length > 0 ? ' The others are loaded.' : ''}`}
            >
              <Groups {...props} files={broken} />
            </Step>
          )}
          <Step
            title="What was understood"
            state={ready.length === 0 ? 'needs' : ready.some(({ warnings }) => warnings.length > 0) ? 'doubt' : 'found'}
            summary={readySummary(ready)}
          >
            <Groups {...props} files={ready} />
          </Step>
        </Steps>
      )}
    </>
  );
}

function filesWords(count: number): string {
  return count === 1 ? '1 file' : `${count} files`;
}

function readySummary(ready: readonly OpenedSource[]): string {
  if (ready.length === 0) return 'No file can be measured with yet.';
  const captures = ready.reduce((sum, { captures: own }) => sum + own.length, 0);
  const assumed = ready.filter(({ warnings }) => warnings.length > 0).length;
  const taken = assumed === 0 ? '' : ` In ${filesWords(assumed)} something was taken for granted.`;
  return `${filesWords(ready.length)} with ${captures === 1 ? '1 capture' : `${captures} captures`}.${taken}`;
}

function DropZone({ onOpenFiles, onOpenFolder, onDropped, files }: ImportStepsProps) {
  const [isOver, setOver] = useState(false);
  return (
    <section
      aria-label="Open captures"
      className={[own.drop, isOver ? own.over : ''].join(' ')}
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        event.stopPropagation();
        setOver(false);
        onDropped(event.dataTransfer);
      }}
    >
      <div className={styles.actions}>
        <Button kind={files.length === 0 ? 'main' : 'plain'} onPress={onOpenFiles}>
          <Icon name="file" /> Open files …
        </Button>
        <Button onPress={onOpenFolder}>
          <Icon name="folder" /> Open a folder …
        </Button>
      </div>
      <p>
        {isOver
          ? 'Let go to open them.'
          : 'Or drop files and folders here: captures as text, and manifest.csv beside them.'}
      </p>
    </section>
  );
}

/** So many cards are shown at once; the others one press further. */
const mostShown = 30;

function Groups(props: ImportStepsProps) {
  const [shown, setShown] = useState(mostShown);
  const groups = groupedByShape(props.files);
  return (
    <>
      <ul className={own.files}>
        {groups.slice(0, shown).map((group) => (
          <FileCard key={group.first.file} {...props} group={group} />
        ))}
      </ul>
      {groups.length > shown && (
        <Button onPress={() => setShown(shown + 10 * mostShown)}>Show more ({groups.length - shown})</Button>
      )}
    </>
  );
}

function FileCard(props: ImportStepsProps & { readonly group: FileGroup }) {
  const { group, onColumns, onRemove, onTakeFound, onSelect, style } = props;
  const { first, files } = group;
  const names = files.map(({ file }) => file);
  const { state } = first;
  return (
    <li className={own.file}>
      <div className={own.head}>
        <span className={own.name}>{first.file}</span>
        {files.length > 1 && <span className={own.tally}>and {files.length - 1} of the same shape</span>}
      </div>
      {first.understood !== null && <p className={own.understood}>{understoodWords(first.understood, style)}</p>}
      {state === 'missing' && <p>It was not found where the review was opened.</p>}
      {state === 'changed' && (
        <p>A file of this name is there, with another content than when it was taken into the review.</p>
      )}
      <Problems kind="problems" of={files} pick={({ problems }) => problems} />
      <Problems kind="asks" of={[first]} pick={({ asks }) => asks} />
      <Answers {...props} />
      <Problems kind="warnings" of={[first]} pick={({ warnings }) => warnings} />
      <Guesses source={first} />
      <div className={styles.actions}>
        {state === 'ready' && (
          <Button small onPress={() => onSelect(first.file)}>
            Show
          </Button>
        )}
        {state === 'changed' && (
          <Button small onPress={() => onTakeFound(first.file)}>
            Take the file as it is now
          </Button>
        )}
        {/* What was never read has no columns. */}
        {state !== 'missing' && state !== 'changed' && first.sha256 !== null && (
          <Button small onPress={() => onColumns(first.file)}>
            Columns …
          </Button>
        )}
        <Button small kind="quiet" onPress={() => onRemove(names)}>
          {files.length === 1 ? 'Take it out' : `Take out all ${files.length}`}
        </Button>
      </div>
      {files.length > 1 && <Others files={names.slice(1)} />}
    </li>
  );
}

/** The fields stand at the file that asks, and answer for all files of its shape. */
function Answers({ group, onRecipe, style }: ImportStepsProps & { readonly group: FileGroup }) {
  const { first, files } = group;
  const fields = answerFields(first);
  if (fields.length === 0) return null;
  return (
    <div className={own.answers}>
      {fields.map((field) => (
        <AnswerInput
          key={field}
          field={field}
          recipe={first.recipe}
          amplitudeUnit={first.recipe.amplitudeUnit ?? first.understood?.recipe.amplitudeUnit ?? null}
          style={style}
          onRecipe={(recipe) =>
            onRecipe(
              files.map(({ file }) => file),
              recipe,
            )
          }
        />
      ))}
      {files.length > 1 && (
        <p className={own.understood}>The answer is used for the {files.length} files of this shape.</p>
      )}
    </div>
  );
}

const mostProblems = 40;

function Problems({
  kind,
  of,
  pick,
}: {
  readonly kind: 'problems' | 'asks' | 'warnings';
  readonly of: readonly OpenedSource[];
  readonly pick: (file: OpenedSource) => readonly Problem[];
}) {
  const all = of.flatMap(pick);
  if (all.length === 0) return null;
  const labels = { problems: 'What is wrong', asks: 'What must be said', warnings: 'What was taken for granted' };
  return (
    <ul className={[own.problems, own[kind]].join(' ')} aria-label={labels[kind]}>
      {all.slice(0, mostProblems).map((problem) => (
        <li key={problemLine(problem)}>
          <Place problem={problem} />
          {onScreen(problem.sentence)}
        </li>
      ))}
      {all.length > mostProblems && <li>and {all.length - mostProblems} more</li>}
    </ul>
  );
}

/** `gap-in-time.csv:33:1`: file, line and column, as far as they are known; a file alone stands above already. */
function Place({ problem: { place } }: { readonly problem: Problem }): ReactNode {
  if (place.line === null) return null;
  const text = [place.file, place.line, place.column].filter((part) => part !== null).join(':');
  return <span className={own.place}>{text}</span>;
}

const certaintyWords: Readonly<Record<Guess['certainty'], string>> = {
  stated: 'as stated',
  written: 'stands in the file',
  inferred: 'follows from the file',
  assumed: 'could be otherwise',
  asked: 'must be said',
};

/** Everything that was decided about a file, and how sure that is. */
function Guesses({ source: { recipe, understood, asks, warnings } }: { readonly source: OpenedSource }) {
  if (understood === null) return null;
  return (
    <details className={own.guesses}>
      <summary>What was taken, and how sure</summary>
      <ul>
        {guessesOf(recipe, { ...understood, asks, warnings }).map(({ what, taken, certainty, from }) => (
          <li key={what}>
            {what}: {taken === null ? '' : `${taken}, `}
            {certaintyWords[certainty]} ({from})
          </li>
        ))}
      </ul>
    </details>
  );
}

function Others({ files }: { readonly files: readonly string[] }) {
  const listed = files.slice(0, 500);
  return (
    <details className={own.others}>
      <summary>The other {files.length}</summary>
      <ul>
        {listed.map((file) => (
          <li key={file}>{file}</li>
        ))}
        {files.length > listed.length && <li>and {files.length - listed.length} more</li>}
      </ul>
    </details>
  );
}
