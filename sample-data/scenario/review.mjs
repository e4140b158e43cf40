// The review of the day: what an evaluator decided about the captures. Decisions only; every figure follows from them.
import { createHash } from 'node:crypto';

const sha256 = (content) => createHash('sha256').update(Buffer.from(content)).digest('hex');

/** Everything of the import was left to what the files say. */
const recipe = {
  encoding: null,
  delimiter: null,
  decimalMark: null,
  headerLine: null,
  axis: null,
  timeUnit: null,
  distanceUnit: null,
  startUs: null,
  sampleRateMHz: null,
  axisVelocityMPerS: null,
  amplitudeUnit: null,
  fullScreen: null,
  zeroLevel: null,
  rectification: null,
  columns: { axis: null, amplitudes: null, captureId: null },
  uneven: 'refuse',
  dateOrder: null,
};

const window = (distanceMm, fromUs, toUs) => ({ distanceMm, toleranceMm: 0, fromUs, toUs, capture: null });

/** `files`: every file of the scenario by its path, with its content. */
export function review(files) {
  const checks = Object.keys(files).filter((path) => path.startsWith('shift/'));
  const captures = ['reference-block.csv', 'plate-weld/first-leg.csv', ...checks];
  const manifests = ['plate-weld/manifest.csv'];
  return {
    format: 'ascan-review',
    version: 2,
    title: 'Frame 12, butt weld in 16 mm plate, 11 May 2026',
    notes: 'Angle probe 17: calibration on quadrant block 3, root of the weld from the first leg, the shift’s checks.',
    sources: captures.map((file) => ({ file, sha256: sha256(files[file]), recipe, facts: [] })),
    manifests: manifests.map((file) => ({ file, sha256: sha256(files[file]) })),
    conditioning: { baseline: 'linear', bandPass: null, padding: 'extend', peak: 'log-parabola' },
    echoes: null,
    calibration: {
      kind: 'fit',
      captures: ['reference-block.csv'],
      reflectors: { kind: 'block', name: 'iso-2400/quadrant-return-25' },
      timing: 'peak',
      thresholdPercent: 20,
      nominal: { material: 'steel', mode: 'transverse' },
    },
    readings: {
      captures: ['plate-weld/first-leg.csv'],
      gates: [{ name: 'root', span: { axis: 'path', fromMm: 24, toMm: 36 }, thresholdPercent: 20 }],
      timing: 'peak',
      beam: { angleDeg: 60, thicknessMm: 16 },
      uAngleDeg: 0.5,
      series: { offPeakDb: 1 },
    },
    drift: {
      captures: checks,
      reflectors: [window(100, 65, 75), window(225, 142, 152)],
      amplitudePercent: 80,
      thresholdPercent: 5,
      rangeMm: 250,
      decision: 'with-uncertainty',
      rule: { kind: 'published', name: 'iso-17640' },
    },
    linearity: { timeBase: null, screenHeight: null, gain: null },
    sensitivity: null,
    record: [],
  };
}
