import { inferEverything } from '../../../core/import/import-recipe.ts';
import { readRecipe } from '../../../core/import/recipe-file.ts';
import type { Outcome } from '../../../core/outcome.ts';
import { probeFigureNames, probeFigures } from '../../../core/probe/figures.ts';
import { openReview, reviewText } from '../../../core/review/open-review.ts';
import { emptyReview, type Review, reviewVersion } from '../../../core/review/review.ts';
import { readStatedProbes } from '../../../core/review/stated-probes.ts';
import type { Chance } from '../chance.ts';
import type { Subject, Verdict } from '../subject.ts';
import { changedJson } from './change-json.ts';
import { deepestAllowed, wrongRefusal } from './refusals.ts';
import { firstDifference, slowJson } from './slow-json.ts';

const bytesOf = (value: unknown) => new TextEncoder().encode(JSON.stringify(value));
const fileName = 'a.json';

interface Document {
  readonly name: string;
  readonly make: (chance: Chance) => unknown;
  readonly read: (file: string, text: string) => Outcome<unknown>;
  /** Where what was read is not what stands in the text; `null` where it is. */
  readonly difference: (read: unknown, written: unknown) => string | null;
}

function subjectOf({ name, make, read, difference }: Document): Subject {
  return {
    name,
    ending: 'json',
    make: (chance) => {
      const bytes = bytesOf(make(chance));
      return { bytes: chance.oneIn(4) ? bytes : changedJson(bytes, bytesOf(make(chance)), chance), truth: null };
    },
    change: changedJson,
    judge: ({ bytes }) => {
      const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
      return judgeDocument(text, read(fileName, text), difference);
    },
  };
}

export function judgeDocument(text: string, outcome: Outcome<unknown>, difference: Document['difference']): Verdict {
  const slow = slowJson(text);
  const faults: string[] = [];
  if (outcome.ok) {
    if (!slow.isJson) faults.push('read although it is not JSON');
    if (slow.oddNames.length > 0) faults.push(`read although "${slow.oddNames[0]}" stands twice, or is every object’s`);
    if (slow.deepest > deepestAllowed) faults.push(`read although it is ${slow.deepest} deep`);
    const wrong = slow.isJson ? difference(outcome.value, slow.value) : null;
    if (wrong !== null) faults.push(`what was read differs from what stands there: ${wrong}`);
  } else {
    faults.push(...wrongRefusal(outcome.problems, text, fileName, slow));
  }
  const parts = outcome.ok
    ? partsOf(slow.value)
    : [
        ...new Set(
          outcome.problems.map(({ code, sentence }) => `${code} ${sentence.replace(/[\d"].*/, '').slice(0, 60)}`),
        ),
      ]
        .sort()
        .slice(0, 3)
        .join('+');
  return { outcome: `${outcome.ok ? 'read' : 'refused'} ${parts}`, faults };
}

/** Which parts of a document say something. */
function partsOf(value: unknown): string {
  if (typeof value !== 'object' || value === null) return typeof value;
  return Object.entries(value)
    .filter(([, part]) => part !== null && part !== '' && JSON.stringify(part) !== '[]')
    .map(([name]) => name)
    .join(',');
}

const someRecipe = {
  ...inferEverything,
  encoding: 'utf-8',
  delimiter: ';',
  decimalMark: ',',
  headerLine: 3,
  axis: 'time',
  timeUnit: 'us',
  amplitudeUnit: 'percent',
  columns: { axis: 1, amplitudes: ['a_pct', 3], captureId: null },
};

const source = {
  file: 'shift/a.csv',
  sha256: 'a'.repeat(64),
  recipe: someRecipe,
  facts: [
    {
      trace: null,
      gainDb: 42,
      positionMm: 1.5,
      acrossMm: null,
      takenAt: '2026-03-02T06:05:00Z',
      probe: 'angle 60',
      instrument: null,
      block: null,
      temperatureC: 21,
    },
  ],
};

/** A review that says something in each of its older parts. */
const fullReview = {
  ...emptyReview,
  title: 'Weld 12',
  notes: 'first shift',
  sources: [source],
  manifests: [{ file: 'manifest.csv', sha256: null }],
  conditioning: {
    baseline: 'linear',
    bandPass: { lowMHz: 1.5, highMHz: 9, order: 4 },
    padding: 'extend',
    peak: 'log-parabola',
  },
  echoes: { captures: ['shift/a.csv'], abovePercent: 5, fromUs: null, toUs: 90 },
  calibration: {
    kind: 'fit',
    captures: ['shift/a.csv#a_pct'],
    reflectors: { kind: 'windows', list: [{ distanceMm: 100, toleranceMm: 0.1, fromUs: 55, toUs: 75, capture: null }] },
    timing: 'peak',
    thresholdPercent: 20,
    nominal: { material: 'steel', mode: 'transverse' },
  },
  readings: {
    captures: ['shift/a.csv'],
    gates: [{ name: 'weld', span: { axis: 'path', fromMm: 20, toMm: 80 }, thresholdPercent: 30 }],
    timing: 'peak',
    beam: { angleDeg: 60, thicknessMm: 16 },
    uAngleDeg: 0.5,
    series: { offPeakDb: 1 },
  },
  drift: {
    captures: ['shift/a.csv'],
    reflectors: [],
    amplitudePercent: 80,
    thresholdPercent: 5,
    rangeMm: 250,
    decision: 'with-uncertainty',
    rule: { kind: 'published', name: 'iso-17640' },
  },
};

function olderReview(): unknown {
  const { linearity, sensitivity, part, scan, probes, material, record, ...rest } = fullReview;
  const withoutInstrument = rest.sources.map((one) => ({
    ...one,
    facts: one.facts.map(({ instrument, acrossMm, ...facts }) => facts),
  }));
  return { ...rest, version: 1, sources: withoutInstrument };
}

/** Whatever was written must be in what was read; what an older version lacked may come to it. */
export function reviewDifference(read: unknown, written: unknown): string | null {
  const review = read as Review;
  const again = openReview(fileName, reviewText(review));
  if (!again.ok) return `saved, it does not open again: ${again.problems[0].sentence}`;
  const turned = firstDifference(review, again.value);
  if (turned !== null) return `saved and opened again, ${turned}`;
  const isOlder = (written as { version: number }).version < reviewVersion;
  const lost = firstLost(written, read, '', isOlder);
  return lost;
}

function firstLost(written: unknown, read: unknown, path: string, isOlder: boolean): string | null {
  if (isOlder && path === '.version') return null;
  if (typeof written !== 'object' || written === null)
    return Object.is(written, read) ? null : `${path}: ${JSON.stringify(written)} became ${JSON.stringify(read)}`;
  if (typeof read !== 'object' || read === null) return `${path} was lost`;
  if (Array.isArray(written) && written.length !== (read as unknown[]).length) return `${path} has another length`;
  for (const [key, inside] of Object.entries(written)) {
    if (!Object.hasOwn(read, key)) return `${path}.${key} was lost`;
    const found = firstLost(inside, (read as Record<string, unknown>)[key], `${path}.${key}`, isOlder);
    if (found !== null) return found;
  }
  return null;
}

export const review = subjectOf({
  name: 'review',
  make: (chance) =>
    chance.oneIn(4) ? olderReview() : chance.oneIn(5) ? { ...fullReview, version: 3 + chance.below(1000) } : fullReview,
  read: openReview,
  difference: reviewDifference,
});

export const recipe = subjectOf({
  name: 'recipe',
  make: (chance) => (chance.oneIn(2) ? someRecipe : inferEverything),
  read: readRecipe,
  difference: firstDifference,
});

const keys = probeFigureNames.map((figure) => probeFigures[figure].key);

export const statedProbes = subjectOf({
  name: 'stated-probes',
  make: (chance) => ({
    probes: Array.from({ length: 1 + chance.below(3) }, (_, i) => ({
      name: `probe ${i}`,
      ...(chance.oneIn(2) ? { element_mm: 10 } : {}),
      ...(chance.oneIn(2) ? { gate_us: [18, 22.5] } : {}),
      stated: Object.fromEntries(
        Array.from({ length: chance.below(4) }, () => [chance.pick(keys), 1 + chance.below(100) / 10]),
      ),
    })),
  }),
  read: readStatedProbes,
  difference: (read, written) => {
    const probes = (
      written as {
        probes: { name: string; element_mm?: number; gate_us?: [number, number]; stated?: Record<string, number> }[];
      }
    ).probes;
    const asWritten = probes.map(({ name, element_mm = null, gate_us = null, stated = {} }) => ({
      name,
      elementMm: element_mm,
      gate: gate_us === null ? null : { fromUs: gate_us[0], toUs: gate_us[1] },
      stated: Object.entries(stated).map(([key, value]) => ({
        figure: probeFigureNames.find((figure) => probeFigures[figure].key === key),
        value,
      })),
    }));
    return firstDifference(asWritten, read);
  },
});
