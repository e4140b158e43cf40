import { describe, expect, it } from 'vitest';
import { levelsInDb, publishedLevels, readLevels } from '../../../core/sensitivity/evaluation-levels.ts';

describe('published levels', () => {
  it.each<[string, (readonly [string, number])[], string]>([
    ['iso-11666-level-2', [['evaluation level', -14]], 'ISO 17640/11666, technique 1, from memory'],
    ['iso-11666-level-3', [['evaluation level', -10]], 'ISO 17640/11666, technique 1, from memory'],
    ['asme-v-t-482', [['20 % of reference', -13.9794]], 'ASME V, T-482, from memory: 20 % is −13.98 dB'],
    [
      'minus-6-minus-14',
      [
        ['half of the curve', -6],
        ['a fifth of the curve', -14],
      ],
      'common practice',
    ],
  ])('%s', (name, levels) => {
    const set = publishedLevels.find((published) => published.name === name)!;
    const inDb = levelsInDb(set);
    expect(inDb.map((level) => level.name)).toEqual(levels.map(([of]) => of));
    levels.forEach(([, db], i) => {
      expect(inDb[i].db).toBeCloseTo(db, 4);
    });
    expect(set.source).toMatch(/memory|Common practice/);
  });

  it('there is no other', () => {
    expect(publishedLevels).toHaveLength(4);
  });
});

const whole = {
  name: 'yard-levels',
  title: 'Levels of the yard',
  edition: '2026',
  clause: '4',
  source: 'Own procedure',
  levels: [
    { name: 'record', db: -14 },
    { name: 'report', percentOfCurve: 50 },
  ],
};
const text = (changed: object) => JSON.stringify({ ...whole, ...changed }, null, 2);

describe('a person’s own levels', () => {
  it('are read as they stand, the highest first', () => {
    const read = readLevels('own.json', text({}));
    expect(read.ok && levelsInDb(read.value).map(({ name }) => name)).toEqual(['report', 'record']);
  });

  it.each<[string, string, string, RegExp]>([
    ['nothing', '', 'not-json', /^1:1 .*empty/],
    ['no JSON', '{ "name": }', 'not-json', /^1:11 /],
    ['a list', '[]', 'levels-form', /^1:1 .*one object/],
    ['no levels at all', text({ levels: [] }), 'levels-form', /^7:13 .*at least one/],
    ['a level with neither dB nor per cent', text({ levels: [{ name: 'x' }] }), 'levels-form', /level 1 must be/],
    [
      'a level with both',
      text({ levels: [{ name: 'x', db: 1, percentOfCurve: 2 }] }),
      'levels-form',
      /level 1 must be/,
    ],
    ['a level of 0 %', text({ levels: [{ name: 'x', percentOfCurve: 0 }] }), 'levels-form', /above 0 and at most 1000/],
    ['a level that is no number', text({ levels: [{ name: 'x', db: 'six' }] }), 'levels-form', /level 1 must be/],
    ['a part it does not know', text({ colour: 'red' }), 'levels-form', /"colour" is not a part/],
    ['a part that is missing', text({ source: undefined }), 'levels-form', /"source" is missing/],
    ['a name with a space', text({ name: 'Yard levels' }), 'levels-form', /^2:11 .*lower-case/],
    [
      'one name twice',
      text({
        levels: [
          { name: 'x', db: 1 },
          { name: 'x ', db: 2 },
        ],
      }),
      'level-twice',
      /^\d+:\d+ .*"x" stands twice/,
    ],
    ['a key twice', '{"name": "a", "name": "b"}', 'name-twice', /twice/],
  ])('are refused at their place: %s', (_, given, code, words) => {
    const read = readLevels('own.json', given);
    const first = read.ok ? null : read.problems[0];
    expect(first?.code).toBe(code);
    expect(`${first?.place.line}:${first?.place.column} ${first?.sentence}`).toMatch(words);
  });
});
