import { type CalibrationPoint, fitDistance, pathFromTime } from '../../../core/calibration/distance.ts';
import type { Rectification } from '../../../core/capture/waveform.ts';
import type { Flag } from '../../../core/flag.ts';
import { readGate } from '../../../core/gate/reading.ts';
import { type ConditioningRecipe, condition, defaultRecipe } from '../../../core/signal/conditioning.ts';
import { normal, uniform } from '../../build/random.ts';

/*
 * A calibration from the waveform on, many times: two reflectors fix velocity and zero offset, and a third echo between
 * them, lower than both, is read with the calibration they make. Everything is known that was put in.
 */

const truth = { velocityMPerS: 3240, zeroOffsetUs: 7.3 };
const reflectorsMm = [30, 75] as const;
const readMm = 52.5;
const startUs = 20;
const lengthUs = 41;
const timeOf = (distanceMm: number) => truth.zeroOffsetUs + (2000 * distanceMm) / truth.velocityMPerS;

/** Of unit height, the maximum of its envelope at 0; the carrier has this phase there. */
export type Pulse = (t: number, phase: number) => number;

/** What a scenario may do with the record: all that was drawn for this one. */
export interface Recorded {
  readonly rateMHz: number;
  readonly startUs: number;
  /** Uniform, and normal, numbers of this record. */
  readonly any: () => number;
  readonly random: () => number;
}

export interface Scenario {
  readonly name: string;
  readonly pulse: Pulse;
  readonly rateMHz?: number;
  /** In % FSH of the reflectors at 30 and 75 mm, and of the one in between. */
  readonly heights?: readonly [number, number, number];
  /** In % FSH, for so many samples. */
  readonly noise: (count: number, record: Recorded) => Float64Array;
  /** An echo beside each one, as a part of its height, so many µs later. */
  readonly beside?: (any: () => number) => { readonly part: number; readonly laterUs: number };
  /** When a sample that counts as taken at a time was taken in truth, in µs. */
  readonly clock?: (timeUs: number) => number;
  /** What amplifier, rectifier, screen and converter make of it. */
  readonly shown?: (samples: Float64Array, record: Recorded) => Float64Array;
  readonly rectification?: Rectification;
  readonly recipe?: ConditioningRecipe;
}

/** One echo: how far its time is from the truth, and what is said of it. */
interface Timed {
  readonly errorUs: number | null;
  readonly uUs: number | null;
  readonly flags: readonly Flag[];
}

export interface Counted {
  readonly held: number;
  readonly of: number;
}

export interface Found {
  readonly name: string;
  readonly calibrations: number;
  readonly echoes: number;
  /** Of all echoes. */
  readonly flagged: number;
  readonly withoutNumber: number;
  /** The 95 % interval of what is neither flagged nor without a number. */
  readonly times: Counted;
  readonly velocity: Counted;
  readonly zeroOffset: Counted;
  readonly path: Counted;
  /** Of the unflagged times: mean error over the root mean square of u, and u over the errors' root mean square. */
  readonly biasInU: number;
  readonly uOverError: number;
  readonly flags: ReadonlyMap<Flag, number>;
}

export function simulated(scenario: Scenario, calibrations: number, seed = 1): Found {
  const any = uniform(seed);
  const random = normal(seed + 1_000_003);
  const flags = new Map<Flag, number>();
  const errors: number[] = [];
  const us: number[] = [];
  let [flagged, withoutNumber, heldTimes] = [0, 0, 0];
  const velocity = { held: 0, of: 0 };
  const zeroOffset = { held: 0, of: 0 };
  const path = { held: 0, of: 0 };
  const count = (into: { held: number; of: number }, holds: boolean) => {
    into.of += 1;
    if (holds) into.held += 1;
  };
  for (let run = 0; run < calibrations; run++) {
    const { timed, points } = record(scenario, any, random);
    for (const { errorUs, uUs, flags: doubts } of timed) {
      for (const doubt of doubts) flags.set(doubt, (flags.get(doubt) ?? 0) + 1);
      if (doubts.length > 0) flagged += 1;
      else if (errorUs === null || uUs === null) withoutNumber += 1;
      else {
        errors.push(errorUs);
        us.push(uUs);
        if (Math.abs(errorUs) <= 1.96 * uUs) heldTimes += 1;
      }
    }
    const [near, far, read] = timed;
    if ([near, far].some(({ flags: doubts, uUs }) => doubts.length > 0 || uUs === null)) continue;
    const fit = fitDistance(points);
    if (!fit.ok) throw new Error(fit.problems[0].sentence);
    const { velocityMPerS, zeroOffsetUs, velocityHalfWidth95MPerS, zeroOffsetHalfWidth95Us } = fit.value;
    count(velocity, Math.abs(velocityMPerS.value - truth.velocityMPerS) <= velocityHalfWidth95MPerS!);
    count(zeroOffset, Math.abs(zeroOffsetUs.value - truth.zeroOffsetUs) <= zeroOffsetHalfWidth95Us!);
    if (read.flags.length > 0 || read.uUs === null) continue;
    const found = pathFromTime(fit.value, timeOf(readMm) + read.errorUs!, read.uUs);
    count(path, Math.abs(found.value - readMm) <= 1.96 * found.standardUncertainty!);
  }
  const rms = (values: readonly number[]) => Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
  return {
    name: scenario.name,
    calibrations,
    echoes: 3 * calibrations,
    flagged,
    withoutNumber,
    times: { held: heldTimes, of: errors.length },
    velocity,
    zeroOffset,
    path,
    biasInU: mean / rms(us),
    uOverError: rms(us) / rms(errors),
    flags,
  };
}

function record(
  { pulse, noise, beside, clock, shown, recipe, rateMHz = 100, heights = [80, 42, 30], rectification = 'rf' }: Scenario,
  any: () => number,
  random: () => number,
): { readonly timed: readonly Timed[]; readonly points: readonly CalibrationPoint[] } {
  const from = startUs - any() / rateMHz;
  const made: Recorded = { rateMHz, startUs: from, any, random };
  const samples = noise(Math.round(lengthUs * rateMHz), made);
  const distances = [...reflectorsMm, readMm];
  const add = (atUs: number, height: number) => {
    const phase = 2 * Math.PI * any();
    const first = Math.max(0, Math.floor((atUs - 3 - from) * rateMHz));
    const last = Math.min(samples.length - 1, Math.ceil((atUs + 3 - from) * rateMHz));
    for (let i = first; i <= last; i++) {
      const countedUs = from + i / rateMHz;
      samples[i] += height * pulse((clock?.(countedUs) ?? countedUs) - atUs, phase);
    }
  };
  distances.forEach((distanceMm, i) => {
    add(timeOf(distanceMm), heights[i]);
    const second = beside?.(any);
    if (second) add(timeOf(distanceMm) + second.laterUs, second.part * heights[i]);
  });
  const outcome = condition(
    {
      startUs: from,
      stepUs: 1 / rateMHz,
      samples: shown?.(samples, made) ?? samples,
      amplitudeUnit: 'percent',
      fullScreen: 100,
      zeroLevel: 0,
      rectification,
    },
    recipe ?? defaultRecipe,
  );
  if (!outcome.ok) throw new Error(outcome.problems[0].sentence);
  const readings = distances.map((distanceMm) => {
    const atUs = timeOf(distanceMm);
    const span = { axis: 'time', fromUs: atUs - 2, toUs: atUs + 2 } as const;
    return readGate('made.csv', outcome.value, { name: 'made', span, thresholdPercent: 10 }, 'peak', null, null);
  });
  return {
    timed: readings.map(({ timeUs, flags }, i) => ({
      errorUs: timeUs === null ? null : timeUs.value - timeOf(distances[i]),
      uUs: timeUs?.standardUncertainty ?? null,
      flags,
    })),
    points: readings.slice(0, 2).map(({ timeUs, amplitudePercent, flags }, i) => ({
      distanceMm: distances[i],
      uDistanceMm: 0,
      timeUs: timeUs?.value ?? Number.NaN,
      uTimeUs: timeUs?.standardUncertainty ?? null,
      amplitudePercent,
      captureId: null,
      from: null,
      flags,
    })),
  };
}
