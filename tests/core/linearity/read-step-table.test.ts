import { describe, expect, it } from 'vitest';
import { readStepTable } from '../../../core/linearity/read-step-table.ts';
import { problemLine } from '../../../core/outcome.ts';

const read = (text: string) => readStepTable('steps.csv', new TextEncoder().encode(text));
const linesOf = (text: string): string[] => {
  const outcome = read(text);
  return (outcome.ok ? outcome.value.problems : outcome.problems).map(problemLine);
};

describe('readStepTable', () => {
  it.each<[string, string, string, (string | number | null)[][]]>([
    [
      'gains',
      'file,gain_db\na.csv,40\nb.csv,34.5\n',
      'gain',
      [
        ['a.csv', 40],
        ['b.csv', 34.5],
      ],
    ],
    [
      'changes, with a sign and a true minus',
      'capture,change_db\na.csv,+0\nb.csv,−6\n',
      'change',
      [
        ['a.csv', 0],
        ['b.csv', -6],
      ],
    ],
    ['an attenuator', 'file,attenuator [dB]\na.csv,2\n', 'attenuator', [['a.csv', 2]]],
    ['semicolons and decimal commas', 'file;gain_db\na.csv;34,5\n', 'gain', [['a.csv', 34.5]]],
    ['traces of one file', 'file,trace,gain_db\na.csv,span 1,20\n', 'gain', [['a.csv#span 1', 20]]],
    [
      'comments, blank lines and other columns',
      '# set by hand\nfile,note,gain_db\n\na.csv,"first, at 80",40\n',
      'gain',
      [['a.csv', 40]],
    ],
    ['a byte-order mark and CRLF', '\uFEFFfile,gain_db\r\na.csv,40\r\n', 'gain', [['a.csv', 40]]],
  ])('%s', (_name, text, states, rows) => {
    const outcome = read(text);
    expect(outcome.ok && outcome.value.states).toBe(states);
    expect(outcome.ok && outcome.value.rows.map(({ capture, db }) => [capture, db])).toEqual(rows);
    expect(linesOf(text)).toEqual([]);
  });

  it.each<[string, string, string]>([
    ['nothing', '', 'steps.csv: the step table is empty'],
    ['a header alone', 'file,gain_db\n', 'steps.csv:1: the step table has a header and no rows'],
    [
      'no column of files',
      'name,gain_db\na.csv,40\n',
      'steps.csv:1:1: a step table needs a header with a column "file"',
    ],
    [
      'no column of dB',
      'file,volume\na.csv,40\n',
      'steps.csv:1:1: a step table needs one column of "gain_db", "change_db" and "attenuator_db"; this one has none',
    ],
    ['two columns of dB', 'file,gain_db,change_db\na.csv,40,0\n', 'this one has 2 of them'],
    [
      'a gain that is not a number',
      'file,gain_db\na.csv,40\nb.csv,loud\n',
      'steps.csv:3:7: "loud" is not a number of dB',
    ],
    ['a gain that is infinite', 'file,gain_db\na.csv,inf\n', 'steps.csv:2:7: "inf" is not a number of dB'],
    ['no gain', 'file,gain_db\na.csv,\n', 'steps.csv:2:7: no gain_db stands here'],
    ['a row that is too short', 'file,note,gain_db\na.csv\n', 'steps.csv:2:6: no gain_db stands here'],
    ['a row without a file', 'file,gain_db\n,40\n', 'steps.csv:2:1: this row names no capture'],
    ['an open quotation mark', 'file,gain_db\n"a.csv,40\nb.csv,34\n', 'steps.csv:2:1: a quotation mark opens'],
  ])('%s: said at its place', (_name, text, line) => {
    expect(linesOf(text).join('\n')).toContain(line);
  });

  it('a bad row leaves the others standing', () => {
    const outcome = read('file,gain_db\na.csv,40\nb.csv,loud\nc.csv,28\n');
    expect(outcome.ok && outcome.value.rows.map(({ db }) => db)).toEqual([40, null, 28]);
  });
});
