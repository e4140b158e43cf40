import { log10, power } from '../elementary/exponential.ts';
import { type FittedPeak, fitPeak, type HeightAt } from './fit-peak.ts';
import type { SeriesMember, SeriesPeak } from './off-peak.ts';
import type { FittedParabola } from './peak-curve.ts';

/** A reading's height in the series, in dB at the common gain; `bounded` where it is cut off and the true height is not known. */
export interface Height {
  readonly index: number;
  readonly levelDb: number;
  readonly noiseDb: number | null;
  readonly bounded: boolean;
}

export function heightsOf(members: readonly SeriesMember[], gainTakenOut: boolean): Height[] {
  return members.flatMap(({ reading, gainDb }, index) => {
    const { amplitudePercent, signalToNoiseDb, flags } = reading;
    if (amplitudePercent === null || !(amplitudePercent > 0)) return [];
    return [
      {
        index,
        levelDb: 20 * log10(amplitudePercent) - (gainTakenOut ? gainDb! : 0),
        noiseDb: signalToNoiseDb === null ? null : (20 / Math.LN10) * power(10, -signalToNoiseDb / 20),
        bounded: flags.includes('saturated') || flags.includes('cut-by-gate'),
      },
    ];
  });
}

export interface FoundPeak {
  readonly levelDb: number;
  readonly positionMm: number | null;
  readonly used: readonly Height[];
  readonly method: SeriesPeak['method'];
  readonly isLowerBound: boolean;
  /** The reading nearest a fitted vertex. */
  readonly nearest: number | null;
  readonly parabola: FittedParabola | null;
  readonly doubts: readonly string[];
}

export function findPeak(
  members: readonly SeriesMember[],
  heights: readonly Height[],
  positionsMm: readonly number[] | null,
  offPeakDb: number,
): FoundPeak | null {
  const whole = highestOf(heights.filter((height) => !height.bounded));
  const cut = highestOf(heights.filter((height) => height.bounded));
  if (cut !== null && (whole === null || cut.levelDb >= whole.levelDb)) return boundPeak(cut);
  if (whole === null) return null;
  const usable = heights.filter((height) => !height.bounded);
  const doubts =
    cut === null
      ? []
      : ['Some readings are cut off; their true height, which may exceed the peak stated, is not known.'];
  const standing = (doubt: string): FoundPeak => ({
    levelDb: whole.levelDb,
    positionMm: positionsMm?.[whole.index] ?? null,
    used: [whole],
    method: 'highest',
    isLowerBound: false,
    nearest: null,
    parabola: null,
    doubts: [doubt, ...doubts],
  });
  if (usable.length < 3) return standing(fewDoubt(usable.length, members.length));
  if (positionsMm === null)
    return standing(
      'No probe positions are known: the highest reading stands for the peak, which may be higher still.',
    );
  const fit = fitPeak(
    usable.map(
      (height): HeightAt => ({
        positionMm: positionsMm[height.index],
        levelDb: height.levelDb,
        noiseDb: height.noiseDb,
      }),
    ),
    offPeakDb / 2,
  );
  if (fit.kind !== 'vertex') return standing(fitDoubts[fit.kind]);
  const used = fit.used.map((i) => usable[i]);
  return {
    levelDb: fit.levelDb,
    positionMm: fit.positionMm,
    used,
    method: 'parabola',
    isLowerBound: false,
    nearest: nearestTo(fit.positionMm, used, positionsMm),
    parabola: fit,
    doubts: fit.coarse
      ? [
          'Fewer than three positions stand within 6 dB of the highest: the peak is fitted through readings down to 12 dB below it.',
        ]
      : [],
  };
}

function boundPeak(cut: Height): FoundPeak {
  return {
    levelDb: cut.levelDb,
    positionMm: null,
    used: [cut],
    method: 'highest',
    isLowerBound: true,
    nearest: null,
    parabola: null,
    doubts: [
      'The peak lies among readings that are cut off: it is at least as high as stated, and every other reading stands at least as far below it as stated. Capture again with less gain.',
    ],
  };
}

function fewDoubt(usable: number, captures: number): string {
  const who = usable === captures ? 'Two captures' : usable === 1 ? 'One usable reading' : 'Two usable readings';
  return `${who} cannot show a peak: the higher stands for it, and the true peak may be higher still.`;
}

const fitDoubts: Record<Exclude<FittedPeak['kind'], 'vertex'>, string> = {
  'too-few':
    'Too few probe positions stand near the highest reading to fit a peak: it stands for the peak, which may be higher still.',
  flat: 'The heights show no maximum over the scanned positions: the highest reading stands for the peak, and whether it is one cannot be told.',
  outside:
    'The heights still rise towards the end of the scanned positions: the peak may lie outside them. The highest reading stands for it.',
  scattered:
    'The heights scatter too much about a smooth curve to fit a peak: the highest reading stands for it. Check the coupling.',
};

function highestOf(heights: readonly Height[]): Height | null {
  return heights.reduce<Height | null>(
    (best, height) => (best === null || height.levelDb > best.levelDb ? height : best),
    null,
  );
}

/** The reading nearest the vertex in position; of several at one distance the highest. */
function nearestTo(positionMm: number, used: readonly Height[], positionsMm: readonly number[]): number {
  const distance = (height: Height) => Math.abs(positionsMm[height.index] - positionMm);
  return used.reduce((best, height) => {
    const closer = distance(height) - distance(best);
    return closer < 0 || (closer === 0 && height.levelDb > best.levelDb) ? height : best;
  }).index;
}
