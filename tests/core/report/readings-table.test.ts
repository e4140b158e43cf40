import { describe, expect, it } from 'vitest';
import type { Reading } from '../../../core/gate/reading.ts';
import { readingColumns, readingsText } from '../../../core/report/readings-table.ts';
import { csvText } from '../../../core/report/table-text.ts';
import type { CaptureFacts } from '../../../core/steps/examine.ts';
import type { FigureStyle } from '../../../core/units/figure-style.ts';
import { reading as readingWith } from '../../build/series.ts';

const metric: FigureStyle = { units: 'metric', decimalMark: '.' };

const reading = readingWith({
  captureId: '=a.csv#x',
  gate: 'root',
  timeUs: { value: 25.8184, standardUncertainty: 0.0021 },
  amplitudePercent: 125,
  signalToNoiseDb: 46.5,
  soundPathMm: { value: 29.994, standardUncertainty: 0.043 },
  depthMm: { value: -0.004, standardUncertainty: null },
  leg: 1,
  flags: ['saturated'],
});
const nothing: Reading = {
  ...reading,
  captureId: 'b.csv#x',
  timeUs: null,
  amplitudePercent: null,
  signalToNoiseDb: null,
  soundPathMm: null,
  depthMm: null,
  leg: null,
  flags: ['no-echo'],
};
const facts: CaptureFacts = {
  captureId: '=a.csv#x',
  file: '=a.csv',
  trace: 'x',
  sha256: null,
  gainDb: null,
  takenAt: null,
  positionMm: -2.5,
  acrossMm: null,
  probe: null,
  instrument: null,
  block: null,
  temperatureC: null,
  samples: 10,
  stepUs: 0.01,
  amplitudeUnit: 'percent',
  rectification: 'rf',
};
const captures = new Map([[facts.captureId, facts]]);

describe('the readings’ columns', () => {
  it('those that nothing is known for are left out; the main ones stand even empty', () => {
    const named = (rows: readonly Reading[]) => readingColumns(rows, captures, metric).map(({ id }) => id);
    expect(named([])).toEqual(['capture', 'gate', 'sound-path', 'amplitude', 'time', 'flags']);
    expect(named([reading])).toEqual([
      'capture',
      'position',
      'gate',
      'sound-path',
      'amplitude',
      'depth',
      'leg',
      'time',
      'signal-to-noise',
      'flags',
    ]);
  });

  it('an unknown figure has no place in an order', () => {
    const path = readingColumns([reading], captures, metric).find(({ id }) => id === 'sound-path')!;
    expect([path.order(reading, facts), path.order(nothing, undefined)]).toEqual([29.994, null]);
  });
});

describe('the readings as text', () => {
  const table = (style: FigureStyle) => {
    const columns = readingColumns([reading, nothing], captures, style);
    return readingsText([reading, nothing], columns, captures, style);
  };

  it('each figure with its unit in the head, its uncertainty beside it, and what is unknown empty', () => {
    const { head, rows } = table(metric);
    const at = (name: string, row: number) => rows[row]![head.indexOf(name)];
    expect(at('Sound path (mm)', 0)).toEqual({ figure: '29.994' });
    expect(at('u of Sound path (mm)', 0)).toEqual({ figure: '0.043' });
    expect(at('Position (mm)', 0)).toEqual({ figure: '-2.50' });
    expect(at('Depth (mm)', 0)).toEqual({ figure: '0.00' });
    expect(at('Sound path (mm)', 1)).toBeNull();
    expect(at('Doubts', 1)).toEqual({ words: expect.stringMatching(/^no-echo: Nothing in the gate/) });
  });

  it('inches and a decimal comma, and a file name that looks like a formula', () => {
    const text = csvText(table({ units: 'inch', decimalMark: ',' }), ',');
    // 29.994 mm / 25.4 = 1.18087 in
    expect(text).toMatch(/\r\n'=a\.csv#x;-0,0984;root;1,1809;0,0017;/);
  });
});
