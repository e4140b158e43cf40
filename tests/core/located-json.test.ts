import { describe, expect, it } from 'vitest';
import { readJson } from '../../core/located-json.ts';
import { problemLine } from '../../core/outcome.ts';

describe('readJson: what is not JSON, with its place', () => {
  it.each<[string, string, string]>([
    ['nothing', '', 'a.json:1:1: this is not JSON: the file is empty; mend it here'],
    ['white space', ' \n ', 'a.json:2:2: this is not JSON: the file is empty; mend it here'],
    ['words', 'no', 'a.json:1:1: this is not JSON: invalid symbol; mend it here'],
    ['two values', '{}\n{}', 'a.json:2:1: this is not JSON: end of file expected; mend it here'],
    ['an object that does not end', '{"a": 1', 'a.json:1:8: this is not JSON: close brace expected; mend it here'],
    ['a number that no JSON has', '{"a": NaN}', 'a.json:1:7: this is not JSON: invalid symbol; mend it here'],
    [
      'lines that end in CR alone',
      '{\r"a": 1,\r}',
      'a.json:3:1: this is not JSON: property name expected; mend it here',
    ],
    [
      'a name twice, deep inside',
      '{"a": [{"b": 1,\r\n "b": 2}]}',
      'a.json:2:2: "b" stands twice in one object; keep one of them',
    ],
  ])('%s', (_, text, line) => {
    const outcome = readJson('a.json', text);
    expect(outcome.ok ? [] : outcome.problems.map(problemLine)).toEqual([line]);
  });
});

describe('readJson', () => {
  it('gives the value and the place of each of its parts; of what is not there the nearest that encloses it', () => {
    const outcome = readJson('a.json', '\uFEFF{\n  "list": [10, {"deep": true}]\n}');
    if (!outcome.ok) throw new Error('this is JSON');
    const { value, place } = outcome.value;
    expect(value).toEqual({ list: [10, { deep: true }] });
    const at = (...path: (string | number)[]) => [place(path).line, place(path).column];
    expect([at(), at('list'), at('list', 0), at('list', 1, 'deep'), at('list', 1, 'none'), at('none')]).toEqual([
      [1, 1],
      [2, 11],
      [2, 12],
      [2, 25],
      [2, 16],
      [1, 1],
    ]);
  });
});
