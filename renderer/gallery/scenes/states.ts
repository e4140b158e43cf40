import { inferEverything } from '../../../core/import/import-recipe.ts';
import { problem } from '../../../core/outcome.ts';
import type { OpenedSource, State } from '../../state/workbench-state.ts';

/** The scenario's files with one of each other state before them. */
export function filesOfAllStates({ files }: Pick<State, 'files'>): ReadonlyMap<string, OpenedSource> {
  const [first, second, ...rest] = [...files.values()];
  const others: OpenedSource[] = [
    asking('export/left.csv', 'the unit of the time column is not said; say it, or name the column "time_us"'),
    asking('export/right.csv', 'the unit of the time column is not said; say it, or name the column "time_us"'),
    broken('export/cut-off.csv', [
      problem(
        'field-missing',
        { file: 'export/cut-off.csv', line: 1207 },
        'the line ends before its amplitude; save it again',
      ),
      problem('field-missing', { file: 'export/cut-off.csv', line: 1208 }, 'the amplitude "--" is no number'),
    ]),
    broken('export/picture.csv', [
      problem('not-text', { file: 'export/picture.csv' }, 'this is no text; export the waveform as CSV'),
    ]),
    { ...first!, state: 'missing', captures: [], file: 'gone/stepped-piece.csv' },
    { ...second!, state: 'changed', captures: [], found: '5'.repeat(64), file: 'plate/scan-00.csv' },
  ];
  const warned: OpenedSource = {
    ...first!,
    warnings: [
      problem('rectification-inferred', { file: first!.file }, 'the trace has both half waves, so it is taken as RF'),
    ],
  };
  return new Map([...others, warned, second!, ...rest].map((source) => [source.file, source]));
}

const plain: Omit<OpenedSource, 'file' | 'state'> = {
  sha256: '0'.repeat(64),
  inReview: true,
  recipe: inferEverything,
  understood: null,
  captures: [],
  asks: [],
  warnings: [],
  problems: [],
  found: null,
};

function asking(file: string, sentence: string): OpenedSource {
  return { ...plain, file, state: 'asking', asks: [problem('time-unit', { file, line: 1, column: 1 }, sentence)] };
}

function broken(file: string, problems: OpenedSource['problems']): OpenedSource {
  return { ...plain, file, state: 'broken', inReview: false, problems };
}

/** So many files with one capture each, in names that a folder of a long day has. */
export function manyFiles({ files }: Pick<State, 'files'>, count: number): ReadonlyMap<string, OpenedSource> {
  const models = [...files.values()].filter(({ captures }) => captures.length === 1);
  return new Map(
    Array.from({ length: count }, (_, i) => {
      const model = models[i % models.length]!;
      const file = `day-${1 + Math.floor(i / 500)}/weld-${String(i + 1).padStart(5, '0')}.csv`;
      const captures = model.captures.map((capture) => ({ ...capture, id: file, file, positionMm: i / 4 }));
      return [file, { ...model, file, captures }];
    }),
  );
}
