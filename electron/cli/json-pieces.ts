import { printableJson } from './table.ts';

/**
 * A document as JSON in pieces: its lists element by element, so that not even the longest is one string. A list may be anything that can be gone through,
 * whose elements then need not all be there at once. The same text as `printableJson` gives of the whole.
 */
export function* jsonPieces(document: object): Generator<string> {
  yield '{';
  yield* membersOf(document, '');
  yield '}';
}

/** The members of a document without its braces, each after `comma` or, behind another, after a comma. */
export function* membersOf(document: object, comma: '' | ','): Generator<string> {
  let before: string = comma;
  for (const [key, value] of Object.entries(document)) {
    if (value === undefined) continue;
    yield `${before}${printableJson(key)}:`;
    if (isList(value)) yield* listPieces(value);
    else yield printableJson(value);
    before = ',';
  }
}

function* listPieces(list: Iterable<unknown>): Generator<string> {
  yield '[';
  let before = '';
  for (const element of list) {
    yield `${before}${printableJson(element)}`;
    before = ',';
  }
  yield ']';
}

function isList(value: unknown): value is Iterable<unknown> {
  return typeof value === 'object' && value !== null && Symbol.iterator in value;
}
