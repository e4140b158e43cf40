import { type Problem, problem } from '../outcome.ts';
import type { Column } from './find-columns.ts';
import type { ImportRecipe } from './import-recipe.ts';

export function duplicateName(traces: readonly Column[], axis: Column | null, id: Column | null): Column | null {
  const seen = new Set<string>();
  for (const column of [axis, id, ...traces]) {
    if (column === null) continue;
    if (seen.has(column.name)) return column;
    seen.add(column.name);
  }
  return null;
}

/** Two columns of times that tell different ones: which of them the amplitudes stand over is not known. */
export function severalAxes(
  place: { readonly file: string; readonly line: number },
  axis: Column | null,
  rival: Column | null,
): readonly Problem[] {
  if (axis === null || rival === null) return [];
  return [
    problem(
      'several-axes',
      place,
      `‘${axis.name}’ and ‘${rival.name}’ could both be the axis, and tell different values. State which is (--axis-column ${axis.field + 1}, or ${rival.field + 1}), and which amplitudes stand over it (--amplitude-columns).`,
    ),
  ];
}

/** A header and a row of units below it that state different units. */
export function contradictoryUnits(
  place: { readonly file: string; readonly line: number },
  used: readonly (Column | null)[],
  recipe: ImportRecipe,
): readonly Problem[] {
  const isSettled = ({ label: { unit } }: Column) =>
    unit?.kind === 'time'
      ? recipe.timeUnit !== null
      : unit?.kind === 'distance'
        ? recipe.distanceUnit !== null
        : recipe.amplitudeUnit !== null;
  return used
    .filter((column) => column !== null && column.contradiction !== null && !isSettled(column))
    .map((column) => {
      const [header, row] = column?.contradiction ?? [];
      const option =
        column?.label.unit?.kind === 'time'
          ? '--time-unit'
          : column?.label.unit?.kind === 'distance'
            ? '--distance-unit'
            : '--amplitude-unit';
      return problem(
        'units-contradict',
        place,
        `‘${column?.name}’ states ‘${header}’ and the row of units below it ‘${row}’. State which is right (${option}).`,
      );
    });
}

export function ignoredColumns(
  file: string,
  columns: readonly Column[],
  axis: Column | null,
  id: Column | null,
  traces: readonly Column[],
  recipe: ImportRecipe,
): readonly Problem[] {
  if (recipe.columns.amplitudes !== null) return [];
  const used = new Set([axis?.field, id?.field, ...traces.map(({ field }) => field)]);
  const ignored = columns.filter(({ field }) => !used.has(field)).map(({ name }) => `‘${name}’`);
  return ignored.length === 0
    ? []
    : [
        problem(
          'column-ignored',
          { file },
          `${ignored.slice(0, 8).join(', ')} was not read: it is neither the axis nor an amplitude.`,
        ),
      ];
}

export function overriddenUnits(
  file: string,
  axis: Column | null,
  traces: readonly Column[],
  recipe: ImportRecipe,
): readonly Problem[] {
  const warnings: Problem[] = [];
  const axisUnit = axis?.label.unit;
  if (recipe.timeUnit !== null && axisUnit?.kind === 'time' && axisUnit.unit !== recipe.timeUnit) {
    warnings.push(
      problem(
        'unit-overridden',
        { file },
        `The file states its time in ${axisUnit.unit}; it was read in ${recipe.timeUnit}, as told.`,
      ),
    );
  }
  const trace = traces.find(
    ({ label }) =>
      label.unit?.kind === 'amplitude' && recipe.amplitudeUnit !== null && label.unit.unit !== recipe.amplitudeUnit,
  );
  if (trace !== undefined) {
    warnings.push(
      problem(
        'unit-overridden',
        { file },
        `The file states ‘${trace.name}’ in ${trace.label.unitText}; it was read as ${recipe.amplitudeUnit}, as told.`,
      ),
    );
  }
  return warnings;
}
