import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { cautions } from '../../../../core/cautions.ts';
import { reportPage } from '../../../../core/report/page/page.ts';
import { pagePolicy, styleHash, styleText } from '../../../../core/report/page/style.ts';
import { recordGroups, signatories, signatureFields } from '../../../../core/review/record.ts';
import { emptyReview } from '../../../../core/review/review.ts';
import { metricStyle } from '../../../../core/units/figure-style.ts';
import { sampleReport } from '../../../build/sample-report.ts';

const input = sampleReport();
const page = reportPage(input);

/** The text that a reader sees, tags out. */
function read(markup: string): string {
  return markup
    .replace(/<style>.*?<\/style>/s, '')
    .replace(/<[^>]+>/g, ' ')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&')
    .replace(/\s+/g, ' ');
}

describe('a page that needs nothing else', () => {
  it('the policy names the hash of the page’s own style (Content Security Policy Level 3, 6.7.3)', () => {
    const hash = createHash('sha256').update(styleText).digest('base64');
    expect(styleHash, 'set styleHash in core/report/page/style.ts to this').toBe(`sha256-${hash}`);
    expect(page).toContain(`<style>${styleText}</style>`);
    expect(read(`<p>${page.match(/Content-Security-Policy" content="([^"]*)"/)?.[1]}</p>`).trim()).toBe(pagePolicy);
  });

  it('no script, no style of an element’s own, nothing from elsewhere', () => {
    expect(page).not.toMatch(/<script|<link|<img|<iframe|<object|<form|\son[a-z]+=|\sstyle=|javascript:/i);
    expect(
      [...page.matchAll(/\b(?:href|src|action|data|url)\s*=\s*"([^"]*)"/g)]
        .map(([, to]) => to)
        .filter((to) => !to.startsWith('#')),
    ).toEqual([]);
    expect(page).not.toMatch(/https?:|url\(/i);
  });

  it('links lead to places that are there, and no two places have one name', () => {
    const places = [...page.matchAll(/\sid="([^"]*)"/g)].map(([, id]) => id);
    expect(new Set(places).size).toBe(places.length);
    const links = [...page.matchAll(/href="#([^"]*)"/g)].map(([, id]) => id);
    expect(links.length).toBeGreaterThan(20);
    expect(links.filter((id) => !places.includes(id))).toEqual([]);
  });

  it('the same review and captures give the same bytes', () => {
    expect(reportPage(sampleReport())).toBe(page);
  });

  it('no size of paper is set, so that A4 and Letter both serve', () => {
    expect(styleText).toContain('@page');
    expect(styleText).not.toMatch(/@page[^}]*\bsize\b/);
    expect(styleText).toContain('display: table-header-group');
  });

  it('nothing is unknown in a way that only a programmer knows', () => {
    expect(read(page)).not.toMatch(/\bundefined\b|\bNaN\b|\[object|Infinity|\bnull\b/);
  });
});

describe('what a record holds', () => {
  const text = read(page);

  it('the cautions, the program and its version, the title, the notes', () => {
    for (const words of [
      ...cautions,
      'A-scan workbench',
      input.program.version,
      input.review.title,
      input.review.notes,
    ])
      expect(text).toContain(words);
  });

  it('every source and manifest with its SHA-256 and its length', () => {
    expect(input.sources).toHaveLength(input.review.sources.length + input.review.manifests.length);
    for (const { file, sha256, bytes } of input.sources)
      for (const words of [file, sha256 ?? 'unknown', String(bytes)]) expect(text).toContain(words);
    expect(text).toContain(input.reviewFile.sha256);
  });

  it('the fields that T-492, ISO 17640 and AWS ask for, each with its label, and who signs', () => {
    for (const { title, fields } of recordGroups)
      for (const words of [title, ...fields.map(({ label }) => label)]) expect(text).toContain(words);
    for (const { title } of signatories) expect(text).toContain(title);
    for (const { label } of signatureFields) expect(text).toContain(label);
  });

  it('velocity and zero offset as they come out, with their uncertainties', () => {
    const { velocityMPerS, zeroOffsetUs } = input.evaluation.calibration?.calibration ?? {};
    expect(text).toContain(
      `${velocityMPerS?.value.toFixed(1)} ± ${velocityMPerS?.standardUncertainty?.toFixed(1)} m/s`,
    );
    expect(text).toContain(`${zeroOffsetUs?.value.toFixed(3)} ± ${zeroOffsetUs?.standardUncertainty?.toFixed(3)} µs`);
  });

  it('every verdict with its rule, its limit and its arithmetic', () => {
    const verdicts = (input.evaluation.drift?.checks ?? []).flatMap((check) =>
      check.reflectors.flatMap((reflector) => reflector.verdicts),
    );
    expect(verdicts).toHaveLength(36);
    expect([...page.matchAll(/id="verdict-\d+"/g)]).toHaveLength(36);
    const { rule } = input.evaluation.drift ?? {};
    for (const words of [rule?.title, rule?.edition, rule?.clause, rule?.source]) expect(text).toContain(words);
    expect(text).toContain('8 fail, 28 pass');
  });

  it('every reading, and the sentence of each flag that stands in the table', () => {
    expect(text).toContain('Readings in plate-weld/first-leg.csv, by trace');
    for (const { captureId } of input.evaluation.readings?.readings ?? [])
      expect(text).toContain(captureId.split('#')[1]);
    expect(text).toContain('Nothing in the gate reaches its threshold.');
  });

  it('plots as SVG with a title and a description, axes with units', () => {
    const plots = [...page.matchAll(/<svg[^>]*role="img"[^>]*aria-label="[^"]+"[^>]*>\s*<title>[^<]+<\/title>/g)];
    expect(plots.length).toBeGreaterThanOrEqual(3);
    expect(plots).toHaveLength([...page.matchAll(/<svg/g)].length);
    for (const axis of ['known distance (mm)', 'residual (mm)', 'distance error (mm)', 'amplitude change (dB)'])
      expect(text).toContain(axis);
  });

  it('bears no date but those that the captures and the record state', () => {
    const stated = new Set(input.evaluation.captures.map(({ takenAt }) => takenAt?.slice(0, 10)));
    const dates = [...text.matchAll(/\b20\d\d-\d\d-\d\d/g)].map(([date]) => date);
    expect(dates.filter((date) => !stated.has(date))).toEqual([]);
    expect(text).toContain('bears no date of its own');
  });
});

describe('what a person wrote into the record', () => {
  const filled = read(
    reportPage(
      sampleReport((review) => ({
        ...review,
        record: [
          { field: 'procedure', value: 'UT-7, revision 3' },
          { field: 'remarks', value: 'first line\nsecond line' },
          { field: 'examiner-name', value: 'A. Example' },
          { field: 'yard number', value: '12' },
        ],
      })),
    ),
  );

  it.each(['UT-7, revision 3', 'first line second line', 'A. Example', 'yard number 12'])('%s', (words) => {
    expect(filled).toContain(words);
  });
});

describe('text from files is shown, never obeyed', () => {
  const hostile = '</title></style><script>alert(1)</script><img src=x onerror=alert(2)>" \u202E\u0007';
  const facts = {
    trace: null,
    gainDb: null,
    positionMm: null,
    acrossMm: null,
    takenAt: null,
    probe: hostile,
    instrument: hostile,
    block: hostile,
    temperatureC: null,
  };
  const attacked = reportPage({
    ...sampleReport((review) => ({
      ...review,
      title: hostile,
      notes: hostile,
      sources: review.sources.map((source) => ({ ...source, facts: [facts] })),
      record: [
        { field: 'weld', value: hostile },
        { field: hostile.slice(0, 190), value: hostile },
      ],
    })),
    reviewFile: { name: hostile, sha256: null },
    warnings: [{ code: 'x', place: { file: hostile, line: 1, column: 2 }, sentence: hostile }],
    problems: [{ code: 'x', place: { file: hostile, line: null, column: null }, sentence: hostile }],
  });

  it('no tag of theirs comes into being', () => {
    expect(attacked).not.toMatch(/<script|<img/i);
    expect([...attacked.matchAll(/<\/title>/g)]).toHaveLength([...attacked.matchAll(/<title>/g)].length);
    expect([...attacked.matchAll(/<\/style>/g)]).toHaveLength(1);
  });

  it('it stands there as text, and what cannot be seen is named', () => {
    expect(read(attacked)).toContain('<script>alert(1)</script>');
    expect(attacked).toContain('⟨U+202E⟩⟨U+0007⟩');
    expect(attacked).not.toContain('\u202E');
  });
});

describe('a review of nothing', () => {
  it('is a page all the same: fields to be filled in, and that no rule was chosen', () => {
    const { program } = input;
    const empty = read(
      reportPage({
        ...sampleReport(() => emptyReview),
        reviewFile: { name: 'review.json', sha256: null },
        sources: [],
        program,
        style: metricStyle,
      }),
    );
    expect(empty).toContain('Untitled review');
    expect(empty).toContain('no rule was chosen');
    expect(empty).not.toContain('Distance calibration');
  });
});
