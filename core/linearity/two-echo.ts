import type { CaptureId } from '../capture/capture.ts';
import type { DecisionRule, Limits } from '../check/verdict.ts';
import { log10 } from '../elementary/exponential.ts';
import { ratioFromDb } from '../units/decibel.ts';
import type { Quantity } from '../units/quantity.ts';
import { type HeightReading, plain, scaled, unusableHeight } from './height-reading.ts';
import { assessedStep, exactly, type JudgedBy, type LinearityStep, missingStep } from './linearity-step.ts';
import { type LinearityPart, partOf, type UnusedCapture } from './part.ts';
import type { TwoEchoRule } from './rule.ts';

/** Both echoes in one capture. */
export interface EchoPair {
  readonly captureId: CaptureId;
  readonly larger: HeightReading;
  readonly smaller: HeightReading;
}

/** The ratio of common practice where no rule names one. */
const halfAsHigh = 0.5;

/**
 * Screen height by two echoes in a fixed ratio, stepped together through the screen: the smaller should stay the same part of the larger.
 *
 *     %FSH |        deviation = smaller − ratio · larger, in % FSH; u² = u²(smaller) + ratio² · u²(larger)
 *      100 |  |
 *          |  |       |
 *       50 |  | |     | |    | |       each capture whose larger echo lies in the rule's span is a step; a height at which the
 *          +-------------------------  rule wants a reading and has none is a step not assessed
 *
 * Sources: the rule's own `source`; propagation: JCGM 100:2008 (GUM), 5.1.2.
 */
export function judgeTwoEcho(
  pairs: readonly EchoPair[],
  rule: TwoEchoRule | null,
  decision: DecisionRule,
): LinearityPart<TwoEchoRule> {
  const by: JudgedBy = { rule, decision };
  const limits: Limits | null =
    rule?.deviationPercent == null ? null : { lower: -rule.deviationPercent, upper: rule.deviationPercent };
  const unused: UnusedCapture[] = [];
  const found: { readonly height: number; readonly step: LinearityStep }[] = [];
  for (const pair of pairs) {
    const { larger, smaller, captureId } = pair;
    if (larger.percent === null) {
      unused.push({ captureId, reason: `larger echo: ${unusableHeight(larger)}` });
      continue;
    }
    const height = larger.percent.value;
    if (rule !== null && !isWithin(height, rule) && unusableHeight(larger) === null) {
      unused.push({
        captureId,
        reason: `its larger echo stands at ${plain(height)} % FSH, outside the ${rule.span.fromPercent} to ${rule.span.toPercent} % that the rule looks at`,
      });
      continue;
    }
    found.push({ height, step: stepOf(pair, larger.percent, smaller, rule, limits, by) });
  }
  if (rule !== null && rule.steps !== null) found.push(...missingHeights(found, rule.steps, rule, limits, by));
  found.sort((a, b) => b.height - a.height);
  return partOf({ rule, decision, steps: found.map(({ step }) => step), unused });
}

function isWithin(height: number, { span, steps }: TwoEchoRule): boolean {
  const tolerance = steps?.tolerancePercent ?? 0;
  return height >= span.fromPercent - tolerance && height <= span.toPercent + tolerance;
}

function stepOf(
  { captureId, larger }: EchoPair,
  height: Quantity,
  smaller: HeightReading,
  rule: TwoEchoRule | null,
  limits: Limits | null,
  by: JudgedBy,
): LinearityStep {
  const ratio = rule?.ratio ?? halfAsHigh;
  const flags = [...new Set([...larger.flags, ...smaller.flags])];
  const name = `larger echo at ${plain(height.value)} %`;
  const expected = scaled(height, ratio);
  const seen = {
    captureId,
    from: smaller.from,
    timeUs: smaller.timeUs,
    expected,
    read: smaller.percent,
    readUnit: '%' as const,
    flags,
  };
  const hindered = unusableHeight(larger) ?? unusableHeight(smaller);
  if (hindered !== null || smaller.percent === null) {
    const which = unusableHeight(larger) === null ? 'smaller' : 'larger';
    return missingStep(name, `${which} echo: ${hindered}`, limits, '%', by, seen);
  }
  return assessedStep(
    {
      ...seen,
      name,
      unit: '%',
      formula: 'two-echo-deviation',
      terms: [
        { name: 'smaller echo', value: smaller.percent, unit: '%' },
        { name: 'ratio', value: exactly(ratio), unit: '' },
        { name: 'larger echo', value: height, unit: '%' },
      ],
      limits,
    },
    by,
  );
}

/** The heights of the larger echo that the rule wants and no usable capture shows: by its steps in % FSH or by those in dB, whichever are shown the more. */
function missingHeights(
  found: readonly { readonly height: number; readonly step: LinearityStep }[],
  steps: NonNullable<TwoEchoRule['steps']>,
  rule: TwoEchoRule,
  limits: Limits | null,
  by: JudgedBy,
): { height: number; step: LinearityStep }[] {
  const shown = found.filter(({ step }) => step.deviation !== null).map(({ height }) => height);
  const missingOf = (heights: readonly number[]) =>
    heights.filter((height) => !shown.some((other) => Math.abs(other - height) <= steps.tolerancePercent + 1e-9));
  const evenly = heightsInPercent(rule.span, steps.everyPercent);
  const inDb = heightsInDb(rule.span, steps.orEveryDb);
  const share = (heights: readonly number[]) => missingOf(heights).length / heights.length;
  const missing = missingOf(share(inDb) < share(evenly) ? inDb : evenly);
  return missing.map((height) => {
    const near = found.find(({ height: other }) => Math.abs(other - height) <= steps.tolerancePercent + 1e-9);
    const why =
      near === undefined
        ? 'no capture shows its larger echo there whole'
        : 'the capture that has its larger echo there cannot be used';
    return { height: height - 1e-6, step: missingStep(`larger echo at ${plain(height)} %`, why, limits, '%', by) };
  });
}

function heightsInPercent({ fromPercent, toPercent }: TwoEchoRule['span'], every: number): number[] {
  const count = Math.floor((toPercent - fromPercent) / every + 1e-9);
  return Array.from({ length: count + 1 }, (_, i) => toPercent - i * every);
}

function heightsInDb({ fromPercent, toPercent }: TwoEchoRule['span'], every: number): number[] {
  const count = Math.floor((20 * log10(toPercent / fromPercent)) / every + 0.05);
  return Array.from({ length: count + 1 }, (_, i) => toPercent * ratioFromDb(-i * every));
}
