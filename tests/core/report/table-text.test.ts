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

  it.each([
    ['behind blanks', '  =1+1', "'  =1+1"],
    ['behind a quotation mark, which is the form of the table to some', '"=1+1"', '\'"=1+1"'],
    ['behind an apostrophe, which is one mark less after the next saving', "'=1+1", "''=1+1"],
    ['a call of another program', '|calc!A1', "'|calc!A1"],
    ['a wide bar, a small sign', '｜x﹦1', "'｜x﹦1"],
    ['behind a mark at which another country’s table is split', 'a;=1+1', "a;'=1+1"],
    ['behind several, with blanks and quotation marks', 'a, "=1;\t-cmd|x', "a, '\"=1;'\t'-cmd|x"],
    ['behind a figure that would only be the beginning of it', 'a;-2 +cmd|x', "a;'-2 +cmd|x"],
    ['a carriage return alone is named, and begins no line', '\r=1', '⟨U+000D⟩=1'],
  ])('%s', (_name, words, written) => {
    expect(
      csvText(one({ words }), '.')
        .split('\r\n')[1]
        ?.replace(/^"(.*)"$/s, '$1')
        .replaceAll('""', '"'),
    ).toBe(written);
  });

  it('a line end before a formula is guarded and quoted, should the lines be torn apart too', () => {
    expect(csvText(one({ words: '\n=1' }), '.')).toBe('Name\r\n"\'\n\'=1"\r\n');
  });

  it.each(['-6 dB below, -0.178 mm and 2', 'one; -2; 3', 'at (10, -3.5) mm, -38°', '6 dB'])(
    'figures within words stay as they are: %s',
    (words) => {
      expect(cellIn(tabbedText(one({ words })))?.replace(/^'/, '')).toBe(words);
    },
  );

  it('what cannot be seen in words is named: a NUL ends no cell, nothing turns the order of its letters', () => {
    expect(cellIn(csvText(one({ words: 'a\0b\u202Ec\u001b[31m' }), '.'))).toBe('a⟨U+0000⟩b⟨U+202E⟩c⟨U+001B⟩[31m');
  });

  it('a cell that begins with a quotation mark swallows none of those behind it', () => {
    const rows = [[{ words: '"open' }, { words: 'next' }]];
    expect(tabbedText({ head: ['a', 'b'], rows })).toBe('a\tb\n\'"open\tnext\n');
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
