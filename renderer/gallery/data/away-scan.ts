import type { PartDecision } from '../../../core/review/part-decision.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import { freshRecipe } from '../../state/source-list.ts';
import { type Echo, waveText } from './waves.ts';

/**
 * A probe of 60° moved away from the middle of a weld in 16 mm plate, a millimetre at a time: a small reflector at the side wall, met on the second leg, one near the root, met
 * on the first, and the cap's far edge. Each echo by plane geometry and a Gaussian beam.
 */
const velocityMmPerUs = 3.24;
const zeroOffsetUs = 7.3;
const thicknessMm = 16;
const angleDeg = 60;
const nearestMm = 18;
const positions = Array.from({ length: 40 }, (_, i) => i);

const points = [
  { acrossMm: -5.4, depthMm: 8.2, leg: 2, percent: 82 },
  { acrossMm: 0.4, depthMm: 14.6, leg: 1, percent: 58 },
  { acrossMm: 8.6, depthMm: 0.4, leg: 2, percent: 34 },
] as const;

function echoesAt(indexMm: number): Echo[] {
  return points.map(({ acrossMm, depthMm, leg, percent }) => {
    const down = leg === 1 ? depthMm : 2 * thicknessMm - depthMm;
    const along = acrossMm - indexMm;
    const offAxisDeg = (Math.atan2(along, down) * 180) / Math.PI - angleDeg;
    return {
      timeUs: zeroOffsetUs + (2 * Math.hypot(along, down)) / velocityMmPerUs,
      percent: percent * 10 ** ((-6 / 20) * (offAxisDeg / 2.6) ** 2),
    };
  });
}

const fileAt = (positionMm: number) => `weld-away/position-${String(positionMm).padStart(2, '0')}.csv`;

export function awayFiles(): ReadonlyMap<string, string> {
  return new Map(
    positions.map((positionMm) => [
      fileAt(positionMm),
      waveText({
        head: [
          'probe: angle probe 8, transverse, 4 MHz, 60 deg',
          'rectification: rf',
          `position_mm: ${positionMm}`,
          'gain_db: 48',
        ],
        echoes: echoesAt(-nearestMm - positionMm),
        samples: 2420,
        seed: 200 + positionMm,
      }),
    ]),
  );
}

/** The scan as a review, in the part as the sample's weld has it. */
export function awayReview(part: PartDecision): Review {
  const files = [...awayFiles().keys()];
  return {
    ...emptyReview,
    title: 'Gallery: a weld scanned across',
    sources: files.map((file) => ({ file, sha256: null, recipe: freshRecipe, facts: [] })),
    calibration: {
      kind: 'given',
      file: 'calibration.json',
      sha256: null,
      velocityMPerS: 1000 * velocityMmPerUs,
      uVelocityMPerS: 4,
      zeroOffsetUs,
      uZeroOffsetUs: 0.01,
      covarianceUsUsPerMm: null,
      degreesOfFreedom: 1,
      timing: 'peak',
      points: [],
    },
    part: {
      ...part,
      placements: [{ captures: files, side: 'left', offsetMm: nearestMm, uOffsetMm: 0.5, position: 'away' }],
      damping: [],
      confirmed: [],
    },
    scan: {
      captures: files,
      fromMm: 8,
      toMm: 66,
      level: { kind: 'screen', percent: 20 },
      scanningGainDb: null,
      sizing: { kind: 'drop-6-db' },
      beamWidthMm: null,
      uBeamWidthMm: 0,
      uPositionMm: 0.3,
      reference: null,
      rating: null,
      indications: [],
    },
  };
}
