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
  | 'dateOrder'
  | 'decimalMark'
  | 'uneven';

/** Which field answers a question or mends a problem, by its code. */
const fields: Readonly<Record<string, AnswerField>> = {
  'time-unit-not-stated': 'timeUnit',
  'sampling-rate-not-stated': 'sampleRateMHz',
  'distance-unit-not-stated': 'distanceUnit',
  'axis-velocity-not-stated': 'axisVelocityMPerS',
  'amplitude-unit-not-stated': 'amplitudeUnit',
  'full-screen-not-stated': 'fullScreen',
  'ambiguous-date': 'dateOrder',
  'ambiguous-commas': 'decimalMark',
  'ambiguous-number': 'decimalMark',
  'uneven-time': 'uneven',
};

export function answerField(code: string): AnswerField | null {
  return fields[code] ?? null;
}

/** The fields that a file's questions and problems can be answered with, each once. */
export function answerFields({ asks, problems }: Pick<OpenedSource, 'asks' | 'problems'>): readonly AnswerField[] {
  const found = [...asks, ...problems].map(({ code }) => answerField(code)).filter((field) => field !== null);
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
