import { describe, expect, it } from 'vitest';
import {
  amplitudeLimits,
  type DriftRule,
  distanceLimits,
  needsRange,
  publishedRules,
  readRule,
} from '../../../core/check/rule.ts';
import { problemLine } from '../../../core/outcome.ts';

function published(name: string): DriftRule {
  const rule = publishedRules.find((candidate) => candidate.name === name);
  if (rule === undefined) throw new Error(`no rule ${name}`);
  return rule;
}

const asme = published('asme-v-t-466');
const iso = published('iso-17640');

const own = {
  name: 'yard-rule-2026',
  title: 'Yard rule',
  edition: '2026',
  clause: '3.2',
  source: 'our own procedure',
  distance: { limits: [{ of: 'reading', percent: 1 }], whenWithin: null, whenExceeded: 'Calibrate again.' },
  amplitude: null,
};

function linesOf(text: string): string[] {
  const outcome = readRule('own.json', text);
  return outcome.ok ? [] : outcome.problems.map(problemLine);
}

describe('readRule: what cannot be used, with its place and its sentence', () => {
  const pretty = JSON.stringify(own, null, 2);
  it.each<[string, string, string]>([
    ['an empty file', '', 'own.json:1:1: this is not JSON: the file is empty; mend it here'],
    ['half a file', pretty.slice(0, 40), 'own.json:3:11: this is not JSON: value expected'],
    [
      'a comma too many',
      '{\n  "name": "a",\n}',
      'own.json:3:1: this is not JSON: property name expected; mend it here',
    ],
    ['a comment', '// ours\n{}', 'own.json:1:1: this is not JSON'],
    ['a list', '[]', 'own.json:1:1: a rule is one object'],
    [
      'an unknown part',
      pretty.replace('"clause"', '"klause"'),
      'own.json:5:13: "klause" is not a part of a rule; take it out or correct its name',
    ],
    [
      'a part missing',
      pretty.replace('"clause": "3.2",', ''),
      'own.json:1:1: "clause" is missing; give a sentence of at most 2000 characters',
    ],
    [
      'a part twice',
      pretty.replace('"clause"', '"title"'),
      'own.json:5:3: "title" stands twice in one object; keep one of them',
    ],
    [
      'a percentage of nothing',
      pretty.replace('"percent": 1', '"percent": 0'),
      'own.json:11:20: "percent" must be a number above 0 and below 100',
    ],
    [
      'a limit of something else',
      pretty.replace('"reading"', '"depth"'),
      'own.json:10:15: "of" must be "reading" or "range"',
    ],
    [
      'a name with spaces',
      pretty.replace('yard-rule-2026', 'yard rule'),
      'own.json:2:11: "name" must be lower-case letters',
    ],
    [
      'no limit at all',
      JSON.stringify({ ...own, distance: null }),
      'own.json:1:1: the rule limits neither distance nor amplitude',
    ],
    [
      'an empty list of limits',
      JSON.stringify({ ...own, distance: { ...own.distance, limits: [] } }),
      'own.json:1:128: "limits" must be a list with at least one limit',
    ],
    [
      'an amplitude limit with two figures',
      JSON.stringify({
        ...own,
        amplitude: { limits: [{ db: 2, percent: 20 }], whenWithin: null, whenLower: 'a', whenHigher: 'b' },
      }),
      'limit 1 must be {"db": …} or {"percent": …}',
    ],
  ])('%s', (_, text, line) => {
    expect(
      linesOf(text).some((found) => found.includes(line)),
      linesOf(text).join('\n'),
    ).toBe(true);
  });

  it('names every fault at once', () => {
    expect(linesOf(JSON.stringify({ ...own, title: '', edition: 7 }))).toHaveLength(2);
  });
});

describe('readRule', () => {
  it.each([
    ['as it was written', JSON.stringify(own)],
    ['with a byte order mark', `\uFEFF${JSON.stringify(own)}`],
  ])('reads a rule of one’s own %s', (_, text) => {
    expect(readRule('own.json', text)).toEqual({ ok: true, value: own, warnings: [] });
  });

  it.each(publishedRules.map((rule) => [rule.name, rule] as const))('reads the published %s as data', (_, rule) => {
    expect(readRule(`${rule.name}.json`, JSON.stringify(rule))).toMatchObject({ ok: true, value: rule });
  });
});

describe('the published limits (ASME V Article 4 T-466 and ISO 17640, from memory)', () => {
  it.each<[string, DriftRule, number, number, number]>([
    ['reading 40, sweep 250: 5 % of the sweep is the greater', asme, 40, 250, 12.5],
    ['reading 200, sweep 250: 10 % of the reading is the greater', asme, 200, 250, 20],
    ['reading 125, sweep 250: both alike', asme, 125, 250, 12.5],
    ['2 % of range, whatever the reading', iso, 40, 100, 2],
    ['2 % of range, whatever the reading', iso, 100, 100, 2],
  ])('distance, %s', (_, rule, distanceMm, rangeMm, limitMm) => {
    expect(distanceLimits(rule.distance!, distanceMm, rangeMm)).toEqual({ lower: -limitMm, upper: limitMm });
  });

  it('amplitude, 20 % or 2 dB: the stricter on each side is −1.938 and +1.584 dB', () => {
    const { lower, upper } = amplitudeLimits(asme.amplitude!);
    expect(lower).toBeCloseTo(-1.938, 3);
    expect(upper).toBeCloseTo(1.584, 3);
  });

  it('amplitude, 4 dB either way', () => {
    expect(amplitudeLimits(iso.amplitude!)).toEqual({ lower: -4, upper: 4 });
  });

  it('both need the range; a rule of the reading alone does not', () => {
    expect([asme, iso].map(needsRange)).toEqual([true, true]);
    expect(needsRange(own as DriftRule)).toBe(false);
  });

  it('say that their figures are from memory', () => {
    for (const rule of publishedRules) expect(rule.source).toContain('from memory');
  });
});
