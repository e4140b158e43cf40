import type { Quantity } from '../units/quantity.ts';
import { heightLimits } from './height-limits.ts';
import { plain, type SteppedReading, signedDb, unusableHeight } from './height-reading.ts';
import { assessedStep, type JudgedBy, type LinearityStep, missingStep } from './linearity-step.ts';
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
  const used = new Set<SteppedReading>();
  const steps = table.map((step) => {
    const { pair, why, seen } = pairFor(step, readings, tolerancePercent, taken);
    if (pair === null)
      return missingStep(nameOf(step), why, heightLimits(step), '%', by, {
        ...seen,
        expected: exactly(step.targetPercent),
      });
    taken.push(pair);
    used.add(pair.set.reading).add(pair.changed.reading);
    return servedStep(step, pair, by);
  });
  return { steps, used };
}

export function nameOf({ setPercent, changeDb }: TableStep): string {
  return `${signedDb(changeDb)} from ${plain(setPercent)} %`;
}

const exactly = (value: number): Quantity => ({ value, standardUncertainty: null });

function servedStep(step: TableStep, { set, changed }: Pair, by: JudgedBy): LinearityStep {
  const limits = heightLimits(step);
  const read = changed.reading.percent as Quantity;
  const setTo = set.reading.percent as Quantity;
  const { captureId, from, timeUs, flags } = changed.reading;
  const seen = { captureId, from, timeUs, expected: exactly(step.targetPercent), read, readUnit: '%' as const };
  const unusable = unusableHeight(changed.reading);
  const isBound = unusable !== null && step.atMostPercent === null && step.atLeastPercent !== null;
  if (unusable !== null && !isBound) return missingStep(nameOf(step), unusable, limits, '%', by, { ...seen, flags });
  const scale = step.setPercent / setTo.value;
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
      uDeviation: together(
        times(read.standardUncertainty, scale),
        times(setTo.standardUncertainty, (scale * read.value) / setTo.value),
      ),
      limits,
      // As a lower bound it is used for what it is.
      flags: isBound ? flags.filter((flag) => flag !== 'saturated') : flags,
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

export function times(u: number | null, factor: number): number | null {
  return u === null ? null : Math.abs(u * factor);
}

export function together(...parts: readonly (number | null)[]): number | null {
  let variance = 0;
  for (const part of parts) {
    if (part === null) return null;
    variance += part * part;
  }
  return Math.sqrt(variance);
}

type Found =
  | { readonly pair: Pair; readonly why: ''; readonly seen: object }
  | { readonly pair: null; readonly why: string; readonly seen: Partial<LinearityStep> };

function pairFor(
  step: TableStep,
  readings: readonly OfSignal[],
  tolerancePercent: number,
  taken: readonly Pair[],
): Found {
  const set = readings.filter(
    ({ reading }) => unusableHeight(reading) === null && isSetTo(reading, step.setPercent, tolerancePercent),
  );
  if (set.length === 0) {
    const cutOff = readings.find(
      ({ reading }) => reading.flags.includes('saturated') && isSetTo(reading, step.setPercent, tolerancePercent),
    );
    const why =
      cutOff === undefined
        ? `no capture stands at ${plain(step.setPercent)} ± ${plain(tolerancePercent)} % FSH, from which this step is counted`
        : `the capture at ${plain(step.setPercent)} % FSH, from which this step is counted, has its crest cut off`;
    return {
      pair: null,
      why,
      seen: cutOff === undefined ? {} : { captureId: cutOff.reading.captureId, flags: cutOff.reading.flags },
    };
  }
  const pairs = set.flatMap((first) =>
    readings
      .filter((other) => other !== first && other.signal === first.signal)
      .filter(({ reading }) => Math.abs(reading.levelDb - first.reading.levelDb - step.changeDb) < sameLevelDb)
      .map((changed): Pair => ({ set: first, changed })),
  );
  if (pairs.length === 0) {
    const gross = readings.find(
      (other) =>
        other.begins === 'gross' &&
        set.some(({ reading }) => Math.abs(other.reading.levelDb - reading.levelDb - step.changeDb) < sameLevelDb),
    );
    const why = `no capture of the same signal stands ${signedDb(step.changeDb)} of gain from the one at ${plain(step.setPercent)} % FSH`;
    return { pair: null, why: gross === undefined ? why : `${why}; ${grossRemark(gross)}`, seen: {} };
  }
  const free = pairs.filter((pair) => !taken.some((other) => sameTwo(pair, other)));
  if (free.length === 0) {
    return {
      pair: null,
      why: 'the two captures that would show it serve another step already, the other way round; set the echo anew and capture it for this step',
      seen: {},
    };
  }
  const withHeight = free.filter(({ changed }) => changed.reading.percent !== null);
  const place = (of: OfSignal) => readings.indexOf(of);
  const distance = ({ set: first, changed }: Pair) => {
    const apart = place(changed) - place(first);
    return apart > 0 ? apart : 1000 - apart;
  };
  const cutOff = ({ changed }: Pair) => (unusableHeight(changed.reading) === null ? 0 : 1);
  const order = (withHeight.length > 0 ? withHeight : free).sort(
    (a, b) => cutOff(a) - cutOff(b) || distance(a) - distance(b) || place(a.set) - place(b.set),
  );
  const pair = order[0];
  if (pair.changed.reading.percent === null) {
    const { captureId, flags, from } = pair.changed.reading;
    return { pair: null, why: unusableHeight(pair.changed.reading) ?? '', seen: { captureId, flags, from } };
  }
  return { pair, why: '', seen: {} };
}

function sameTwo(a: Pair, b: Pair): boolean {
  return a.set === b.changed && a.changed === b.set;
}
