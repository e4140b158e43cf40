import type { CaptureId } from '../../core/capture/capture.ts';
import type { Evaluation } from '../../core/evaluate.ts';
import type { Flag } from '../../core/flag.ts';
import type { Problem } from '../../core/outcome.ts';
import type { OpenedSource } from '../state/workbench-state.ts';

/** A line of the list: a capture, or a file that has given none (yet). */
export interface CaptureRow {
  /** Of the capture, or the name of the file. */
  readonly id: string;
  readonly kind: 'capture' | 'file';
  readonly file: string;
  /** What it is called here: the file, with the trace where the file has several. */
  readonly name: string;
  readonly positionMm: number | null;
  readonly takenAt: string | null;
  readonly gainDb: number | null;
  readonly probe: string | null;
  readonly block: string | null;
  readonly state: OpenedSource['state'];
  /** What is asked or wrong, with its place; `null` where all is well. */
  readonly problem: Problem | null;
  /** How many more there are of the kind. */
  readonly moreProblems: number;
  readonly flags: readonly Flag[];
}

/** What a state is called where it is not simply ready. */
export const stateWords: Record<OpenedSource['state'], string> = {
  ready: 'ready',
  asking: 'needs an answer',
  broken: 'cannot be read',
  missing: 'file not found',
  changed: 'file has changed',
};

const leastKnown = { positionMm: null, takenAt: null, gainDb: null, probe: null, block: null, flags: [] } as const;

/** The list's lines in the order of the files: each capture, or the file itself where it has none. */
export function captureRows(
  files: Iterable<OpenedSource>,
  flagsOf: ReadonlyMap<CaptureId, readonly Flag[]>,
): CaptureRow[] {
  return Array.from(files).flatMap((source): CaptureRow[] => {
    const { file, state, captures } = source;
    const concerns = state === 'ready' ? [] : [...source.problems, ...source.asks];
    const common = { file, state, problem: concerns[0] ?? null, moreProblems: Math.max(0, concerns.length - 1) };
    if (captures.length === 0) return [{ ...leastKnown, ...common, id: file, kind: 'file', name: file }];
    return captures.map(({ id, trace, positionMm, takenAt, gainDb, probe, block }) => ({
      ...common,
      id,
      kind: 'capture',
      name: captures.length === 1 ? file : `${file}#${trace}`,
      positionMm,
      takenAt,
      gainDb,
      probe,
      block,
      flags: flagsOf.get(id) ?? [],
    }));
  });
}

/** Every flag that an evaluation has set at a capture, each once: of its readings, and of its check of drift. */
export function flagsByCapture(evaluation: Evaluation | null): ReadonlyMap<CaptureId, readonly Flag[]> {
  const found = new Map<CaptureId, Set<Flag>>();
  const add = (captureId: CaptureId, flags: readonly Flag[]) => {
    if (flags.length === 0) return;
    const known = found.get(captureId) ?? new Set();
    for (const flag of flags) known.add(flag);
    found.set(captureId, known);
  };
  for (const { captureId, flags } of evaluation?.readings?.readings ?? []) add(captureId, flags);
  for (const { captureId, flags } of evaluation?.drift?.checks ?? []) add(captureId, flags);
  return new Map([...found].map(([captureId, flags]) => [captureId, [...flags]]));
}

/** What a row's state is, in one line, with the first problem at its place: `cannot be read, line 33: eight samples are missing …`. */
export function concernWords({ state, problem, moreProblems }: CaptureRow): string | null {
  if (state === 'ready') return null;
  if (problem === null) return stateWords[state];
  const { line } = problem.place;
  const more = moreProblems === 0 ? '' : ` (and ${moreProblems} more)`;
  return `${stateWords[state]}${line === null ? '' : `, line ${line}`}: ${problem.sentence}${more}`;
}
