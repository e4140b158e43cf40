import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { OpenedSource } from '../state/workbench-state.ts';

/** A part of a recipe that one question is answered with. */
export type AnswerField =
  | 'timeUnit'
  | 'sampleRateMHz'
  | 'distanceUnit'
  | 'axisVelocityMPerS'
  | 'amplitudeUnit'
  | 'fullScreen'
  | 'zeroLevel'
  | 'rectification'
  | 'dateOrder'
  | 'decimalMark'
  | 'uneven';

/** Which fields answer a question or mend a problem, by its code. Questions about columns are answered where all columns are seen. */
const fields: Readonly<Record<string, readonly AnswerField[]>> = {
  'time-unit-not-stated': ['timeUnit'],
  'implausible-sampling-rate': ['timeUnit'],
  'sampling-rate-contradicts': ['timeUnit', 'sampleRateMHz'],
  'sampling-rate-not-stated': ['sampleRateMHz'],
  'sampling-rate-implausible': ['sampleRateMHz'],
  // Not by a unit of time: that would make times of sample numbers.
  'implausible-increment': ['sampleRateMHz'],
  'increment-contradicts': ['sampleRateMHz'],
  'distance-unit-not-stated': ['distanceUnit'],
  'axis-velocity-not-stated': ['axisVelocityMPerS'],
  'amplitude-unit-not-stated': ['amplitudeUnit'],
  'fraction-under-percent': ['amplitudeUnit'],
  'full-screen-not-stated': ['fullScreen'],
  'base-line-not-stated': ['zeroLevel', 'rectification'],
  'rectification-doubtful': ['rectification'],
  'ambiguous-date': ['dateOrder'],
  'ambiguous-commas': ['decimalMark'],
  'ambiguous-number': ['decimalMark'],
  'ambiguous-thousands': ['decimalMark'],
  'uneven-time': ['uneven'],
};

/** The fields that a file's questions and problems can be answered with, each once. */
export function answerFields({
  asks,
  problems,
  understood = null,
}: Pick<OpenedSource, 'asks' | 'problems'> & Partial<Pick<OpenedSource, 'understood'>>): readonly AnswerField[] {
  const isDistance = understood?.recipe.axis === 'distance';
  const isTime = understood?.recipe.axis === 'time';
  const isPercent = understood?.traces[0]?.amplitudeUnit === 'percent';
  const found = [...asks, ...problems].flatMap(({ code }): readonly AnswerField[] => {
    if (code === 'implausible-sampling-rate' && isDistance) return ['distanceUnit'];
    if (code === 'sampling-rate-contradicts' && isDistance) return ['distanceUnit', 'sampleRateMHz'];
    if (code === 'implausible-amplitude') return isPercent ? ['amplitudeUnit'] : ['amplitudeUnit', 'fullScreen'];
    // A unit of time would make times of sample numbers.
    if (code === 'units-contradict')
      return [...(isDistance ? (['distanceUnit'] as const) : isTime ? (['timeUnit'] as const) : []), 'amplitudeUnit'];
    return fields[code] ?? [];
  });
  return [...new Set(found)];
}

/** A velocity answers that the axis is one of distance, too. */
export function answered<Field extends AnswerField>(
  recipe: ImportRecipe,
  field: Field,
  value: ImportRecipe[Field],
): ImportRecipe {
  return { ...recipe, [field]: value };
}

/** What two files have in common that one recipe serves both: how they are written, what is known of them and what is asked. */
function shapeOf({ understood, asks, problems, state }: OpenedSource): string {
  const questions = [...new Set([...asks, ...problems].map(({ code }) => code))].sort();
  if (understood === null) return JSON.stringify([state, questions]);
  const { delimiter, decimalMark, encoding, recipe, traces } = understood;
  const units = [...new Set(traces.map(({ amplitudeUnit, rectification }) => `${amplitudeUnit} ${rectification}`))];
  return JSON.stringify([
    state,
    questions,
    delimiter,
    decimalMark,
    encoding,
    recipe.headerLine,
    recipe.columns,
    recipe.axis,
    recipe.timeUnit,
    units,
  ]);
}

/** The files of the same shape as this one, itself among them, in their order. */
export function sameShape(files: Iterable<OpenedSource>, file: OpenedSource): readonly string[] {
  const shape = shapeOf(file);
  return [...files].filter((other) => shapeOf(other) === shape).map((other) => other.file);
}

/** Files of one shape that came in together: what was understood stands once for all of them. */
export interface FileGroup {
  readonly first: OpenedSource;
  readonly files: readonly OpenedSource[];
}

export function groupedByShape(files: readonly OpenedSource[]): readonly FileGroup[] {
  const groups = new Map<string, OpenedSource[]>();
  for (const file of files) {
    const shape = shapeOf(file);
    const group = groups.get(shape);
    if (group === undefined) groups.set(shape, [file]);
    else group.push(file);
  }
  return [...groups.values()].flatMap((group) => (group[0] === undefined ? [] : [{ first: group[0], files: group }]));
}
