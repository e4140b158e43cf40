import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { toJsonSchema } from '@valibot/to-json-schema';
import { describe, expect, it } from 'vitest';
import {
  linearityRuleSchema,
  publishedLinearityRules,
  readLinearityRule,
  rulesFor,
} from '../../../core/linearity/rule.ts';
import { problemLine } from '../../../core/outcome.ts';

const folder = new URL('../../../core/linearity/rules/', import.meta.url);
const own = {
  check: 'time-base',
  name: 'yard-rule-2026',
  title: 'Yard rule',
  edition: '2026',
  clause: '3.2',
  source: 'our own procedure',
  line: { kind: 'least-squares' },
  deviationPercent: 0.5,
  fewestReflectors: 4,
};
const pretty = JSON.stringify(own, null, 2);
const linesOf = (text: string): string[] => {
  const outcome = readLinearityRule('own.json', text);
  return outcome.ok ? [] : outcome.problems.map(problemLine);
};

describe('readLinearityRule: what cannot be used, with its place and its sentence', () => {
  it.each<[string, string, string]>([
    ['an empty file', '', 'own.json:1:1: this is not JSON: the file is empty'],
    ['a list', '[]', 'own.json:1:1: a rule is one object'],
    ['null', 'null', 'own.json:1:1: a rule is one object'],
    [
      'another check',
      pretty.replace('"time-base"', '"bandwidth"'),
      'own.json:2:12: "check" must be "time-base", "screen-height" or "gain"',
    ],
    ['no check', pretty.replace('"check": "time-base",', ''), 'own.json:1:1: "check" is missing'],
    [
      'a form of another check',
      pretty.replace('"time-base",', '"gain", "form": "two-echo",'),
      '"form" must be "two-echo", "stepped-table"',
    ],
    [
      'another line',
      pretty.replace('"least-squares"', '"by-eye"'),
      '"kind" must be "end-points", "least-squares" or "anchors"',
    ],
    ['a limit in words', pretty.replace('0.5', '"small"'), 'own.json:11:23: "deviationPercent" must be a number'],
    ['a limit of nought', pretty.replace('0.5', '0'), '"deviationPercent" must be a number >0'],
    ['a part that is none', pretty.replace('"clause"', '"klause"'), '"klause" is not a part of a rule'],
    ['a part missing', pretty.replace('"clause": "3.2",', ''), '"clause" is missing; give a sentence'],
    ['half a reflector', pretty.replace('4\n', '4.5\n'), '"fewestReflectors" must be a whole number'],
  ])('%s', (_name, text, line) => {
    expect(linesOf(text).join('\n')).toContain(line);
  });

  it('a rule of one’s own is as the published ones', () => {
    const outcome = readLinearityRule('own.json', pretty);
    expect(outcome.ok && outcome.value).toEqual(own);
  });
});

describe('the published rules', () => {
  const files = readdirSync(folder).filter((name) => name.endsWith('.json') && name !== 'rule.schema.json');

  it('are all listed, each under the name of its file', () => {
    expect(publishedLinearityRules.map(({ name }) => `${name}.json`).sort()).toEqual([...files].sort());
  });

  it.each(files)('%s: can be read as a person’s own, and says where its figures come from', (name) => {
    const outcome = readLinearityRule(name, readFileSync(new URL(name, folder), 'utf8'));
    expect(outcome.ok).toBe(true);
    expect(outcome.ok && outcome.value.source).toMatch(/memory|[Rr]ead/);
  });

  it('there are some for each check', () => {
    expect(rulesFor('time-base').map(({ name }) => name)).toContain('aws-d1.1-time-base');
    expect(rulesFor('screen-height').map(({ name }) => name)).toContain('asme-v-appendix-i');
    expect(rulesFor('gain').map(({ name }) => name)).toContain('asme-v-appendix-ii');
  });

  it('limits of tables stand about their targets', () => {
    for (const rule of publishedLinearityRules) {
      if (!('form' in rule) || (rule.form !== 'stepped-table' && rule.form !== 'table')) continue;
      for (const { targetPercent, atLeastPercent, atMostPercent, setPercent, changeDb } of rule.steps) {
        expect(atLeastPercent ?? 0).toBeLessThan(targetPercent);
        expect(atMostPercent ?? 200).toBeGreaterThan(targetPercent);
        // The target is what an exact control would show, rounded.
        expect(Math.abs(setPercent * 10 ** (changeDb / 20) - targetPercent)).toBeLessThan(0.6);
      }
    }
  });
});

it('the published schema is that of the program (to write it anew: PUBLISH_SCHEMA=1 npx vitest run --config tests/vitest.config.ts tests/core/linearity)', () => {
  const path = new URL('rule.schema.json', folder);
  const current = `${JSON.stringify(toJsonSchema(linearityRuleSchema), null, 2)}\n`;
  if (process.env.PUBLISH_SCHEMA === '1') writeFileSync(path, current);
  expect(readFileSync(path, 'utf8')).toBe(current);
});
