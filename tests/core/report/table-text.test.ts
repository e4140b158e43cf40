import { describe, expect, it } from 'vitest';
import { csvText, type TextCell, tabbedText } from '../../../core/report/table-text.ts';

const one = (cell: TextCell) => ({ head: ['Name'], rows: [[cell]] });
const cellIn = (text: string) => text.split(/\r?\n/)[1];

describe('cells that a spreadsheet would run', () => {
  // The characters of OWASP's advice on CSV injection.
  it.each(['=1+1', '+1', '-1+2', '@SUM(A1)', '\tx', '=cmd|x', '＝1+1', '＠SUM(A1)'])(
    'words %j are guarded',
    (words) => {
      expect(cellIn(csvText(one({ words }), '.'))).toBe(`'${words}`);
      expect(cellIn(tabbedText(one({ words })))).toBe(`'${words.replace('\t', ' ')}`);
    },
  );

  it('a carriage return before a formula is guarded and quoted', () => {
    expect(csvText(one({ words: '\r=1' }), '.')).toBe('Name\r\n"\'\r=1"\r\n');
  });

  it('a line end before a formula is guarded and quoted', () => {
    expect(csvText(one({ words: '\n=1' }), '.')).toBe('Name\r\n"\'\n=1"\r\n');
  });

  it.each(['-0.178', '12.5', '-3', '1e-9', '-0,178'])('a figure %s stays a figure', (figure) => {
    expect(cellIn(tabbedText(one({ figure })))).toBe(figure);
  });

  it('what only says that it is a figure is guarded', () => {
    expect(cellIn(tabbedText(one({ figure: '-1+cmd' })))).toBe("'-1+cmd");
  });

  it('a head too', () => {
    expect(tabbedText({ head: ['=x'], rows: [] })).toBe("'=x\n");
  });
});

describe('the form of the text', () => {
  it('no rows: the head alone', () => {
    expect(csvText({ head: ['a', 'b'], rows: [] }, '.')).toBe('a,b\r\n');
  });
  it('an empty cell, a separator, a quotation mark and a line end inside words (RFC 4180)', () => {
    const rows = [[null, { words: 'a,b' }, { words: 'say "x"' }, { words: 'two\nlines' }]];
    expect(csvText({ head: ['1', '2', '3', '4'], rows }, '.')).toBe('1,2,3,4\r\n,"a,b","say ""x""","two\nlines"\r\n');
  });
  it('with a decimal comma the separator is a semicolon', () => {
    const rows = [[{ figure: '1,5' }, { words: 'a;b' }]];
    expect(csvText({ head: ['x', 'y'], rows }, ',')).toBe('x;y\r\n1,5;"a;b"\r\n');
  });
  it('tabs and line ends inside a cell do not tear a pasted table', () => {
    expect(tabbedText({ head: ['a', 'b'], rows: [[{ words: 'x\ty' }, { words: 'two\r\nlines' }]] })).toBe(
      'a\tb\nx y\ttwo lines\n',
    );
  });
});
