import { type Flag, flagTexts } from '../../core/flag.ts';
import { type Problem, problemLine } from '../../core/outcome.ts';
import { jsonPieces } from './json-pieces.ts';
import { Refusal } from './refusal.ts';
import { put, putPieces } from './standard-output.ts';
import { printable, printableLines } from './table.ts';

/** What a command has to say: the document for programs, the words for a person, and whether all of it can be trusted. */
export interface Answer {
  readonly document: object;
  /** Made only where a person asked. */
  readonly words: () => string;
  readonly trusted: boolean;
  /** Inputs that could not be used although others could. */
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/** What stands of an answer that was given: the exit status, and what could not be used. */
export interface Given {
  readonly status: number;
  readonly problems: readonly Problem[];
}

/** Prints an answer and gives the exit status: 0 done and trusted, 1 done with a doubt or with inputs left out. */
export async function give(answer: Answer, json: boolean): Promise<Given> {
  const { problems, warnings } = answer;
  if (json) {
    const document = { ...answer.document, ...(problems.length > 0 && { problems: problems.map(problemLine) }) };
    await putPieces(jsonPieces(document));
    await put('\n');
  } else {
    const grouped = new Grouped();
    grouped.add(warnings);
    await put(`${printableLines(answer.words())}\n${grouped.words()}`);
  }
  report(problems);
  return { status: answer.trusted && problems.length === 0 ? 0 : 1, problems };
}

/** One line for each problem on standard error. */
export function report(problems: readonly Problem[]): void {
  for (const one of problems) process.stderr.write(`${printable(problemLine(one))}\n`);
}

/** Nothing usable is left: exit status 2. */
export function refuseUnless(usable: boolean, problems: readonly Problem[]): void {
  if (!usable) throw new Refusal(problems);
}

export const warningLines = (warnings: readonly Problem[]): string[] => warnings.map(problemLine);

/** The same sentence about many files is said once, with their number. */
export class Grouped {
  private readonly found = new Map<string, { readonly first: string; count: number }>();

  add(warnings: readonly Problem[]): void {
    for (const { sentence, place } of warnings) {
      const known = this.found.get(sentence);
      if (known === undefined) this.found.set(sentence, { first: place.file, count: 1 });
      else known.count++;
    }
  }

  /** A paragraph; empty where there is nothing to say. */
  words(): string {
    if (this.found.size === 0) return '';
    const lines = [...this.found].map(
      ([sentence, { first, count }]) =>
        `  ${printable(first)}${count > 1 ? ` and ${count - 1} more` : ''}: ${printable(sentence)}`,
    );
    return `\nTaken as read, since the files do not say otherwise:\n${lines.join('\n')}\n`;
  }
}

/** A paragraph with the sentence of each flag that stands in a table. */
export function flagLegend(flags: Iterable<Flag>): string {
  const present = new Set(flags);
  const known = Object.keys(flagTexts) as Flag[];
  const lines = known
    .filter((flag) => present.has(flag))
    .map((flag) => `  ${flag}: ${flagTexts[flag].sentence} ${flagTexts[flag].advice}`);
  return lines.length === 0 ? '' : `\n\nFlags\n${lines.join('\n')}`;
}

/** Doubts that do not make a result untrustworthy by themselves. */
const remarksOnly: ReadonlySet<Flag> = new Set(['exact-fit', 'geometry-expected', 'several-peaks', 'unreferenced']);

export function trustworthy(flags: Iterable<Flag>): boolean {
  return [...flags].every((flag) => remarksOnly.has(flag));
}

export const caution =
  'These figures support and never replace an evaluation by qualified personnel to the written procedure; the code in force and the responsible Level III decide.';
