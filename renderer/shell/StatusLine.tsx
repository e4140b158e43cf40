import { Progress } from '../parts/Progress.tsx';
import type { OpenedSource, State } from '../state/workbench-state.ts';
import styles from './StatusLine.module.css';

/** What is being done, how far it is, and the way to stop it; otherwise what there is. */
export function StatusLine({
  state,
  onCancelImport,
  onCancelEvaluation,
}: {
  readonly state: Pick<State, 'importing' | 'evaluating' | 'evaluationProgress' | 'captures' | 'files'>;
  readonly onCancelImport: () => void;
  readonly onCancelEvaluation: () => void;
}) {
  const { importing, evaluating, evaluationProgress: progress } = state;
  return (
    <footer className={styles.line}>
      <div className={styles.running}>
        {importing !== null && (
          <Progress
            label={`${importing.what}: ${Math.floor(importing.done)} of ${importing.total}`}
            share={importing.total > 0 ? importing.done / importing.total : null}
            onCancel={onCancelImport}
          />
        )}
        {importing === null && evaluating && (
          <Progress
            label={progress === null ? 'Evaluating' : `Evaluating: ${progress.done} of ${progress.total} captures`}
            share={progress === null || progress.total === 0 ? null : progress.done / progress.total}
            onCancel={onCancelEvaluation}
          />
        )}
      </div>
      <p className={styles.held} role="status">
        {heldWords(state)}
      </p>
    </footer>
  );
}

const stateWords: Readonly<Record<Exclude<OpenedSource['state'], 'ready'>, (count: number) => string>> = {
  asking: (count) => `${count} ${count === 1 ? 'file asks' : 'files ask'} something`,
  broken: (count) => `${count} cannot be read`,
  missing: (count) => `${count} missing`,
  changed: (count) => `${count} changed since`,
};

/** `21 captures in 24 files · 2 files ask something · 1 missing`. */
export function heldWords({ captures, files }: Pick<State, 'captures' | 'files'>): string {
  if (files.size === 0) return 'No captures yet';
  const states = [...files.values()].map(({ state }) => state);
  const others = (['asking', 'broken', 'missing', 'changed'] as const).flatMap((state) => {
    const count = states.filter((one) => one === state).length;
    return count === 0 ? [] : [stateWords[state](count)];
  });
  const held = `${counted(captures.size, 'capture')} in ${counted(files.size, 'file')}`;
  return [held, ...others].join(' · ');
}

function counted(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
