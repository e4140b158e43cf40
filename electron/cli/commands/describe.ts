import { type Guess, guessesOf } from '../../../core/import/guesses.ts';
import type { ImportedFile } from '../../../core/import/import-file.ts';
import type { Delimiter } from '../../../core/import/import-recipe.ts';
import { withoutAsked } from '../../../core/import/recipe-file.ts';
import { rounded } from '../../../core/report/document.ts';
import { formatNumber, unknown } from '../../../core/units/format-quantity.ts';
import { warningLines } from '../answer.ts';
import { eachInput } from '../each-input.ts';
import { gather } from '../gather.ts';
import { type LargeJobOptions, mannerFrom } from '../large-job.ts';
import type { Addition, StreamedAnswer } from '../streamed-answer.ts';
import { left, printable, right, table } from '../table.ts';
import { refuseToOverwrite, writeOutput } from '../write-output.ts';

export interface DescribeOptions extends LargeJobOptions {
  saveRecipe?: string;
}

/** What was understood of each file; what must still be said stands among its warnings. */
export async function describe(words: readonly string[], options: DescribeOptions): Promise<StreamedAnswer> {
  const { saveRecipe } = options;
  if (saveRecipe !== undefined) refuseToOverwrite(saveRecipe, false);
  const { inputs, recipe, problems } = await gather(words, options);
  const work = { inputs, recipe, manifests: [], wanted: { kind: 'description' } } as const;
  const all = eachInput(work, mannerFrom(options, work));
  const understood = new GuessTables();
  async function* additions(): AsyncGenerator<Addition> {
    let isFirst = true;
    for await (const { description: file, problems: found } of all) {
      if (file !== null && isFirst && saveRecipe !== undefined)
        await writeOutput(saveRecipe, `${JSON.stringify(withoutAsked(recipe, file), null, 2)}\n`, false);
      if (file !== null) isFirst = false;
      const guesses = file === null ? [] : guessesOf(recipe, file);
      if (file !== null) understood.add(file.file, guesses);
      yield {
        elements: file === null ? [] : [fileDocument(file, guesses)],
        rows: () => (file === null ? [] : rowsOf(file)),
        flags: [],
        warnings: file === null ? [] : [...file.asks, ...file.warnings],
        problems: found,
        isUsable: file !== null,
      };
    }
  }
  return {
    list: 'files',
    element: 'file',
    columns,
    elementsWarn: true,
    noRows: 'No trace was found.',
    problems,
    warnings: [],
    additions: additions(),
    end: () => ({ document: {}, words: understood.words(), trusted: true, warnings: [], problems: [] }),
  };
}

function fileDocument(file: ImportedFile, guesses: readonly Guess[]) {
  const metadata = metadataOf(file);
  return {
    file: file.file,
    sha256: file.sha256,
    bytes: file.bytes,
    delimiter: file.delimiter,
    decimal_mark: file.decimalMark,
    encoding: file.encoding,
    traces: file.traces.map((trace) => ({
      name: trace.name,
      samples: trace.samples,
      start_us: trace.startUs === null ? null : rounded(trace.startUs),
      step_us: trace.stepUs === null ? null : rounded(trace.stepUs),
      amplitude_unit: trace.amplitudeUnit,
      rectification: trace.rectification,
      metadata,
    })),
    understood: guesses,
    warnings: warningLines([...file.asks, ...file.warnings]),
  };
}

const certaintyWords: Readonly<Record<Guess['certainty'], string>> = {
  stated: 'stated',
  written: 'stands in the file',
  inferred: 'follows from the file',
  assumed: 'could be otherwise',
  asked: 'to be stated',
};

/** So many ways of being understood are told; files of a batch have one or a few. */
const mostTables = 12;

/** How files were understood, told once for those that were understood alike. */
class GuessTables {
  private readonly alike = new Map<
    string,
    { readonly file: string; readonly guesses: readonly Guess[]; count: number }
  >();
  private untold = 0;

  add(file: string, guesses: readonly Guess[]): void {
    const key = JSON.stringify(guesses);
    const known = this.alike.get(key);
    if (known !== undefined) known.count++;
    else if (this.alike.size < mostTables) this.alike.set(key, { file, guesses, count: 1 });
    else this.untold++;
  }

  words(): string {
    const tables = [...this.alike.values()].map(({ file, guesses, count }) => {
      const rows = guesses.map(({ what, taken, certainty, from }) => [
        what,
        taken ?? unknown,
        certaintyWords[certainty],
        from,
      ]);
      const more = count === 1 ? '' : ` and ${count - 1} more`;
      return `\n\nHow ${printable(file)}${more} was understood\n${table(guessColumns, rows)}`;
    });
    return (
      tables.join('') + (this.untold === 0 ? '' : `\n\n${this.untold} more were understood in other ways; see --json.`)
    );
  }
}

const guessColumns = [left('what'), left('taken'), left('how sure'), left('from')];

/** The preamble with figures as numbers. A key that comes twice keeps its first value under its name and the others numbered. */
function metadataOf(file: ImportedFile): Record<string, string | number> {
  const entries = new Map<string, string | number>();
  const counts = new Map<string, number>();
  for (const { key, value } of file.metadata) {
    let count = counts.get(key) ?? 1;
    let name = count === 1 ? key : `${key} (${count})`;
    while (entries.has(name)) name = `${key} (${++count})`;
    counts.set(key, count);
    const figure = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(value.trim()) ? Number(value) : value;
    entries.set(name, figure);
  }
  return Object.fromEntries(entries);
}

const delimiterNames: Readonly<Record<Delimiter, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  ' ': 'space',
};

const columns = [
  left('file'),
  left('trace'),
  right('samples'),
  right('start µs'),
  right('rate MHz'),
  left('amplitude'),
  left('rectification'),
  left('written with'),
];

function rowsOf(file: ImportedFile): string[][] {
  return file.traces.map((trace) => [
    file.file,
    trace.name,
    String(trace.samples),
    formatNumber(trace.startUs, 3),
    trace.stepUs === null ? unknown : formatNumber(1 / trace.stepUs, 3),
    trace.amplitudeUnit ?? unknown,
    trace.rectification,
    `${file.delimiter === null ? 'one column' : delimiterNames[file.delimiter]}, ${file.decimalMark === ',' ? 'decimal comma' : 'decimal point'}, ${file.encoding}`,
  ]);
}
