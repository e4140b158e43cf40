import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { verdictSummary } from '../../core/check/verdict-summary.ts';
import { readCsv } from '../../core/evidence/compare.ts';
import { madeFiles } from '../../core/evidence/contents.ts';
import { captureLookup } from '../../core/report/document.ts';
import type { ReportInput } from '../../core/report/page/report-input.ts';
import { tabbedText } from '../../core/report/table-text.ts';
import { verdictsTable } from '../../core/report/verdicts-table.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { visibleText } from '../../core/visible-text.ts';
import { give } from '../../electron/cli/answer.ts';
import { evaluateReview } from '../../electron/cli/commands/evaluate.ts';
import { reportInput, savedReview } from '../../electron/cli/review-report.ts';
import { fileStem } from '../../renderer/host/file-stem.ts';
import { figureSvg } from '../../renderer/probes/figure-svg.ts';
import { type Panel, places } from '../../renderer/probes/plot-figure.ts';
import { windowTitle } from '../../renderer/shell/use-own-window.ts';
import { hostileReview } from './hostile-review.ts';
import { type HostileText, hostileTexts, unseen } from './hostile-texts.ts';

/** A text that wants nothing; what comes of it is the form of every outlet. */
const harmless = 'root of the weld';

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true });
});

interface Evaluated {
  readonly path: string;
  readonly input: ReportInput;
}

const known = new Map<string, Evaluated>();

/** The review of a text, evaluated once for all outlets. */
function evaluated(text: string): Evaluated {
  const before = known.get(text);
  if (before !== undefined) return before;
  const folder = mkdtempSync(join(tmpdir(), 'workbench-hostile-'));
  folders.push(folder);
  const { path } = hostileReview(text, folder);
  const input = reportInput(savedReview(path));
  if (!input.ok) throw new Error(input.problems.map(({ sentence }) => sentence).join('\n'));
  const made = { path, input: input.value };
  known.set(text, made);
  return made;
}

/** What a command writes on both of its channels. */
async function told(run: () => unknown): Promise<{ readonly out: string; readonly err: string }> {
  const written = { out: '', err: '' };
  const { stdout, stderr } = process;
  const before = [stdout.write, stderr.write] as const;
  const into = (channel: 'out' | 'err') => (piece: string) => {
    written[channel] += piece;
    return true;
  };
  stdout.write = into('out') as typeof stdout.write;
  stderr.write = into('err') as typeof stderr.write;
  try {
    await run();
  } finally {
    [stdout.write, stderr.write] = before;
  }
  return written;
}

function reportOf(text: string): string {
  return madeFiles(evaluated(text).input).find(({ path }) => path === 'report.html')!.text;
}

function tablesOf(text: string): (readonly [name: string, rows: readonly (readonly string[])[], text: string])[] {
  return madeFiles(evaluated(text).input)
    .filter(({ path }) => path.endsWith('.csv'))
    .map(({ path, text: csv }) => [path, readCsv(csv), csv]);
}

const escapedText = (text: string) =>
  visibleText(text).replace(
    /[&<>"']/g,
    (mark) => `&${{ '&': 'amp', '<': 'lt', '>': 'gt', '"': 'quot', "'": '#39' }[mark]};`,
  );

/** Elements and their attributes' names, in order: what a browser would make of the page. (Long values have a class of their own.) */
const skeleton = (page: string) =>
  [...page.matchAll(/<(\/?[a-z0-9!]+)((?:\s+[a-zA-Z-]+(?:="[^"]*")?)*)\s*\/?>/g)].map(([, tag, attributes = '']) =>
    [tag, ...Array.from(attributes.matchAll(/([a-zA-Z-]+)="[^"]*"/g), ([, name]) => name)]
      .filter((name) => name !== 'class')
      .join(' '),
  );

const rows = hostileTexts.map(({ name, text }): [string, HostileText] => [name, { name, text }]);

describe.each(rows)('%s', (_name, { text }) => {
  it('in the report: the same elements and attributes as of any name, and the text to be read', () => {
    const page = reportOf(text);
    expect(skeleton(page)).toEqual(skeleton(reportOf(harmless)));
    expect(page).not.toMatch(unseen);
    expect(page).toContain(escapedText(text));
    expect(page.replaceAll(/<[^<>]*>/g, '')).not.toMatch(/[<>]/);
  });

  it('in the tables of a package: as many cells, none that a spreadsheet would run or split, figures as figures', () => {
    const plain = new Map(tablesOf(harmless).map(([name, table]) => [name, table]));
    const tables = tablesOf(text);
    expect(tables.map(([name]) => name)).toEqual([...plain.keys()]);
    for (const [name, table, csv] of tables) {
      const like = plain.get(name)!;
      expect([name, table.map((row) => row.length)]).toEqual([name, like.map((row) => row.length)]);
      expect(csv.replaceAll('\r\n', '')).not.toMatch(unseen);
      for (const [i, row] of table.entries())
        for (const [c, cell] of row.entries()) {
          if (/^-?[\d.]+(e-?\d+)?$/.test(like[i]![c]!)) expect(cell).toMatch(/^-?[\d.]+(e-?\d+)?$/);
          else expect(piecesThatRun(cell)).toEqual([]);
        }
    }
  });

  it('copied for a spreadsheet: as many cells in as many lines', () => {
    const cells = (of: string) => {
      const { input } = evaluated(of);
      const { verdicts } = verdictSummary(input.review, input.evaluation, metricStyle);
      return tabbedText(verdictsTable(verdicts, captureLookup(input.evaluation.captures), metricStyle))
        .split('\n')
        .map((line) => line.split('\t'));
    };
    const copied = cells(text);
    expect(copied.map((line) => line.length)).toEqual(cells(harmless).map((line) => line.length));
    expect(copied.flat().filter((cell) => cell.startsWith('"') || unseen.test(cell))).toEqual([]);
  });

  it('on the terminal: as many lines as of any name, and nothing that steers it', async () => {
    const words = (of: string) => told(() => give(evaluateReview(evaluated(of).path), false));
    const { out, err } = await words(text);
    const plain = await words(harmless);
    expect(out + err).not.toMatch(unseen);
    expect(out.split('\n').length).toBe(plain.out.split('\n').length);
    expect(err.split('\n').length).toBe(plain.err.split('\n').length);
    expect(out).not.toMatch(/^(verdict {2}pass|Rule {2}every)/m);
  });

  it('as JSON: nothing that steers a terminal, and read back it is the very text', async () => {
    const answer = evaluateReview(evaluated(text).path);
    const { out } = await told(() => give(answer, true));
    expect(out.trimEnd()).not.toMatch(unseen);
    expect(out.trimEnd()).not.toContain('\n');
    const document = JSON.parse(out);
    expect(textsIn(document)).toContain(text.slice(0, 200));
    expect(document).toEqual(JSON.parse(JSON.stringify({ ...answer.document, problems: document.problems })));
  });

  it('in a saved figure: XML that is whole', () => {
    const panel: Panel = {
      title: text,
      x: { label: text, from: 0, to: 2 },
      y: { label: text, from: -1, to: 1 },
      lines: [{ name: text, style: 0, weight: 'full', x: places(0, 1, 3), y: [0, 1, 0] }],
      bands: [],
      levels: [],
      image: null,
    };
    const size = { widthMm: 85, heightMm: 60, fontPt: 8, linePt: 1, thinPt: 0.5 };
    const drawn = (words: string, one: Panel) =>
      figureSvg({ words, panels: [one], across: 1 }, size, { decimalMark: '.' });
    const svg = drawn(text, panel);
    expect(svg).not.toMatch(unseen);
    expect(svg.replaceAll(/<[^<>]*>/g, '')).not.toMatch(/[<>]|&(?!amp;|lt;|gt;|quot;)/);
    const marks = [...svg.matchAll(/<[^<>]*>/g)].join('');
    expect(marks).not.toMatch(/<(script|img|iframe|foreignObject|a)\b|\son\w+=/);
  });

  it('as the name of a file that is saved, and as the window’s title', () => {
    const stem = fileStem(text);
    expect(stem).toMatch(/^[\p{L}\p{N}]+(-[\p{L}\p{N}]+)*$/u);
    expect(stem.length).toBeLessThanOrEqual(60);
    const title = windowTitle({ review: { ...evaluated(text).input.review, title: text }, name: null, unsaved: true });
    expect(title).not.toMatch(unseen);
    expect(title.endsWith('A-scan workbench')).toBe(true);
  });
});

/** Every text within a document, its keys too. */
function textsIn(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, part]) => [key, ...textsIn(part)]);
}

/** The parts of a cell, split at any mark, that a spreadsheet would take for a formula. */
function piecesThatRun(cell: string): string[] {
  return cell
    .split(/[,;\t\n]/)
    .filter((piece) => /^[\s"]*[=+\-@|＝＋－＠]/.test(piece))
    .filter((piece) => !/^[\s"]*[-+]?[\d.]+[^=+@|(![]*$/.test(piece) || piece === cell);
}

describe('the oracles bite', () => {
  it('a name that is not escaped is another form of the page', () => {
    const page = reportOf(harmless).replace(harmless, '<b>x</b>');
    expect(skeleton(page)).not.toEqual(skeleton(reportOf(harmless)));
  });

  it.each([['=1'], ['a;=1'], ['a\n@x'], ['"-2+cmd|x']])('a cell that runs: %j', (cell) => {
    expect(piecesThatRun(cell)).not.toEqual([]);
  });

  it.each(["'=1", 'plain', 'one; -2; 3', "a;'=1"])('a cell that does not: %j', (cell) => {
    expect(piecesThatRun(cell)).toEqual([]);
  });

  it('each text but those of letters alone has something to be seen through', () => {
    const odd = /[^\p{L}\p{N} ._]/u;
    const plain = hostileTexts.filter(({ text }) => !odd.test(text) && !unseen.test(text)).map(({ name }) => name);
    expect(plain).toEqual([
      'letters from right to left',
      'a name of every object',
      'another',
      'one more',
      'a very long word',
    ]);
  });
});

it('words of a command into which a text came as it is: they still steer no terminal, and keep their lines', async () => {
  const answer = { document: {}, words: () => 'one\n\u001b[2Jtwo\u202E', trusted: true, problems: [], warnings: [] };
  expect((await told(() => give(answer, false))).out).toBe('one\n\\u001b[2Jtwo\\u202e\n');
});
