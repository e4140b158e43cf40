import type { Quantity } from '../units/quantity.ts';
import { heightLimits } from './height-limits.ts';
import { plain, type SteppedReading, signedDb, unusableHeight } from './height-reading.ts';
import { assessedStep, exactly, type JudgedBy, type LinearityStep, missingStep } from './linearity-step.ts';
import type { TableStep } from './rule.ts';
import { grossRemark, isSetTo, type OfSignal, sameLevelDb } from './signals.ts';

/** The two captures that serve a step: the echo as it was set, and after the change of gain. */
interface Pair {
  readonly set: OfSignal;
  readonly changed: OfSignal;
}

/** The steps of a table, and which captures (by place) serve any of them. */
export interface TableSteps {
  readonly steps: readonly LinearityStep[];
  readonly used: ReadonlySet<SteppedReading>;
}

/**
 * Finds for each step of a table the two captures that show it, by gain and height, and holds what was read against the target.
 *
 *     set to 80 %   −6 dB           deviation = read · 80 / set − target
 *        |  |        |
 *        |  |        |  |           the two must be of one signal; of several pairs that one is taken whose captures follow
 *     ---+--+---  ---+--+---        one another most closely, whatever they show
 *
 * Two captures serve one step only: −6 dB from 80 % is not at once +6 dB from 40 %, which the rule asks for by itself.
 * A crest that is cut off is a lower bound: it serves a step that has a lower limit alone, and no other.
 */
export function tableSteps(
  readings: readonly OfSignal[],
  table: readonly TableStep[],
  tolerancePercent: number,
  by: JudgedBy,
): TableSteps {
  const taken: Pair[] = [];
  const found = new Map<TableStep, Found>();
  // First each step as it is done, the echo set and then the gain changed; what is left may serve the other way about.
  for (const inOrder of [true, false]) {
    for (const step of table) {
      if (found.get(step)?.pair != null) continue;
      const of = pairFor(step, readings, tolerancePercent, taken, inOrder);
      if (of.pair !== null) taken.push(of.pair);
      found.set(step, of);
    }
  }
  const used = new Set<SteppedReading>(taken.flatMap(({ set, changed }) => [set.reading, changed.reading]));
  const steps = table.map((step) => {
    const { pair, why, seen } = found.get(step) as Found;
    if (pair !== null) return servedStep(step, pair, by);
    const expected = exactly(step.targetPercent);
    return missingStep(nameOf(step), why, heightLimits(step), '%', by, { ...seen, expected });
  });
  return { steps, used };
}

export function nameOf({ setPercent, changeDb }: TableStep): string {
  return `${signedDb(changeDb)} from ${plain(setPercent)} %`;
}

function servedStep(step: TableStep, { set, changed }: Pair, by: JudgedBy): LinearityStep {
  const limits = heightLimits(step);
  const read = changed.reading.percent as Quantity;
  const setTo = set.reading.percent as Quantity;
  const { captureId, from, timeUs, flags } = changed.reading;
  const seen = { captureId, from, timeUs, expected: exactly(step.targetPercent), read, readUnit: '%' as const };
  const unusable = unusableHeight(changed.reading);
  const isBound = unusable !== null && step.atMostPercent === null && step.atLeastPercent !== null;
  if (unusable !== null && !isBound) return missingStep(nameOf(step), unusable, limits, '%', by, { ...seen, flags });
  const found = assessedStep(
    {
      ...seen,
      name: nameOf(step),
      unit: '%',
      formula: 'referred-deviation',
      terms: [
        { name: 'height read', value: read, unit: '%' },
        { name: 'height to be set', value: exactly(step.setPercent), unit: '%' },
        { name: 'height set', value: setTo, unit: '%' },
        { name: 'target', value: exactly(step.targetPercent), unit: '%' },
      ],
      limits,
      flags,
      isBound,
      remark: isBound ? boundRemark : null,
    },
    by,
  );
  if (!isBound) return found;
  // A lower bound that stays below the lower limit tells nothing: the crest may stand above it.
  return found.verdict !== null && found.verdict.outcome === 'fail'
    ? { ...found, verdict: { ...found.verdict, outcome: 'inconclusive' } }
    : found;
}

const boundRemark =
  'the crest is cut off by the screen or the converter: the height is a lower bound, which the lower limit alone can be held against';

type Found =
  | { readonly pair: Pair; readonly why: ''; readonly seen: object }
  | { readonly pair: null; readonly why: string; readonly seen: Partial<LinearityStep> };

const withoutPair = (why: string, seen: Partial<LinearityStep> = {}): Found => ({ pair: null, why, seen });

function pairFor(
  step: TableStep,
  readings: readonly OfSignal[],
  tolerancePercent: number,
  taken: readonly Pair[],
  inOrder: boolean,
): Found {
  const atHeight = readings.filter(({ reading }) => isSetTo(reading, step.setPercent, tolerancePercent));
  const set = atHeight.filter(({ reading }) => unusableHeight(reading) === null);
  if (set.length === 0) return notSet(step, atHeight[0], tolerancePercent);
  const place = (of: OfSignal) => readings.indexOf(of);
  const pairs = set.flatMap((first) =>
    readings
      .filter((other) => other.signal === first.signal && isChanged(step, first, other))
      .filter((other) => !inOrder || place(other) > place(first))
      .map((changed): Pair => ({ set: first, changed })),
  );
  const gross = readings.find(
    (other) => other.begins === 'gross' && set.some((first) => isChanged(step, first, other)),
  );
  const orFailed = gross === undefined ? '' : `; ${grossRemark(gross)}`;
  if (pairs.length === 0) {
    const why = `no capture of the same signal stands ${signedDb(step.changeDb)} of gain from the one at ${plain(step.setPercent)} % FSH`;
    return withoutPair(why + orFailed);
  }
  const free = pairs.filter((pair) => !taken.some((other) => isReversed(pair, other)));
  if (free.length === 0) {
    const why =
      'the two captures that would show it serve another step already, the other way round; set the echo anew and capture it for this step';
    return withoutPair(why + orFailed);
  }
  const use = ({ changed: { reading } }: Pair) =>
    reading.percent === null ? 2 : unusableHeight(reading) === null ? 0 : 1;
  const apart = (pair: Pair) => Math.abs(place(pair.changed) - place(pair.set));
  const [pair] = free.sort((a, b) => use(a) - use(b) || apart(a) - apart(b) || place(a.set) - place(b.set));
  const { reading } = pair.changed;
  if (reading.percent !== null) return { pair, why: '', seen: {} };
  const { captureId, flags, from } = reading;
  return withoutPair(unusableHeight(reading) ?? '', { captureId, flags, from });
}

function notSet({ setPercent }: TableStep, cutOff: OfSignal | undefined, tolerancePercent: number): Found {
  const counted = 'from which this step is counted';
  if (cutOff === undefined)
    return withoutPair(`no capture stands at ${plain(setPercent)} ± ${plain(tolerancePercent)} % FSH, ${counted}`);
  const { captureId, flags } = cutOff.reading;
  return withoutPair(`the capture at ${plain(setPercent)} % FSH, ${counted}, has its crest cut off`, {
    captureId,
    flags,
  });
}

function isChanged({ changeDb }: TableStep, set: OfSignal, other: OfSignal): boolean {
  return other !== set && Math.abs(other.reading.levelDb - set.reading.levelDb - changeDb) < sameLevelDb;
}

function isReversed(a: Pair, b: Pair): boolean {
  return a.set === b.changed && a.changed === b.set;
}
