import { createHash } from 'node:crypto';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { inferEverything } from '../../core/import/import-recipe.ts';
import { emptyReview, type Review } from '../../core/review/review.ts';
import { partOf } from '../build/part.ts';
import { trace } from '../build/trace.ts';
import { asFileName } from './hostile-texts.ts';

/** A capture file in which everything that is a word is the text: what the preamble says, and the head of its columns. */
export function hostileCapture(given: string): string {
  // A line of a file ends where a line ends, and a file with a NUL in it is no text.
  const text = given.replace(/[\r\n\0]+/g, ' ');
  const quoted = `"${text.replaceAll('"', '""')}"`;
  const { samples } = trace()
    .record(0, 1500)
    .burst({ timeUs: 4, amplitudePercent: 60, frequencyMHz: 5 })
    .burst({ timeUs: 10, amplitudePercent: 40, frequencyMHz: 5 })
    .noise(0.2)
    .waveform();
  const stated = ['title', 'operator', 'instrument', 'probe', 'block', text].map((key) => `# ${key}: ${text}`);
  const rows = Array.from(
    samples,
    (sample, i) => `${(i / 100).toFixed(2)},${sample.toFixed(3)},${(-sample).toFixed(3)}`,
  );
  return [...stated, '# rectification: rf', '# gain_db: 40', `time_us,${quoted},second_pct`, ...rows, ''].join('\n');
}

/** A review in which everything that is a word is the text, of one such file; what it is called, and where the review stands. */
export function hostileReview(text: string, folder: string): { readonly path: string; readonly review: Review } {
  const file = asFileName(text);
  const content = hostileCapture(text);
  writeFileSync(join(folder, file), content);
  const called = text.slice(0, 200);
  const reflector = { toleranceMm: 0.01, capture: null };
  const facts = { gainDb: null, acrossMm: null, takenAt: '2026-05-11T06:00:00Z', temperatureC: null };
  const gate = { axis: 'time', fromUs: 3, toUs: 5 } as const;
  const review: Review = {
    ...emptyReview,
    title: text,
    notes: text,
    sources: [
      {
        file,
        sha256: createHash('sha256').update(content).digest('hex'),
        recipe: { ...inferEverything, amplitudeUnit: 'percent' } as Review['sources'][number]['recipe'],
        facts: [{ ...facts, trace: null, positionMm: 5, probe: called, instrument: called, block: called }],
      },
    ],
    calibration: {
      kind: 'given',
      file: text,
      sha256: null,
      velocityMPerS: 5920,
      uVelocityMPerS: 5,
      zeroOffsetUs: 0.1,
      uZeroOffsetUs: 0.01,
      covarianceUsUsPerMm: 0,
      degreesOfFreedom: 3,
      timing: 'peak',
      points: [
        { distanceMm: 25, uDistanceMm: 0, timeUs: 8.5, uTimeUs: 0.01, amplitudePercent: 60, gainDb: 40, block: called },
      ],
    },
    readings: {
      captures: [file],
      gates: [
        { name: called, span: gate, thresholdPercent: 20 },
        { name: 'far', span: { axis: 'time', fromUs: 9, toUs: 11 }, thresholdPercent: 20 },
      ],
      timing: 'peak',
      beam: { angleDeg: 60, thicknessMm: 16 },
      uAngleDeg: 0.5,
      series: { offPeakDb: 1 },
    },
    drift: {
      captures: [file],
      reflectors: [{ ...reflector, distanceMm: 11, fromUs: 3, toUs: 5 }],
      amplitudePercent: 60,
      thresholdPercent: 5,
      rangeMm: 100,
      decision: 'with-uncertainty',
      rule: { kind: 'published', name: 'iso-17640' },
    },
    part: partOf({
      features: [{ name: called, acrossMm: 5, depthMm: 16, toleranceMm: 1 }],
      placements: [{ captures: [file], side: 'left', offsetMm: 20, uOffsetMm: 0.5, position: 'along' }],
      confirmed: [{ capture: `${file}#second_pct`, gate: called, taken: 'reflector', notes: text }],
    }),
    probes: {
      captures: [file],
      gate: { fromUs: 3, toUs: 5 },
      spectrum: { window: { kind: 'hann' }, padding: 2 },
      elementMm: 6,
      velocityMPerS: 5920,
      probes: [{ name: called, gate: null, elementMm: null, stated: [{ figure: 'centre-frequency-e1065', value: 5 }] }],
      reference: called,
      align: 'cross-correlation',
      normalised: true,
      significance: 0.05,
      decision: 'with-uncertainty',
      rule: null,
    },
    record: [
      { field: 'weld', value: text },
      { field: called, value: text },
    ],
  };
  const path = join(folder, 'review.json');
  writeFileSync(path, JSON.stringify(review));
  return { path, review };
}

/** One review with all of the texts in it: a file for each, gates, features, fields of the record; where the review stands. */
export function reviewOfAll(texts: readonly string[], folder: string): string {
  const all = texts.map((text) => hostileReview(text, folder).review);
  const names = new Set<string>();
  const once = (name: string) => name.trim() !== '' && !names.has(name.trim()) && names.add(name.trim()) !== null;
  const [first] = all;
  const captures = all.slice(0, 4).map(({ sources }) => sources[0]!.file);
  const review: Review = {
    ...first!,
    title: texts.join(' '),
    notes: texts.join('\n'),
    sources: all.flatMap(({ sources }) => sources),
    readings: {
      ...first!.readings!,
      captures,
      gates: all.flatMap(({ readings }) => readings!.gates.slice(0, 1)).filter(({ name }) => once(name)),
    },
    part: {
      ...first!.part!,
      features: all.flatMap(({ part }) => part!.features),
      placements: [{ ...first!.part!.placements[0]!, captures }],
    },
    record: all.flatMap(({ record }) => record.slice(1)),
  };
  const path = join(folder, 'review.json');
  writeFileSync(path, JSON.stringify(review));
  return path;
}
