// The review of the three probes: what a researcher decided about their captures. Decisions only; every figure follows from them.
import { plate } from './probes.mjs';
import { reviewParts } from './review-parts.mjs';

const folder = 'probes/';

/** `files`: every file of the scenario by its path, with its content. */
export function probesReview(files) {
  const captures = Object.keys(files)
    .filter((file) => file.startsWith(folder) && file.endsWith('.csv'))
    .map((file) => file.slice(folder.length));
  const { probes } = JSON.parse(files['probes/stated.json']);
  const stated = [
    { figure: 'centre-frequency-e1065', value: 5 },
    { figure: 'bandwidth-6-db', value: 3 },
  ];
  return {
    format: 'ascan-review',
    version: 2,
    title: 'Straight probes 21, 22 and 23 on plate 4, 11 May 2026',
    notes: 'Six captures with each probe, put on anew every time. All three are stated as 5 MHz, 3 MHz wide.',
    ...reviewParts(files, folder, captures, []),
    echoes: null,
    calibration: null,
    readings: null,
    drift: null,
    linearity: { timeBase: null, screenHeight: null, gain: null },
    sensitivity: null,
    part: null,
    scan: null,
    probes: {
      captures,
      gate: { fromUs: 8, toUs: 10.5 },
      spectrum: { window: { kind: 'tukey', taper: 0.2 }, padding: 8 },
      elementMm: plate.elementMm,
      velocityMPerS: plate.velocityMPerS,
      probes: probes.map(({ name }) => ({ name, gate: null, elementMm: null, stated })),
      reference: probes[0].name,
      align: 'cross-correlation',
      normalised: true,
      significance: 0.05,
      decision: 'with-uncertainty',
      rule: { kind: 'published', name: 'iso-22232-2' },
    },
    material: {
      // The probe with the widest band tells the most of the material.
      captures: captures.filter((file) => file.startsWith('probe-21')),
      thicknessMm: plate.thicknessMm,
      toleranceMm: 0.01,
      echoes: [
        { multiple: 1, fromUs: 8, toUs: 10.5 },
        { multiple: 2, fromUs: 16.5, toUs: 19 },
        { multiple: 3, fromUs: 24.9, toUs: 27.4 },
      ],
      spreading: { kind: 'far-field' },
    },
    record: [],
  };
}
