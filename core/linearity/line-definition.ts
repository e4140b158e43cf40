import { fitLine } from '../statistics/line-fit.ts';

/** Which straight line deviations are counted from. */
export type LineDefinition =
  | { readonly kind: 'end-points' }
  | { readonly kind: 'least-squares' }
  /** Through two of the places. */
  | { readonly kind: 'through'; readonly first: number; readonly second: number };

/**
 * The line as weights: its value at place i is Σ weights[i][j] · y[j]. Every definition of a line is linear in what was read, so that its
 * uncertainty follows from the same weights.
 *
 *     end points, through two   weights 1 − w and w of the two, w = (x − x1) / (x2 − x1)
 *     least squares             1/n + (xi − x̄) · (xj − x̄) / Sxx
 *
 * @param places at least two that differ, in order; for `through` the two are indexes into them
 * Source: definition; least squares: JCGM 100:2008 (GUM), H.3.
 */
export function lineWeights(places: readonly number[], definition: LineDefinition): number[][] {
  if (definition.kind === 'least-squares') return leastSquaresWeights(places);
  const [first, second] =
    definition.kind === 'end-points' ? [0, places.length - 1] : [definition.first, definition.second];
  return places.map((place) => {
    const weight = (place - places[first]) / (places[second] - places[first]);
    const row = places.map(() => 0);
    row[first] += 1 - weight;
    row[second] += weight;
    return row;
  });
}

function leastSquaresWeights(places: readonly number[]): number[][] {
  const mean = places.reduce((sum, place) => sum + place, 0) / places.length;
  const square = places.reduce((sum, place) => sum + (place - mean) ** 2, 0);
  return places.map((a) => places.map((b) => 1 / places.length + ((a - mean) * (b - mean)) / square));
}

/** Value of each place's line, by its weights. */
export function alongLine(weights: readonly (readonly number[])[], values: readonly number[]): number[] {
  const about = values[0];
  return weights.map((row) => about + row.reduce((sum, weight, j) => sum + weight * (values[j] - about), 0));
}

/** Slope of the line that those values lie on. */
export function slopeOf(places: readonly number[], onLine: readonly number[]): number | null {
  const fit = fitLine(places, onLine);
  return fit.ok ? fit.value.slope : null;
}
