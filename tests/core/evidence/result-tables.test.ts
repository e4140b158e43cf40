import { describe, expect, it } from 'vitest';
import { resultTables } from '../../../core/evidence/result-tables.ts';
import { csvText } from '../../../core/report/table-text.ts';

const document = {
  title: '=run()',
  calibration: {
    velocity_m_per_s: 3241.000000001,
    zero_offset_us: null,
    points: [{ distance_mm: 100, flags: ['exact-fit', 'drift'] }],
  },
  checks: [
    { file: '=a.csv', peak: { position_mm: -0.5 }, reflectors: [{ distance_mm: 100 }, { distance_mm: 225 }] },
    { file: 'b.csv', peak: null, reflectors: [{ distance_mm: 100 }] },
  ],
  formulas: { depth: { text: 'z' } },
  flag_texts: { drift: 'x' },
};
const tables = resultTables(document);
const csv = (name: string) => {
  const table = tables.find((one) => one.name === name);
  return table && csvText(table.text, '.');
};

describe('results as tables', () => {
  it('one for each list, named by its place, and one for what stands in none', () => {
    expect(tables.map(({ name }) => name)).toEqual(['figures', 'calibration-points', 'checks', 'checks-reflectors']);
  });

  it('places and indications are called so, and the lists within them by their names', () => {
    const named = resultTables({
      location: { readings: [{ depth_mm: 15, geometry_expected: [{ leg: 1 }] }], damping: [{ echoes: [{ leg: 2 }] }] },
      scan: { indications: [{ name: 'root', echo_dynamic: [{ position_mm: 5 }] }], lines: [{ positions: 41 }] },
    }).map(({ name }) => name);
    expect(named).toEqual([
      'figures',
      'indications',
      'indications-echo-dynamic',
      'location',
      'location-damping',
      'location-damping-echoes',
      'location-geometry-expected',
      'scan-lines',
    ]);
  });

  it('figures keep the digits of the document; unknown is an empty cell; words are guarded', () => {
    expect(csv('figures')).toBe(
      "figure,value\r\ntitle,'=run()\r\ncalibration.velocity_m_per_s,3241.000000001\r\ncalibration.zero_offset_us,\r\n",
    );
  });

  it('what is within a row stands in it, a negative figure as a figure', () => {
    expect(csv('checks')).toBe("file,peak_position_mm,peak\r\n'=a.csv,-0.5,\r\nb.csv,,\r\n");
    expect(csv('calibration-points')).toBe('distance_mm,flags\r\n100,exact-fit; drift\r\n');
  });

  it('a list within a list names the row of the outer one', () => {
    expect(csv('checks-reflectors')).toBe('checks_row,distance_mm\r\n1,100\r\n1,225\r\n2,100\r\n');
  });

  it('a key with a unit is a figure also where none is known', () => {
    const [, table] = resultTables({ rows: [{ depth_mm: null, name: 'a', holds: true }] });
    expect(table.fields).toEqual([
      { name: 'depth_mm', type: 'number' },
      { name: 'name', type: 'string' },
      { name: 'holds', type: 'boolean' },
    ]);
  });

  it('nothing: the head alone', () => expect(csvText(resultTables({})[0].text, '.')).toBe('\r\n'));
});
