import type { Chance } from '../chance.ts';
import { changed } from '../change.ts';
import { edgeNumbers, edgeWords } from '../edges.ts';
import { slowJson } from './slow-json.ts';

const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);
const bytes = (words: string) => new TextEncoder().encode(words);

/** JSON with parts of it put in another's place, left out, doubled, or of another kind; else its bytes changed like those of any file. */
export function changedJson(given: Uint8Array, other: Uint8Array, chance: Chance): Uint8Array {
  if (chance.oneIn(4)) return changed(given, other, chance);
  const { value, isJson, deepest } = slowJson(text(given));
  if (!isJson || deepest > 200) return changed(given, other, chance);
  let result = value;
  for (let times = 1 + chance.small(6); times > 0; times--) result = withChange(result, chance);
  const written = JSON.stringify(result, null, chance.oneIn(3) ? 2 : 0) ?? 'null';
  return bytes(onText(written, chance));
}

/** One node somewhere in the value changed: the way down is chosen by chance. */
function withChange(value: unknown, chance: Chance): unknown {
  const isOpen = typeof value === 'object' && value !== null && Object.keys(value).length > 0;
  if (!isOpen || chance.oneIn(6)) return oddValue(value, chance);
  if (Array.isArray(value)) {
    const at = chance.below(value.length);
    if (chance.oneIn(6)) return [...value, ...value.slice(at)];
    if (chance.oneIn(6)) return value.toSpliced(at, 1);
    return value.with(at, withChange(value[at], chance));
  }
  const keys = Object.keys(value as object);
  const key = chance.pick(keys);
  const entries = Object.entries(value as object);
  if (chance.oneIn(8)) return Object.fromEntries(entries.filter(([name]) => name !== key));
  if (chance.oneIn(8)) return Object.fromEntries([...entries, [chance.pick(edgeWords), 1]]);
  return Object.fromEntries(
    entries.map(([name, inside]) => [name, name === key ? withChange(inside, chance) : inside]),
  );
}

function oddValue(value: unknown, chance: Chance): unknown {
  const number = Number(chance.pick(edgeNumbers));
  return chance.pick<() => unknown>([
    () => null,
    () => true,
    () => (Number.isNaN(number) ? -1 : number),
    () => chance.pick([0, -0, 1, -1, 0.5, 1e308, 5e-324, 1e-320, 2 ** 53, 3, 2, 100.000_000_000_000_01]),
    () => JSON.stringify(value) ?? '',
    () => chance.pick(edgeWords),
    () => chance.pick(edgeNumbers),
    () => [],
    () => ({}),
    () => [value, value],
    () => ({ value }),
    () => (typeof value === 'number' ? value * chance.pick([-1, 0, 1e6, 1e-6, 1.5]) : value),
    () => (typeof value === 'string' ? `${value}${chance.pick(edgeWords)}` : value),
    () => Array.from({ length: chance.pick([2, 30, 300]) }, () => value),
  ])();
}

/** What only the text can have: a name twice, numbers that no double holds, depth, other spellings of the same. */
function onText(written: string, chance: Chance): string {
  const somewhere = (what: RegExp): number => {
    const places = [...written.matchAll(what)].map(({ index }) => index);
    return places.length === 0 ? -1 : chance.pick(places);
  };
  const act = chance.below(12);
  const brace = somewhere(/\{/g);
  if (act === 0 && brace >= 0) {
    const name = /"[^"]*"/.exec(written.slice(brace))?.[0] ?? '"a"';
    return `${written.slice(0, brace + 1)}${chance.oneIn(2) ? name : name.replace(/^"(.)/, (_, first) => `"\\u${first.charCodeAt(0).toString(16).padStart(4, '0')}`)}:1,${written.slice(brace + 1)}`;
  }
  if (act === 1 && brace >= 0) {
    const name = chance.pick(['__proto__', 'constructor', 'toString', '\\u005f_proto__', 'prototype']);
    return `${written.slice(0, brace + 1)}"${name}":{"a":1},${written.slice(brace + 1)}`;
  }
  if (act === 2) {
    const at = somewhere(/(?<=[:[,]\s?)-?\d/g);
    const number = chance.pick([
      '1e400',
      '-1e400',
      '01',
      '1.',
      '.5',
      '+1',
      '1e',
      '-',
      'NaN',
      'Infinity',
      '0x1',
      '1e-400',
      '9007199254740993',
      '1'.repeat(400),
      '-0',
    ]);
    return at < 0 ? written : written.slice(0, at) + number + written.slice(at).replace(/^[-\d.eE+]+/, '');
  }
  if (act === 3) {
    const depth = chance.pick([50, 99, 100, 101, 5000]);
    return chance.oneIn(2)
      ? `${'['.repeat(depth)}${written}${']'.repeat(depth)}`
      : `${'{"a":'.repeat(depth)}${written}${'}'.repeat(depth)}`;
  }
  if (act === 4) return `\ufeff${written}`;
  if (act === 5) return `${written}${chance.pick([',', '{}', '//', '\u0000', ' ', '\n\n'])}`;
  return written;
}
