import type { Problem } from '../outcome.ts';
import type { ImportedFile } from './import-file.ts';
import type { ImportRecipe } from './import-recipe.ts';

/**
 * How sure a decision about a file is.
 *
 * - `stated`: a person said so
 * - `written`: the file says so itself
 * - `inferred`: nothing else fits what stands in the file
 * - `assumed`: it could be otherwise, and a sentence among the warnings says so
 * - `asked`: it is open, and nothing is computed before it is stated
 */
export type Certainty = 'stated' | 'written' | 'inferred' | 'assumed' | 'asked';

/** One decision of an import: what was taken, how sure that is, and what it follows from. */
export interface Guess {
  readonly what: string;
  /** `null` where it is open, or the file has none. */
  readonly taken: string | null;
  readonly certainty: Certainty;
  readonly from: string;
}

/** What an import tells of a file, as far as guesses follow from it. */
export type Understood = Pick<
  ImportedFile,
  'encoding' | 'delimiter' | 'decimalMark' | 'traces' | 'recipe' | 'asks' | 'warnings'
>;

/** All that was decided about a file, in the order in which it is read. `given` is what a person stated. */
export function guessesOf(given: ImportRecipe, understood: Understood): readonly Guess[] {
  const { recipe, encoding, delimiter, decimalMark, traces } = understood;
  const [first] = traces;
  const judge = judgeOf(understood);
  const { axis, amplitudes, captureId } = recipe.columns;
  const headerFrom = 'names stand above the first row of numbers';
  const guesses: readonly (Guess | null)[] = [
    judge('encoding', encoding, given.encoding, 'the bytes are valid in it', { assumed: ['encoding-latin-1'] }),
    judge('delimiter', delimiterNames[delimiter ?? 'none'], given.delimiter, 'the first rows part into numbers by it'),
    judge('decimal mark', decimalMark === ',' ? 'comma' : 'point', given.decimalMark, 'a number shows it', {
      asked: ['ambiguous-thousands'],
    }),
    recipe.headerLine === null || recipe.headerLine === 0
      ? judge('line of the names', 'none', given.headerLine, 'no line of names stands above the rows')
      : judge('line of the names', String(recipe.headerLine), given.headerLine, headerFrom),
    judge(
      'column of the axis',
      axis === null ? 'none' : String(axis),
      given.columns.axis,
      'its name, or that it rises',
      {
        asked: ['several-axes'],
      },
    ),
    axis === null || recipe.axis === null
      ? null
      : judge('kind of axis', recipe.axis, given.axis, 'the name or unit of its column', {
          asked: ['time-unit-not-stated'],
        }),
    unitOfAxis(given, understood),
    judge(
      'sampling interval',
      first?.stepUs == null ? null : `${short(first.stepUs)} µs`,
      given.sampleRateMHz,
      intervalFrom(axis),
      {
        asked: [
          'sampling-rate-not-stated',
          'sampling-rate-contradicts',
          'sampling-rate-implausible',
          'implausible-increment',
          'increment-contradicts',
          ...unitAsks,
        ],
        assumed: [
          'coarse-axis',
          'increment-in-seconds',
          'unusual-sampling-rate',
          'sampling-rate-contradicts',
          'resampled',
        ],
      },
    ),
    judge(
      'time of the first sample',
      first?.startUs == null ? null : `${short(first.startUs)} µs`,
      given.startUs,
      intervalFrom(axis),
      {
        asked: ['sampling-rate-not-stated', 'implausible-increment', 'increment-contradicts', ...unitAsks],
        assumed: ['start-assumed', 'first-sample-number'],
      },
    ),
    judge('columns of amplitudes', listed(amplitudes), given.columns.amplitudes, 'what is neither axis nor a setting', {
      asked: ['flat-column', 'one-way-column', 'several-axes'],
      assumed: ['column-ignored', 'flat-column', 'one-way-column'],
    }),
    captureId === null
      ? null
      : judge('column that tells captures apart', String(captureId), given.columns.captureId, 'its name'),
    judge('unit of amplitude', first?.amplitudeUnit ?? null, given.amplitudeUnit, 'the file states it', {
      asked: ['amplitude-unit-not-stated', 'implausible-amplitude', 'fraction-under-percent', 'units-contradict'],
      assumed: ['unusual-amplitude', 'fraction-under-percent'],
      otherwise: 'written',
    }),
    judge(
      '100 % of full screen',
      recipe.fullScreen === null ? null : short(recipe.fullScreen),
      given.fullScreen,
      first?.amplitudeUnit === 'percent' ? 'the unit is % of it' : 'the file states it',
      {
        asked: ['full-screen-not-stated', 'amplitude-unit-not-stated', 'implausible-amplitude'],
        assumed: ['full-scale-of-converter', 'full-screen-unit-assumed'],
        otherwise: 'written',
      },
    ),
    judge(
      'base line',
      first === undefined ? null : short(first.zeroLevel),
      given.zeroLevel,
      'the samples lie about it, or end there',
      {
        asked: ['base-line-not-stated'],
        assumed: ['zero-at-mid-scale'],
      },
    ),
    judge(
      'rectification',
      first?.rectification ?? null,
      given.rectification,
      'the file, or the sides of the base line that have samples',
      {
        asked: ['rectification-doubtful', 'base-line-not-stated'],
        assumed: ['rectification-inferred', 'rectification-contradicts', 'rectification-doubtful', 'zero-at-mid-scale'],
      },
    ),
    orderOfDates(given, understood),
  ];
  return guesses.filter((guess) => guess !== null);
}

const unitAsks = [
  'time-unit-not-stated',
  'implausible-sampling-rate',
  'distance-unit-not-stated',
  'axis-velocity-not-stated',
];

/** Only where a date was met that has two readings. */
function orderOfDates(given: ImportRecipe, understood: Understood): Guess | null {
  const judged = judgeOf(understood)(
    'order of dates',
    given.dateOrder ?? 'day-first',
    given.dateOrder,
    'points separate the date',
    {
      asked: ['ambiguous-date'],
      assumed: ['day-first-assumed'],
    },
  );
  return judged.certainty === 'inferred' ? null : judged;
}

function unitOfAxis(given: ImportRecipe, understood: Understood): Guess | null {
  const { axis, timeUnit, distanceUnit, columns } = understood.recipe;
  if (columns.axis === null || axis === null) return null;
  const [unit, stated] = axis === 'time' ? [timeUnit, given.timeUnit] : [distanceUnit, given.distanceUnit];
  return judgeOf(understood)('unit of the axis', unit, stated, 'the file states it', {
    asked: [...unitAsks, 'units-contradict', 'sampling-rate-contradicts'],
    inferred: ['time-unit-from-rate'],
    otherwise: 'written',
  });
}

interface Codes {
  /** Asks that leave it open. */
  readonly asked?: readonly string[];
  readonly inferred?: readonly string[];
  /** Warnings that say it could be otherwise. */
  readonly assumed?: readonly string[];
  /** Where none of these was raised. */
  readonly otherwise?: Certainty;
}

/** Judges by what a person stated, then by the asks and warnings that the import raised. */
function judgeOf({ asks, warnings }: Understood) {
  const raised = (problems: readonly Problem[], codes: readonly string[] = []) =>
    problems.some(({ code }) => codes.includes(code));
  return (what: string, taken: string | null, stated: unknown, from: string, codes: Codes = {}): Guess => {
    if (raised(asks, codes.asked) || (taken === null && stated === null))
      return { what, taken: null, certainty: 'asked', from: 'the file leaves it open' };
    if (stated !== null) return { what, taken, certainty: 'stated', from: 'as told' };
    if (raised(warnings, codes.assumed)) return { what, taken, certainty: 'assumed', from };
    if (raised(warnings, codes.inferred)) return { what, taken, certainty: 'inferred', from };
    return { what, taken, certainty: codes.otherwise ?? 'inferred', from };
  };
}

function intervalFrom(axis: string | number | null): string {
  return axis === null ? 'the file states it' : 'first and last value of the axis';
}

function listed(columns: ImportRecipe['columns']['amplitudes']): string | null {
  if (columns === null) return null;
  return columns.length <= 8 ? columns.join(', ') : `${columns.slice(0, 8).join(', ')} and ${columns.length - 8} more`;
}

const delimiterNames = { ',': 'comma', ';': 'semicolon', '\t': 'tab', ' ': 'blanks', none: 'none' } as const;

function short(value: number): string {
  return String(Number(value.toPrecision(6)));
}
