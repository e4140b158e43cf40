import type { Evaluation } from '../../core/evaluate.ts';
import type { CallName, Calls, ImportedSource, KnownSource, TraceFacts } from './messages.ts';

/** A part of one of an answer's lists. */
export interface Piece {
  readonly list: string;
  readonly items: readonly unknown[];
}

/** So many items are taken in by the page in a few milliseconds. */
const itemsInPiece = 250;

/**
 * Takes the long lists out of an answer, to be sent ahead of it in pieces: a message is unpacked in one go where it arrives, and thousands of readings at once
 * would be felt. `joined` puts them back.
 */
export function piecesOf(
  call: CallName,
  answer: unknown,
): { readonly pieces: readonly Piece[]; readonly rest: unknown } {
  const joint = joints[call];
  if (joint === undefined) return { pieces: [], rest: answer };
  const { lists, rest } = joint.apart(answer);
  const pieces = Object.entries(lists).flatMap(([list, items]) => {
    const count = Math.ceil(items.length / itemsInPiece);
    return Array.from({ length: count }, (_, i) => ({
      list,
      items: items.slice(i * itemsInPiece, (i + 1) * itemsInPiece),
    }));
  });
  return { pieces, rest };
}

export function joined(call: CallName, rest: unknown, pieces: readonly Piece[]): unknown {
  const joint = joints[call];
  if (joint === undefined) return rest;
  return joint.together(rest, (list) => pieces.filter((piece) => piece.list === list).flatMap(({ items }) => items));
}

interface Joint {
  apart(answer: unknown): { readonly lists: Readonly<Record<string, readonly unknown[]>>; readonly rest: unknown };
  together(rest: unknown, listOf: (list: string) => readonly unknown[]): unknown;
}

const joints: Readonly<Partial<Record<CallName, Joint>>> = {
  evaluate: {
    apart(answer) {
      const evaluation = answer as Evaluation;
      const { readings, captures, echoes } = evaluation;
      return {
        lists: { readings: readings?.readings ?? [], captures, echoes: echoes ?? [] },
        rest: {
          ...evaluation,
          captures: [],
          readings: readings && { ...readings, readings: [] },
          echoes: echoes && [],
        },
      };
    },
    together(rest, listOf) {
      const evaluation = rest as Evaluation;
      const { readings, echoes } = evaluation;
      return {
        ...evaluation,
        captures: listOf('captures'),
        readings: readings && { ...readings, readings: listOf('readings') },
        echoes: echoes && listOf('echoes'),
      };
    },
  },
  import: {
    apart: (answer) => ({ lists: { sources: answer as readonly ImportedSource[] }, rest: [] }),
    together: (_, listOf) => listOf('sources'),
  },
  sources: {
    apart(answer) {
      const known = answer as Calls['sources']['answer'];
      return {
        lists: {
          sources: known.sources.map((source) => ({ ...source, captures: [] })),
          captures: known.sources.flatMap(({ captures }) => captures),
        },
        rest: { ...known, sources: [] },
      };
    },
    together(rest, listOf) {
      const captures = new Map<string, TraceFacts[]>();
      for (const capture of listOf('captures') as readonly TraceFacts[]) {
        const others = captures.get(capture.file);
        if (others === undefined) captures.set(capture.file, [capture]);
        else others.push(capture);
      }
      const sources = (listOf('sources') as readonly KnownSource[]).map((source) => ({
        ...source,
        captures: captures.get(source.file) ?? [],
      }));
      return { ...(rest as Calls['sources']['answer']), sources };
    },
  },
};
