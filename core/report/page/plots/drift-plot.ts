import type { DriftCheck, DriftedReflector, DriftResult } from '../../../check/drift.ts';
import type { VerdictOutcome } from '../../../check/verdict.ts';
import { figures, figureWords } from '../../../origin/figure.ts';
import type { FigureStyle } from '../../../units/figure-style.ts';
import type { Quantity } from '../../../units/quantity.ts';
import type { Markup } from '../markup.ts';
import { type PlotLevel, plot } from './frame.ts';
import { mark, pathThrough, reachOf, uncertaintyBar } from './marks.ts';

type Kind = 'distance' | 'amplitude';

const lines = ['line', 'line-dashed', 'line-dotted'] as const;

/** One deviation over the checks in order of time: a line for each reflector, the rule's limits across. `null` where nothing was measured. */
export function driftPlot(kind: Kind, result: DriftResult, style: FigureStyle): Markup | null {
  const distances = [
    ...new Set(result.checks.flatMap((check) => check.reflectors.map((reflector) => reflector.distanceMm))),
  ].sort((a, b) => a - b);
  const series = distances.map((distanceMm) => ({
    name: figureWords(figures.statedMm(distanceMm, style), style),
    points: result.checks.map((check) => pointOf(kind, check, distanceMm, style)),
  }));
  const measured = series.flatMap(({ points }) => points.filter((point) => point !== null));
  if (measured.length === 0) return null;
  const unit = kind === 'distance' ? figures.lengthMm(0, style).unit : 'dB';
  const what = kind === 'distance' ? 'Distance error' : 'Amplitude change';
  const legend = series
    .map(({ name }, i) => `${['solid', 'dashed', 'dotted'][i % lines.length]} line ${name}`)
    .join(', ');
  return plot({
    title: `${what} at each check`,
    description: `Checks in order of the time taken, by their numbers in the table; ${legend}. Bars: expanded uncertainty, k = 2. Full disc: pass; cross: fail; half-full disc: inconclusive; ring: not assessed or not judged.`,
    x: { title: 'check', from: 0, to: 0, names: result.checks.map((_, i) => String(i + 1)) },
    y: { title: `${what.toLowerCase()} (${unit})`, ...reachOf(measured.map(({ value }) => value)) },
    levels: [{ at: 0, label: 'calibration', kind: 'zero' }, ...limitLevels(kind, result, style)],
    marks: (scales) =>
      series.flatMap(({ points }, s) => {
        const aside = (s - (series.length - 1) / 2) * 0.12;
        return [
          pathThrough(
            lines[s % lines.length],
            points.map((point, i) => (point === null ? null : { x: i + aside, y: point.value.value })),
            scales,
          ),
          ...points.flatMap((point, i) =>
            point === null
              ? []
              : [
                  uncertaintyBar(i + aside, point.value, scales),
                  mark(point.outcome ?? 'open', scales.x(i + aside), scales.y(point.value.value)),
                ],
          ),
        ];
      }),
  });
}

function pointOf(
  kind: Kind,
  check: DriftCheck,
  distanceMm: number,
  style: FigureStyle,
): { readonly value: Quantity; readonly outcome: VerdictOutcome | null } | null {
  const reflector = check.reflectors.find((one) => one.distanceMm === distanceMm);
  const value = reflector === undefined ? null : deviation(kind, reflector);
  if (reflector === undefined || value === null) return null;
  const unit = kind === 'distance' ? 'mm' : 'dB';
  const outcome = reflector.verdicts.find((verdict) => verdict.unit === unit)?.outcome ?? null;
  const shown = kind === 'distance' ? figures.lengthMm(value, style) : figures.levelDb(value, style);
  return { value: { value: shown.value, standardUncertainty: shown.standardUncertainty }, outcome };
}

const deviation = (kind: Kind, reflector: DriftedReflector): Quantity | null =>
  kind === 'distance' ? reflector.distanceErrorMm : reflector.amplitudeChangeDb;

/** Each limit once, with the reflectors it holds for where they have different ones. */
function limitLevels(kind: Kind, result: DriftResult, style: FigureStyle): PlotLevel[] {
  const found = new Map<number, Set<string>>();
  const all = result.checks.flatMap((check) => check.reflectors);
  for (const reflector of all) {
    const limits = kind === 'distance' ? reflector.distanceLimitsMm : reflector.amplitudeLimitsDb;
    if (limits === null) continue;
    for (const value of [limits.lower, limits.upper]) {
      const shown = kind === 'distance' ? figures.lengthMm(value, style).value : value;
      const names = found.get(shown) ?? new Set();
      found.set(shown, names.add(figureWords(figures.statedMm(reflector.distanceMm, style), style)));
    }
  }
  const reflectors = new Set(all.map((reflector) => reflector.distanceMm)).size;
  return [...found].map(([at, names]) => ({
    at,
    label: names.size < reflectors ? `limit, ${[...names].join(', ')}` : 'limit',
    kind: 'limit' as const,
  }));
}
