// The review of the day: what an evaluator decided about the captures. Decisions only; every figure follows from them.
import { reviewParts, window } from './review-parts.mjs';
import { dampingTest, part, scan } from './weld.mjs';

/** `files`: every file of the scenario by its path, with its content. */
export function review(files) {
  const checks = Object.keys(files).filter((path) => path.startsWith('shift/'));
  const { before, after } = dampingTest;
  const weld = ['plate-weld/first-leg.csv', 'plate-weld/second-leg.csv', before, after];
  const captures = ['reference-block.csv', ...weld, ...checks];
  const manifests = ['plate-weld/manifest.csv'];
  return {
    format: 'ascan-review',
    version: 2,
    title: 'Frame 12, butt weld in 16 mm plate, 11 May 2026',
    notes: 'Angle probe 17: calibration on quadrant block 3, root of the weld from the first leg, the shift’s checks.',
    ...reviewParts(files, '', captures, manifests),
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
    part,
    scan,
    probes: null,
    material: null,
    record: [],
  };
}
