import {
  findNodeAtLocation,
  type JSONPath,
  type Node,
  type ParseError,
  parseTree,
  printParseErrorCode,
} from 'jsonc-parser';
import { failure, type Outcome, type Place, problem, success } from './outcome.ts';

/** A JSON text as a value, and where in the text each of its parts stands. */
export interface LocatedJson {
  readonly value: unknown;
  /** Place of the value at this path; of the nearest enclosing value where the path itself is not there. */
  place(path: JSONPath): Place;
}

/**
 * Reads JSON as RFC 8259 has it: no comments, no comma after the last item, no name twice in one object.
 * Problems: `not-json` with line and column of the first fault, `name-twice` at each repeated name.
 */
export function readJson(file: string, text: string): Outcome<LocatedJson> {
  const body = text.replace(/^\uFEFF/, '');
  const errors: ParseError[] = [];
  const root = parseTree(body, errors, { disallowComments: true, allowTrailingComma: false });
  const fault = errors[0];
  if (fault !== undefined || root === undefined) {
    const what = body.trim() === '' || fault === undefined ? 'the file is empty' : faultInWords(fault);
    return failure(
      problem('not-json', placeAt(file, body, fault?.offset ?? 0), `this is not JSON: ${what}; mend it here`),
    );
  }
  const repeated = namesTwice(root);
  if (repeated.length > 0) {
    return failure(
      ...repeated.map((name) =>
        problem(
          'name-twice',
          placeAt(file, body, name.offset),
          `"${name.value}" stands twice in one object; keep one of them`,
        ),
      ),
    );
  }
  return success({
    value: JSON.parse(body),
    place(path) {
      for (let length = path.length; length > 0; length--) {
        const node = findNodeAtLocation(root, path.slice(0, length));
        if (node !== undefined) return placeAt(file, body, node.offset);
      }
      return placeAt(file, body, root.offset);
    },
  });
}

function faultInWords(fault: ParseError): string {
  const words = printParseErrorCode(fault.error)
    .replace(/([a-z])([A-Z])/g, '$1 $2')
    .toLowerCase();
  return words.endsWith('expected') || words.startsWith('invalid') || words.startsWith('unexpected')
    ? words
    : `fault near here (${words})`;
}

function namesTwice(node: Node): Node[] {
  const inside = (node.children ?? []).flatMap(namesTwice);
  if (node.type !== 'object') return inside;
  const seen = new Set<unknown>();
  const here = (node.children ?? []).flatMap((property) => {
    const name = property.children?.[0];
    if (name === undefined) return [];
    if (seen.has(name.value)) return [name];
    seen.add(name.value);
    return [];
  });
  return [...here, ...inside];
}

function placeAt(file: string, text: string, offset: number): Place {
  const before = text.slice(0, offset).split(/\r\n|\r|\n/);
  return { file, line: before.length, column: before[before.length - 1].length + 1 };
}
