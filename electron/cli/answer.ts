import { type Flag, flagTexts } from '../../core/flag.ts';
import { type Problem, problemLine } from '../../core/outcome.ts';
import { Refusal } from './refusal.ts';
import { printable, printableJson, printableLines } from './table.ts';

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

/** Prints an answer and gives the exit status: 0 done and trusted, 1 done with a doubt or with inputs left out. */
export function give(answer: Answer, json: boolean): number {
  const { problems, warnings } = answer;
  if (json) {
    const document = { ...answer.document, ...(problems.length > 0 && { problems: problems.map(problemLine) }) };
    process.stdout.write(`${printableJson(document)}\n`);
  } else {
    process.stdout.write(`${printableLines(answer.words())}\n`);
    if (warnings.length > 0)
      process.stdout.write(`\nTaken as read, since the files do not say otherwise:\n${grouped(warnings)}\n`);
  }
  report(problems);
  return answer.trusted && problems.length === 0 ? 0 : 1;
}

/** One line for each problem on standard error. */
export function report(problems: readonly Problem[]): void {
  if (problems.length > 0) process.stderr.write(`${problems.map((p) => printable(problemLine(p))).join('\n')}\n`);
}

/** Nothing usable is left: exit status 2. */
export function refuseUnless(usable: boolean, problems: readonly Problem[]): void {
  if (!usable) throw new Refusal(problems);
}

export const warningLines = (warnings: readonly Problem[]): string[] => warnings.map(problemLine);

/** The same sentence about many files is said once, with their number. */
function grouped(warnings: readonly Problem[]): string {
  const files = new Map<string, string[]>();
  for (const { sentence, place } of warnings) files.set(sentence, [...(files.get(sentence) ?? []), place.file]);
  return [...files]
    .map(
      ([sentence, names]) =>
        `  ${printable(names[0])}${names.length > 1 ? ` and ${names.length - 1} more` : ''}: ${printable(sentence)}`,
    )
    .join('\n');
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
