import { describe, expect, it } from 'vitest';
import { problem } from '../../../core/outcome.ts';
import { preparationFaults, weldOutline } from '../../../core/part/weld-preparation.ts';
import { figureColumn, wordsColumn } from '../../../core/report/figure-table.ts';
import type { LocatedReading } from '../../../core/steps/locate.ts';
import type { Indication, ScanResult } from '../../../core/steps/scan.ts';
import { expecting, withTaken } from '../../../renderer/part/confirming.ts';
import { preparations, problemsAt } from '../../../renderer/part/part-decision.ts';
import { nextOrder, ordered, withWords } from '../../../renderer/part/rows.ts';
import { newScan } from '../../../renderer/part/scan-decision.ts';
import {
  withAllTakenUp,
  withIndication,
  withMerged,
  withoutIndication,
  withSplit,
} from '../../../renderer/part/scan-edits.ts';
import { begun } from '../../../renderer/parts/begun.ts';
import { partOf } from '../../build/part.ts';

const reading = (captureId: string, taken: LocatedReading['taken'], name: string | null): LocatedReading => ({
  captureId,
  gate: 'root',
  soundPathMm: { value: 30, standardUncertainty: 0.1 },
  amplitudePercent: 60,
  place: null,
  without: null,
  probe: null,
  alongWeldMm: null,
  geometry:
    name === null
      ? []
      : [
          {
            expected: { name, place: null, leg: 1, pathMm: { value: 30, standardUncertainty: 0.5 }, angleDeg: 60 },
            differenceMm: 0,
            toleranceMm: 1,
            sentence: `Geometry expected here: ${name}.`,
          },
        ],
  taken,
  flags: [],
});

describe('geometry expected', () => {
  it('is told once for each gate and corner, what waits for a decision first', () => {
    const groups = expecting([
      reading('a', 'geometry', 'weld cap'),
      reading('b', null, 'weld root'),
      reading('c', 'reflector', 'weld root'),
      reading('d', null, null),
    ]);
    expect(groups.map(({ name, undecided, taken }) => [name, undecided, taken])).toEqual([
      ['weld root', 1, null],
      ['weld cap', 0, 'geometry'],
    ]);
  });

  it('is decided for all of its readings, keeps their notes, and can be taken back', () => {
    const part = partOf({ confirmed: [{ capture: 'b', gate: 'root', taken: 'geometry', notes: 'finger on the cap' }] });
    const decided = withTaken(part, [reading('b', null, 'x'), reading('c', null, 'x')], 'reflector');
    expect(decided.confirmed).toEqual([
      { capture: 'b', gate: 'root', taken: 'reflector', notes: 'finger on the cap' },
      { capture: 'c', gate: 'root', taken: 'reflector', notes: '' },
    ]);
    expect(withTaken(decided, [reading('b', null, 'x'), reading('c', null, 'x')], null).confirmed).toEqual([]);
  });
});

describe('problems of the part', () => {
  it('stand at their field, and one of an unknown kind is not lost', () => {
    const all = ['angle-beyond-critical', 'outline-crosses-itself', 'not-heard-of'].map((code) =>
      problem(code, { file: 'part' }, code),
    );
    expect(problemsAt(all, 'probe').map(({ code }) => code)).toEqual(['angle-beyond-critical']);
    expect(problemsAt(all, 'weld').map(({ code }) => code)).toEqual(['outline-crosses-itself']);
    expect(problemsAt(all, 'shape').map(({ code }) => code)).toEqual(['not-heard-of']);
  });

  it.each(preparations.map(({ label, is }) => [label, is] as const))(
    'none has a preparation to begin from: %s',
    (_, is) => {
      expect(preparationFaults(is, 12)).toEqual([]);
      expect(weldOutline(is, 12).length).toBeGreaterThan(5);
    },
  );
});

describe('indications', () => {
  const of = (name: string, captures: string[], fromMm: number, toMm: number, decided: boolean) =>
    ({ name, captures, fromMm, toMm, decided, taken: null, notes: '' }) as unknown as Indication;
  const scan = newScan(['weld.csv'], 20, 70, 14, { kind: 'drop-6-db' });
  const stations = ['a', 'b', 'c', 'd'].map((captureId, i) => ({ captureId, positionMm: 10 * i, acrossMm: null }));
  const left = of('left', ['a', 'b', 'c'], 28, 31, false);
  const right = of('right', ['d'], 29, 33, false);
  const result = { lines: [{ acrossMm: null, stations }], indications: [left, right] } as unknown as ScanResult;

  it('are taken up under a name, and left to the proposals again', () => {
    const named = withIndication(scan, left, { name: 'root' });
    expect(named.indications).toEqual([
      { name: 'root', captures: ['a', 'b', 'c'], fromMm: 28, toMm: 31, taken: null, notes: '' },
    ]);
    const decided = of('root', ['a', 'b', 'c'], 28, 31, true);
    expect(withIndication(named, decided, { taken: 'reflector' }).indications[0]?.taken).toBe('reflector');
    expect(withoutIndication(named, 'root').indications).toEqual([]);
    expect(withAllTakenUp(scan, [left, right]).indications).toHaveLength(2);
  });

  it('are merged in the order of the scan', () => {
    expect(withMerged(scan, right, left, result).indications).toEqual([
      { name: 'right', captures: ['a', 'b', 'c', 'd'], fromMm: 28, toMm: 33, taken: null, notes: '' },
    ]);
  });

  it('are split at a position, and not where one part would hold nothing', () => {
    const parted = withSplit(scan, left, { positionMm: 10 }, result);
    expect(parted?.indications.map(({ name, captures }) => [name, captures])).toEqual([
      ['left', ['a', 'b']],
      ['left, second', ['c']],
    ]);
    expect(withSplit(scan, left, { positionMm: 99 }, result)).toBeNull();
  });
});

describe('rows', () => {
  const columns = [
    wordsColumn<{ n: string; v: number | null }>('n', 'Name', ({ n }) => n),
    figureColumn<{ n: string; v: number | null }>('v', 'Value', 'mm', ({ v }) =>
      v === null ? null : { value: v, decimals: 1, unit: 'mm', standardUncertainty: null },
    ),
  ];
  const rows = [
    { n: 'capture_10', v: 3 },
    { n: 'capture_2', v: null },
    { n: 'capture_1', v: 5 },
  ];

  it('are put in order both ways, what is unknown last, and found by words', () => {
    const names = (column: string, falling: boolean) => ordered(rows, columns, { column, falling }).map(({ n }) => n);
    expect(names('n', false)).toEqual(['capture_1', 'capture_2', 'capture_10']);
    expect(names('v', false)).toEqual(['capture_10', 'capture_1', 'capture_2']);
    expect(names('v', true)).toEqual(['capture_1', 'capture_10', 'capture_2']);
    expect(withWords(rows, columns, 'CAPTURE 10')).toEqual([rows[0]]);
  });

  it('rise, fall, and stand as found', () => {
    const rising = nextOrder(null, 'v');
    const falling = nextOrder(rising, 'v');
    expect([rising, falling, nextOrder(falling, 'v')]).toEqual([
      { column: 'v', falling: false },
      { column: 'v', falling: true },
      null,
    ]);
  });
});

it.each([
  ['the angle lies beyond', 'The angle lies beyond.'],
  ['plate-weld/first-leg.csv has two places', 'plate-weld/first-leg.csv has two places.'],
  ['Done.', 'Done.'],
])('a sentence begins as one: %s', (words, sentence) => {
  expect(begun(words)).toBe(sentence);
});
