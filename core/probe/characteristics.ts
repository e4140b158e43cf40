import type { CaptureId } from '../capture/capture.ts';
import { type Sample, sampleOf } from '../statistics/sample.ts';
import type { Quantity } from '../units/quantity.ts';
import { type ProbeFigure, probeFigureNames } from './figures.ts';
import type { Hindrance } from './hindrance.ts';
import type { CapturePulse } from './pulse.ts';

/** One figure of one probe, from all of its captures. */
export interface ProbeFigureResult {
  /** Mean over the captures that could be measured, with the standard uncertainty of that mean; `null` where none could. */
  readonly quantity: Quantity | null;
  /** What the uncertainty was made from; `null` where it is not known. */
  readonly by: 'repeats' | 'noise' | null;
  /** The values themselves: number, mean, spread. */
  readonly sample: Sample | null;
  /** Of one capture by its own noise, root mean square over the captures; `null` where one of them is not known. */
  readonly uNoise: number | null;
  /** Why captures gave no figure, with their number. */
  readonly hindrances: readonly { readonly hindrance: Hindrance; readonly count: number }[];
}

/** What is known of one probe. */
export interface ProbeCharacteristics {
  readonly probe: string;
  readonly captureIds: readonly CaptureId[];
  readonly figures: Readonly<Record<ProbeFigure, ProbeFigureResult>>;
  /** Captures whose spectrum has more than one pair of crossings at the level. */
  readonly multiLobed: { readonly at6Db: number; readonly at20Db: number };
}

/**
 * Puts the captures of one probe together. With two or more, the uncertainty of the mean is the larger of what their spread says (type A, s/√n) and what
 * their noise implies (u/√n), so that few captures that agree by chance do not claim more than their noise allows; with one, its noise's.
 * Source: JCGM 100:2008 (GUM), 4.2 and 4.3; the larger of the two is common practice.
 */
export function characteristicsOf(probe: string, pulses: readonly CapturePulse[]): ProbeCharacteristics {
  const figures = Object.fromEntries(
    probeFigureNames.map((name) => [name, figureOf(pulses.map((pulse) => pulse.figures[name]))]),
  ) as Record<ProbeFigure, ProbeFigureResult>;
  return {
    probe,
    captureIds: pulses.map((pulse) => pulse.captureId),
    figures,
    multiLobed: {
      at6Db: pulses.filter(({ multiLobed }) => multiLobed.at6Db).length,
      at20Db: pulses.filter(({ multiLobed }) => multiLobed.at20Db).length,
    },
  };
}

function figureOf(measurements: readonly CapturePulse['figures'][ProbeFigure][]): ProbeFigureResult {
  const counts = new Map<Hindrance, number>();
  for (const { hindrance } of measurements)
    if (hindrance !== null) counts.set(hindrance, (counts.get(hindrance) ?? 0) + 1);
  const hindrances = [...counts].map(([hindrance, count]) => ({ hindrance, count }));
  const found = measurements.flatMap(({ quantity }) => (quantity === null ? [] : [quantity]));
  const sample = sampleOf(found.map(({ value }) => value));
  if (sample === null) return { quantity: null, by: null, sample: null, uNoise: null, hindrances };
  let square: number | null = 0;
  for (const { standardUncertainty: u } of found) square = square === null || u === null ? null : square + u * u;
  const uNoise = square === null ? null : Math.sqrt(square / sample.count);
  const ofMean = uNoise === null ? null : uNoise / Math.sqrt(sample.count);
  const byRepeats = sample.uMean !== null && sample.uMean >= (ofMean ?? 0);
  return {
    quantity: { value: sample.mean, standardUncertainty: byRepeats ? sample.uMean : ofMean },
    by: byRepeats ? 'repeats' : ofMean === null ? null : 'noise',
    sample,
    uNoise,
    hindrances,
  };
}

/** Which end is the better one where probes are held side by side (common practice); `null` where neither is. */
const betterEnd: Partial<Record<ProbeFigure, 'higher' | 'lower'>> = {
  'bandwidth-6-db': 'higher',
  'relative-bandwidth-e1065': 'higher',
  'relative-bandwidth-iso': 'higher',
  'bandwidth-20-db': 'higher',
  'duration-e1065-14-db': 'lower',
  'duration-e1065-20-db': 'lower',
  'duration-e1065-40-db': 'lower',
  'duration-iso': 'lower',
  'ring-down': 'lower',
  'half-cycles': 'lower',
  'decay-rate': 'higher',
  'logarithmic-decrement': 'higher',
  sensitivity: 'higher',
  'signal-to-noise': 'higher',
};

/** The probe that stands best in a figure; `null` where no end is better, fewer than two were measured, or two stand alike. */
export function bestIn(figure: ProbeFigure, probes: readonly ProbeCharacteristics[]): string | null {
  const end = betterEnd[figure];
  if (end === undefined) return null;
  const sign = end === 'higher' ? 1 : -1;
  const ranked = probes
    .flatMap(({ probe, figures }) => {
      const { quantity } = figures[figure];
      return quantity === null ? [] : [{ probe, rank: sign * quantity.value }];
    })
    .sort((a, b) => b.rank - a.rank);
  return ranked.length < 2 || ranked[0].rank === ranked[1].rank ? null : ranked[0].probe;
}
