import type { Flag } from '../../core/flag.ts';
import { type Problem, problemLine } from '../../core/outcome.ts';
import { flagLegend, type Given, Grouped, report } from './answer.ts';
import { Interrupted } from './interrupt.ts';
import { membersOf } from './json-pieces.ts';
import { Refusal } from './refusal.ts';
import { put, putPieces } from './standard-output.ts';
import { type Column, printableJson, printableLines, rowsOnPage, table } from './table.ts';

/** How an answer is written: one document, a line of JSON for each part, or tables for a person. */
export type Manner = 'json' | 'lines' | 'words';

/** What one input adds to an answer. */
export interface Addition {
  /** Elements of the document's list. */
  readonly elements: readonly object[];
  /** Made only where a person asked. */
  readonly rows: () => readonly (readonly string[])[];
  readonly flags: Iterable<Flag>;
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
  /** Whether anything came of it: as long as nothing did, nothing is written. */
  readonly isUsable: boolean;
}

/** An answer that is written as it comes, in the order of the inputs, and of which nothing is kept that has been written. */
export interface StreamedAnswer {
  /** The name of the document's list, and of one element of it. */
  readonly list: 'files' | 'captures' | 'readings' | 'checks';
  readonly element: 'file' | 'capture' | 'reading' | 'check';
  readonly columns: readonly Column[];
  /** The elements hold their warnings themselves: a document has no others. */
  readonly elementsWarn?: boolean;
  /** What a person reads where no row has come. */
  readonly noRows: string;
  /** Known before anything is read. */
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
  readonly additions: AsyncIterable<Addition>;
  /** What can be said when all has come. */
  readonly end: () => Ending;
}

export interface Ending {
  /** The rest of the document; each member is a line of its own with `--lines`. */
  readonly document: object;
  /** What a person reads below the table. */
  readonly words: string;
  readonly trusted: boolean;
  readonly warnings: readonly Problem[];
  readonly problems: readonly Problem[];
}

/** What has been kept is told in pieces: documents and rows of one piece at a time are made. */
export function* inPieces<T>(list: readonly T[]): Generator<readonly T[]> {
  const inPiece = 256;
  for (let first = 0; first < list.length; first += inPiece) yield list.slice(first, first + inPiece);
}

interface Writer {
  add(addition: Addition): Promise<void>;
  /** What has been given is written, although no more will come. */
  flush(): Promise<void>;
  end(ending: Ending, problems: readonly Problem[], flags: Iterable<Flag>): Promise<void>;
}

/** Writes an answer as it comes. Gives the exit status, and what could not be used. */
export async function giveStream(answer: StreamedAnswer, manner: Manner): Promise<Given> {
  const problems: Problem[] = [...answer.problems];
  const flags = new Set<Flag>();
  let writer: Writer | null = null;
  try {
    for await (const addition of answer.additions) {
      problems.push(...addition.problems);
      for (const flag of addition.flags) flags.add(flag);
      if (addition.isUsable) writer ??= writers[manner](answer);
      await writer?.add(addition);
    }
  } catch (error) {
    if (error instanceof Interrupted) {
      await writer?.flush();
      report(problems);
    }
    throw error;
  }
  if (writer === null) throw new Refusal(problems);
  const ending = answer.end();
  problems.push(...ending.problems);
  await writer.end(ending, problems, flags);
  report(problems);
  return { status: ending.trusted && problems.length === 0 ? 0 : 1, problems };
}

const writers: Readonly<Record<Manner, (answer: StreamedAnswer) => Writer>> = {
  json: jsonWriter,
  lines: linesWriter,
  words: wordsWriter,
};

/** One document. Its warnings stand behind its list, and are kept until then. */
function jsonWriter({ list, warnings: first, elementsWarn = false }: StreamedAnswer): Writer {
  const warnings = first.map(problemLine);
  let before = `{${printableJson(list)}:[`;
  return {
    async add({ elements, warnings: more }) {
      if (!elementsWarn) for (const warning of more) warnings.push(problemLine(warning));
      await putPieces(
        (function* () {
          for (const element of elements) {
            yield before + printableJson(element);
            before = ',';
          }
        })(),
      );
    },
    async flush() {},
    async end({ document, warnings: last }, problems) {
      const rest = {
        ...document,
        ...(!elementsWarn && { warnings: [...warnings, ...last.map(problemLine)] }),
        ...(problems.length > 0 && { problems: problems.map(problemLine) }),
      };
      await putPieces(
        (function* () {
          if (before !== ',') yield before;
          yield ']';
          yield* membersOf(rest, ',');
          yield '}\n';
        })(),
      );
    },
  };
}

/** A line of JSON for each part, under its name. The last one says that all is there. */
function linesWriter({ element, warnings: first, elementsWarn = false }: StreamedAnswer): Writer {
  const line = (name: string, value: unknown) => `${printableJson({ [name]: value })}\n`;
  const warningLines = (warnings: readonly Problem[]) =>
    elementsWarn ? [] : warnings.map((warning) => line('warning', problemLine(warning)));
  let waiting = warningLines(first);
  let count = 0;
  return {
    async add({ elements, warnings }) {
      count += elements.length;
      const begun = waiting;
      waiting = [];
      await putPieces([...begun, ...elements.map((one) => line(element, one)), ...warningLines(warnings)]);
    },
    async flush() {},
    async end({ document, warnings }, problems) {
      await putPieces([
        ...waiting,
        ...Object.entries(document).map(([name, value]) => line(name, value)),
        ...warningLines(warnings),
        ...problems.map((one) => line('problem', problemLine(one))),
        line('end', { [`${element}s`]: count, problems: problems.length }),
      ]);
    },
  };
}

function wordsWriter({ columns, noRows, warnings: first }: StreamedAnswer): Writer {
  const warnings = new Grouped();
  warnings.add(first);
  let rows: (readonly string[])[] = [];
  let pages = 0;
  const page = async () => {
    if (rows.length === 0) return;
    const text = table(columns, rows);
    rows = [];
    await put(`${pages++ === 0 ? '' : '\n\n'}${text}`);
  };
  return {
    async add(addition) {
      warnings.add(addition.warnings);
      for (const row of addition.rows()) {
        rows.push(row);
        if (rows.length === rowsOnPage) await page();
      }
    },
    async flush() {
      await page();
      if (pages > 0) await put('\n');
    },
    async end(ending, _problems, flags) {
      await page();
      if (pages === 0) await put(noRows);
      warnings.add(ending.warnings);
      await put(`${printableLines(ending.words + flagLegend(flags))}\n${warnings.words()}`);
    },
  };
}
