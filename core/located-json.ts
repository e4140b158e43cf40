import {
  createScanner,
  findNodeAtLocation,
  type JSONPath,
  type Node,
  type ParseErrorCode,
  parseTree,
  printParseErrorCode,
  visit,
} from 'jsonc-parser';
import { failure, mostProblems, type Outcome, type Place, problem, success } from './outcome.ts';

/** A JSON text as a value, and where in the text each of its parts stands. */
export interface LocatedJson {
  readonly value: unknown;
  /** How many names, values and brackets the text has: what it costs to look at all that is wrong with it. */
  readonly tokens: number;
  /** Place of the value at this path; of the nearest enclosing value where the path itself is not there. */
  place(path: JSONPath): Place;
}

/** No document of ours goes deeper than a tenth of this. */
export const deepestJson = 100;

/**
 * Reads JSON as RFC 8259 has it: no comments, no comma after the last item, no name twice in one object; nor a name that every object has
 * by itself (`constructor`, `__proto__`, `prototype`), since no document has such parts and they would be taken for none.
 * Problems: `not-json` with line and column of the first fault, `json-too-deep`, `name-twice` and `name-unknown` at each such name, up to twenty.
 */
export function readJson(file: string, text: string): Outcome<LocatedJson> {
  const body = text.replace(/^\uFEFF/, '');
  const place = placesIn(file, body);
  const { tokens, tooDeepAt, names } = scan(body);
  if (tooDeepAt !== null) {
    const sentence = `lists and objects stand in each other more than ${deepestJson} deep here: no document of this program does`;
    return failure(problem('json-too-deep', place(tooDeepAt), sentence));
  }
  let value: unknown;
  try {
    value = JSON.parse(body);
  } catch {
    const { offset, words } = firstFault(body);
    return failure(problem('not-json', place(offset), `this is not JSON: ${words}; mend it here`));
  }
  if (names.length > 0) {
    return failure(
      ...names.map(({ name, offset, isTwice }) =>
        isTwice
          ? problem('name-twice', place(offset), `"${name}" stands twice in one object; keep one of them`)
          : problem('name-unknown', place(offset), `"${name}" is the name of no part of a document; take it out`),
      ),
    );
  }
  let tree: Node | undefined;
  return success({
    value,
    tokens,
    place(path) {
      tree ??= parseTree(body, [], { disallowComments: true, allowTrailingComma: false });
      if (tree === undefined) return place(0);
      for (let length = path.length; length > 0; length--) {
        const node = findNodeAtLocation(tree, path.slice(0, length));
        if (node !== undefined) return place(node.offset);
      }
      return place(tree.offset);
    },
  });
}

/** Names that objects of the language have of their own, or that its libraries pass over for their sake. */
function isOfLanguage(name: string): boolean {
  return name in Object.prototype || name === 'prototype';
}

interface OddName {
  readonly name: string;
  readonly offset: number;
  readonly isTwice: boolean;
}

/** Kinds of tokens, as the scanner numbers them. */
const token = {
  openBrace: 1,
  closeBrace: 2,
  openBracket: 3,
  closeBracket: 4,
  colon: 6,
  text: 10,
  unknown: 16,
  end: 17,
} as const;

/** Token by token, without a call in a call: how deep it goes, and which names are odd. */
function scan(body: string): { tokens: number; tooDeepAt: number | null; names: readonly OddName[] } {
  const scanner = createScanner(body, true);
  /** The names so far of each object that is open; `null` for a list. */
  const open: (Set<string> | null)[] = [];
  const names: OddName[] = [];
  let text: { name: string; offset: number } | null = null;
  for (let tokens = 0; ; tokens++) {
    const kind: number = scanner.scan();
    const innermost = open[open.length - 1];
    if (kind === token.unknown || kind === token.end) return { tokens, tooDeepAt: null, names };
    if (kind === token.openBrace || kind === token.openBracket) {
      if (open.length === deepestJson) return { tokens, tooDeepAt: scanner.getTokenOffset(), names };
      open.push(kind === token.openBrace ? new Set() : null);
    } else if (kind === token.closeBrace || kind === token.closeBracket) {
      open.pop();
    } else if (kind === token.colon && text !== null && innermost != null) {
      const isTwice = innermost.has(text.name);
      if ((isTwice || isOfLanguage(text.name)) && names.length < mostProblems) names.push({ ...text, isTwice });
      innermost.add(text.name);
    }
    text = kind === token.text ? { name: scanner.getTokenValue(), offset: scanner.getTokenOffset() } : null;
  }
}

function firstFault(body: string): { readonly offset: number; readonly words: string } {
  const faults: { error: ParseErrorCode; offset: number }[] = [];
  visit(
    body,
    { onError: (error, offset) => faults.length > 0 || faults.push({ error, offset }) },
    { disallowComments: true, allowTrailingComma: false },
  );
  const fault = faults[0];
  if (body.trim() === '') return { offset: body.length, words: 'the file is empty' };
  return fault === undefined
    ? { offset: 0, words: 'a text or a number in it is not written as JSON has it' }
    : { offset: fault.offset, words: faultInWords(fault.error) };
}

function faultInWords(error: ParseErrorCode): string {
  const words = printParseErrorCode(error)
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase();
  return words.endsWith('expected') || words.startsWith('invalid') || words.startsWith('unexpected')
    ? words
    : `fault near here (${words})`;
}

/** Line and column of a position; the lines are counted once, when the first is asked for. */
function placesIn(file: string, text: string): (offset: number) => Place {
  let starts: number[] | null = null;
  return (offset) => {
    starts ??= [0, ...Array.from(text.matchAll(/\r\n|\r|\n/g), ({ index, 0: end }) => index + end.length)];
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle] <= offset) low = middle;
      else high = middle - 1;
    }
    return { file, line: low + 1, column: offset - starts[low] + 1 };
  };
}
