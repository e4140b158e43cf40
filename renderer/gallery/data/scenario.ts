import { emptyReview, type Reflector, type Review } from '../../../core/review/review.ts';
import { freshRecipe } from '../../state/source-list.ts';
import { type Echo, waveText } from './waves.ts';

/**
 * The gallery's own invented data: a stepped piece of three known thicknesses, a plate with a hole below the scan, and seven checks of an instrument whose
 * time base creeps. It is the same on every day and machine, so that pictures of the gallery can be compared.
 */
const velocityMmPerUs = 5.92;
const zeroOffsetUs = 0.6;
const holeDepthMm = 35;
const stepsMm = [20, 40, 60] as const;
const scanMm = Array.from({ length: 17 }, (_, i) => 1.5 * (i - 8));

/** Each file holds one trace, under the name of its column. */
export const captureIn = (file: string): string => `${file}#amplitude_pct`;

const stepPiece = 'stepped-piece.csv';
const cutOff = 'plate/scan-10.csv';
const silent = 'plate/scan-17.csv';

export const stepCapture = captureIn(stepPiece);
export const cutOffCapture = captureIn(cutOff);
export const silentCapture = captureIn(silent);
export const peakCapture = captureIn('plate/scan-09.csv');
export const flankCapture = captureIn('plate/scan-02.csv');
export const lateCheck = captureIn('checks/check-6.csv');

const timeOf = (pathMm: number, slower = 1, later = 0) =>
  zeroOffsetUs + later + (2 * pathMm * slower) / velocityMmPerUs;

export function scenarioFiles(): ReadonlyMap<string, string> {
  const files = new Map<string, string>();
  files.set(
    stepPiece,
    waveText({
      head: [...common, 'block: stepped piece 4', 'gain_db: 38', 'taken_at: 2026-03-02T06:05:00Z'],
      echoes: stepsMm.map((mm, i) => ({ timeUs: timeOf(mm), percent: 84 - 12 * i })),
      seed: 1,
    }),
  );
  scanMm.forEach((mm, i) => {
    const pathMm = Math.hypot(mm, holeDepthMm);
    const levelDb = -6 * ((Math.atan2(mm, holeDepthMm) * 180) / Math.PI / 14) ** 2;
    const percent = 82 * 10 ** (levelDb / 20);
    const file = `plate/scan-${String(i + 1).padStart(2, '0')}.csv`;
    const echoes: Echo[] = [{ timeUs: timeOf(60), percent: 55 - percent / 3 }];
    if (file !== silent) echoes.push({ timeUs: timeOf(pathMm), percent: percent * (file === cutOff ? 2 : 1) });
    files.set(
      file,
      waveText({
        head: [
          ...common,
          `position_mm: ${mm}`,
          `gain_db: ${file === cutOff ? 50 : 44}`,
          `taken_at: 2026-03-02T07:${String(10 + i)}:00Z`,
          'block: plate 9',
        ],
        echoes,
        seed: 10 + i,
      }),
    );
  });
  for (let i = 0; i < 7; i++) {
    files.set(
      `checks/check-${i + 1}.csv`,
      waveText({
        head: [
          ...common,
          'block: stepped piece 4',
          'gain_db: 38',
          `taken_at: 2026-03-02T${String(8 + i).padStart(2, '0')}:00:00Z`,
        ],
        echoes: stepsMm.map((mm, s) => ({
          timeUs: timeOf(mm, 1 + 0.0045 * i),
          percent: (84 - 12 * s) * (i > 4 ? 0.55 : 1 - 0.01 * i),
        })),
        seed: 40 + i,
      }),
    );
  }
  return files;
}

const common = ['instrument: desk recorder 5', 'probe: straight probe 3, longitudinal, 4 MHz', 'rectification: rf'];

const window = (distanceMm: number): Reflector => ({
  distanceMm,
  toleranceMm: 0.02,
  fromUs: timeOf(distanceMm) - 1.2,
  toUs: timeOf(distanceMm) + 1.2,
  capture: null,
});

export function scenarioReview(): Review {
  const files = [...scenarioFiles().keys()];
  const below = (folder: string) => files.filter((file) => file.startsWith(folder));
  return {
    ...emptyReview,
    title: 'Gallery: plate 9 and stepped piece 4',
    sources: files.map((file) => ({ file, sha256: null, recipe: freshRecipe, facts: [] })),
    calibration: {
      kind: 'fit',
      captures: [stepPiece],
      reflectors: { kind: 'windows', list: stepsMm.map(window) },
      timing: 'peak',
      thresholdPercent: 20,
      nominal: { material: 'steel', mode: 'longitudinal' },
    },
    readings: {
      captures: below('plate/'),
      gates: [
        { name: 'hole', span: { axis: 'path', fromMm: 31, toMm: 44 }, thresholdPercent: 20 },
        { name: 'back wall', span: { axis: 'path', fromMm: 56, toMm: 64 }, thresholdPercent: 15 },
      ],
      timing: 'peak',
      beam: null,
      uAngleDeg: null,
      series: { offPeakDb: 1 },
    },
    drift: {
      captures: below('checks/'),
      reflectors: [window(40), window(60)],
      amplitudePercent: 72,
      thresholdPercent: 5,
      rangeMm: 100,
      decision: 'with-uncertainty',
      rule: { kind: 'published', name: 'iso-17640' },
    },
  };
}
