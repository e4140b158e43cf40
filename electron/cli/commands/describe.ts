import type { ImportedFile } from '../../../core/import/import-file.ts';
import type { Delimiter } from '../../../core/import/import-recipe.ts';
import { rounded } from '../../../core/report/document.ts';
import { formatNumber, unknown } from '../../../core/units/format-quantity.ts';
import { warningLines } from '../answer.ts';
import { eachInput } from '../each-input.ts';
import { gather } from '../gather.ts';
import { type LargeJobOptions, mannerFrom } from '../large-job.ts';
import type { Addition, StreamedAnswer } from '../streamed-answer.ts';
import { left, right } from '../table.ts';
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
  async function* additions(): AsyncGenerator<Addition> {
    let isFirst = true;
    for await (const { description: file, problems: found } of all) {
      if (file !== null && isFirst && saveRecipe !== undefined)
        await writeOutput(saveRecipe, `${JSON.stringify(file.recipe, null, 2)}\n`, false);
      if (file !== null) isFirst = false;
      yield {
        elements: file === null ? [] : [fileDocument(file)],
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
    end: () => ({ document: {}, words: '', trusted: true, warnings: [], problems: [] }),
  };
}

function fileDocument(file: ImportedFile) {
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
      metadata: metadataOf(file),
    })),
    warnings: warningLines([...file.asks, ...file.warnings]),
  };
}

/** The preamble with figures as numbers. A key that comes twice keeps its first value under its name and the others numbered. */
function metadataOf(file: ImportedFile): Record<string, string | number> {
  const entries = new Map<string, string | number>();
  for (const { key, value } of file.metadata) {
    let name = key;
    for (let again = 2; entries.has(name); again++) name = `${key} (${again})`;
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
