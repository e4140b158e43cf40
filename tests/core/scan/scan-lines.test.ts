import { describe, expect, it } from 'vitest';
import { type PlacedCapture, scanLines } from '../../../core/scan/scan-lines.ts';

const capture = (captureId: string, told: Partial<PlacedCapture> = {}): PlacedCapture => ({
  captureId,
  file: 'scan.csv',
  positionMm: 0,
  acrossMm: null,
  takenAt: null,
  probe: 'angle probe',
  ...told,
});
const along = (...positions: (number | null)[]) =>
  positions.map((positionMm, i) => capture(`c${i + 1}`, { positionMm }));
const codes = (captures: readonly PlacedCapture[]) =>
  scanLines(captures).problems.map(({ code, place }) => `${code} ${place.file}`);
const ids = (captures: readonly PlacedCapture[]) =>
  scanLines(captures).lines.map(({ stations }) => stations.map(({ captureId }) => captureId).join(' '));

describe('captures that cannot be placed are left out with a sentence at their place', () => {
  it.each([
    { name: 'no captures at all', captures: [], problems: [], lines: [] },
    { name: 'no positions', captures: along(null, null), problems: ['no-position c1'], lines: [] },
    { name: 'one without a position', captures: along(0, null, 10), problems: ['no-position c2'], lines: ['c1 c3'] },
    {
      name: 'a position that repeats',
      captures: along(0, 5, 5, 10),
      problems: ['position-twice c2'],
      lines: ['c1 c4'],
    },
    {
      name: 'a position that goes back',
      captures: along(0, 5, 10, 3, 15),
      problems: ['position-goes-back c4'],
      lines: ['c1 c2 c3 c5'],
    },
    { name: 'a scan towards lower positions', captures: along(15, 10, 5, 0), problems: [], lines: ['c4 c3 c2 c1'] },
    {
      name: 'a position that goes back by the time taken, across files',
      captures: [
        capture('a', { file: 'a.csv', positionMm: 0, takenAt: '2026-05-11T08:00:00Z' }),
        capture('b', { file: 'b.csv', positionMm: 10, takenAt: '2026-05-11T08:01:00Z' }),
        capture('c', { file: 'c.csv', positionMm: 20, takenAt: '2026-05-11T08:02:00Z' }),
        capture('d', { file: 'd.csv', positionMm: 15, takenAt: '2026-05-11T08:03:00Z' }),
      ],
      problems: ['position-goes-back c'],
      lines: ['a b'],
    },
    {
      name: 'files whose order nobody tells: nothing is said of going back',
      captures: [5, 0, 10].map((positionMm, i) => capture(`f${i}`, { file: `f${i}.csv`, positionMm })),
      problems: [],
      lines: ['f1 f0 f2'],
    },
    {
      name: 'two passes along the same positions whose place across is not told',
      captures: [...along(0, 5), capture('x', { file: 'b.csv' }), capture('y', { file: 'b.csv', positionMm: 5 })],
      problems: ['position-twice c1'],
      lines: [],
    },
    {
      name: 'a place across told of some only',
      captures: [capture('a', { acrossMm: 26 }), capture('b', { positionMm: 5 })],
      problems: ['across-partly-stated b'],
      lines: ['a'],
    },
    {
      name: 'mixed probes: nothing is taken from them',
      captures: [...along(0, 5), capture('other', { positionMm: 10, probe: 'straight probe' })],
      problems: ['mixed-probes scan'],
      lines: [],
    },
  ])('$name', ({ captures, problems, lines }) => {
    expect(codes(captures)).toEqual(problems);
    expect(ids(captures)).toEqual(lines);
  });

  it('the sentence names how many there are, and what to do', () => {
    expect(scanLines(along(null, null, null, 4)).problems[0].sentence).toMatch(/and 2 more like it.*state it/);
  });
});

describe('lines of a raster', () => {
  it('are those of one place across, in order, with the usual step', () => {
    const raster = [10, 0].flatMap((acrossMm) =>
      [0, 2, 4, 9].map((positionMm) =>
        capture(`${positionMm}/${acrossMm}`, { positionMm, acrossMm, file: `${acrossMm}.csv` }),
      ),
    );
    const { lines, stepMm, problems } = scanLines(raster);
    expect(problems).toEqual([]);
    expect(lines.map(({ acrossMm, stations }) => [acrossMm, stations.length])).toEqual([
      [0, 4],
      [10, 4],
    ]);
    expect(stepMm).toBe(2);
  });
});
