/**
 * JSON read slowly, after RFC 8259, character by character and without a call in a call: what is repeated, what goes too deep, whether it is JSON at all.
 * The values themselves come from the language's own reader.
 */
export interface SlowJson {
  /** `undefined` where it is none. */
  readonly value: unknown;
  readonly isJson: boolean;
  readonly deepest: number;
  /** Names that stand twice in one object, and those that every object has by itself. */
  readonly oddNames: readonly string[];
}

export function slowJson(text: string): SlowJson {
  const body = text.startsWith('\ufeff') ? text.slice(1) : text;
  let value: unknown;
  let isJson = true;
  try {
    value = JSON.parse(body);
  } catch {
    isJson = false;
  }
  return { value, isJson, ...namesOf(body) };
}

function namesOf(body: string): { deepest: number; oddNames: string[] } {
  const open: (string[] | null)[] = [];
  const oddNames: string[] = [];
  let deepest = 0;
  let last = '';
  for (let at = 0; at < body.length; at++) {
    const character = body[at];
    if (character === '"') {
      let end = at + 1;
      while (end < body.length && body[end] !== '"') end += body[end] === '\\' ? 2 : 1;
      last = body.slice(at, end + 1);
      at = end;
    } else if (character === '{' || character === '[') {
      open.push(character === '{' ? [] : null);
      deepest = Math.max(deepest, open.length);
    } else if (character === '}' || character === ']') {
      open.pop();
    } else if (character === ':') {
      const names = open[open.length - 1];
      const name = asText(last);
      if (names == null || name === null) continue;
      if (names.includes(name) || name in {} || name === 'prototype') oddNames.push(name);
      names.push(name);
    }
  }
  return { deepest, oddNames };
}

function asText(quoted: string): string | null {
  try {
    return JSON.parse(quoted);
  } catch {
    return null;
  }
}

/** Where two values of JSON differ, as a path; `null` where they are the same to the last digit. */
export function firstDifference(one: unknown, other: unknown, path = ''): string | null {
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null)
    return Object.is(one, other) ? null : `${path}: ${JSON.stringify(one)} against ${JSON.stringify(other)}`;
  if (Array.isArray(one) !== Array.isArray(other)) return `${path}: a list against an object`;
  const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
  for (const key of keys) {
    if (!Object.hasOwn(one, key)) return `${path}.${key} was made up`;
    if (!Object.hasOwn(other, key)) return `${path}.${key} was lost`;
    const found = firstDifference(
      (one as Record<string, unknown>)[key],
      (other as Record<string, unknown>)[key],
      `${path}.${key}`,
    );
    if (found !== null) return found;
  }
  return null;
}
