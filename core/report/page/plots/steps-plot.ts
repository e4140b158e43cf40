import type { AssessedStep } from '../../../check/assessed-step.ts';
import { formatNumber } from '../../../units/format-quantity.ts';
import type { Quantity } from '../../../units/quantity.ts';
import type { Markup } from '../markup.ts';
import { type PlotLevel, plot, signed } from './frame.ts';
import { mark, pathThrough, reachOf, uncertaintyBar } from './marks.ts';

/** The deviation of each step from what was expected, in the order of the steps, with the limits across. `null` where nothing was read. */
export function stepsPlot(title: string, steps: readonly AssessedStep[]): Markup | null {
  const known = steps.flatMap(({ deviation }) => (deviation === null ? [] : [deviation]));
  if (known.length === 0) return null;
  const unit = steps[0].unit;
  const greatest = known.reduce((worst: Quantity, one) => (Math.abs(one.value) > Math.abs(worst.value) ? one : worst));
  const limits = steps.flatMap(ends);
  const bars = reachOf(known);
  const reach = { from: Math.min(bars.from, ...limits), to: Math.max(bars.to, ...limits) };
  return plot({
    title,
    description: `Deviation of each step from what was expected; the greatest is ${signed(greatest.value, 2)} ${unit}. Bars: expanded uncertainty, k = 2. Full disc: pass; cross: fail; half-full disc: inconclusive; ring: not judged. A step without a mark was not assessed.`,
    x: { title: 'step, by its number in the table', from: 0, to: 0, names: steps.map((_, i) => String(i + 1)) },
    y: { title: `deviation (${unit})`, ...reach },
    levels: [{ at: 0, label: 'expected', kind: 'zero' }, ...commonLimits(steps)],
    marks: (scales) => [
      pathThrough(
        'line-dotted',
        steps.map(({ deviation }, i) => (deviation === null ? null : { x: i, y: deviation.value })),
        scales,
      ),
      ...ownLimits(steps, scales),
      ...steps.flatMap(({ deviation, verdict }, i) =>
        deviation === null
          ? []
          : [
              uncertaintyBar(i, deviation, scales),
              mark(verdict?.outcome ?? 'open', scales.x(i), scales.y(deviation.value)),
            ],
      ),
    ],
  });
}

function ends(step: AssessedStep): number[] {
  return step.limits === null ? [] : [step.limits.lower, step.limits.upper].filter(Number.isFinite);
}

/** Whether one pair of limits holds for all steps that have any: it is then drawn across. */
function areCommon(steps: readonly AssessedStep[]): boolean {
  return new Set(steps.filter((step) => ends(step).length > 0).map((step) => ends(step).join(' '))).size <= 1;
}

function commonLimits(steps: readonly AssessedStep[]): PlotLevel[] {
  const all = [...new Set(steps.flatMap(ends))];
  return areCommon(steps)
    ? all.map((at) => ({ at, label: `limit ${signed(at, decimalsOf(at))}`, kind: 'limit' as const }))
    : [];
}

function ownLimits(
  steps: readonly AssessedStep[],
  scales: Parameters<Parameters<typeof plot>[0]['marks']>[0],
): Markup[] {
  if (areCommon(steps)) return [];
  return steps.flatMap((step, i) =>
    ends(step).map((at) =>
      pathThrough(
        'line-dashed',
        [
          { x: i - 0.3, y: at },
          { x: i + 0.3, y: at },
        ],
        scales,
      ),
    ),
  );
}

function decimalsOf(value: number): number {
  return Math.min(2, /\.(\d+)$/.exec(formatNumber(value, 2).replace(/0+$/, ''))?.[1].length ?? 0);
}
