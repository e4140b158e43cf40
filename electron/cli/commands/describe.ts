import { writeFileSync } from 'node:fs';
import type { ImportedFile } from '../../../core/import/import-file.ts';
import type { Delimiter } from '../../../core/import/import-recipe.ts';
import type { Problem } from '../../../core/outcome.ts';
import { rounded } from '../../../core/report/document.ts';
import { formatNumber, unknown } from '../../../core/units/format-quantity.ts';
import { type Answer, refuseUnless, warningLines } from '../answer.ts';
import { gather } from '../gather.ts';
import type { CommonOptions } from '../options.ts';
import { readFile } from '../read-files.ts';
import { left, right, table } from '../table.ts';

export interface DescribeOptions extends CommonOptions {
  saveRecipe?: string;
}

/** What was understood of each file; what must still be said stands among its warnings. */
export async function describe(words: readonly string[], options: DescribeOptions): Promise<Answer> {
  const { inputs, recipe, problems: missing } = await gather(words, options);
  const files: ImportedFile[] = [];
  const problems: Problem[] = [...missing];
  for (const { file } of inputs) {
    const imported = readFile(file, recipe);
    if (imported.ok) files.push({ ...imported.value, captures: [] });
    else problems.push(...imported.problems);
  }
  refuseUnless(files.length > 0, problems);
  if (options.saveRecipe !== undefined)
    writeFileSync(options.saveRecipe, `${JSON.stringify(files[0].recipe, null, 2)}\n`, { flag: 'wx' });
  const warnings = files.flatMap((file) => [...file.asks, ...file.warnings]);
  return {
    document: { files: files.map(fileDocument) },
    words: () => tableOf(files),
    trusted: true,
    problems,
    warnings,
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

function tableOf(files: readonly ImportedFile[]): string {
  const rows = files.flatMap((file) =>
    file.traces.map((trace) => [
      file.file,
      trace.name,
      String(trace.samples),
      formatNumber(trace.startUs, 3),
      trace.stepUs === null ? unknown : formatNumber(1 / trace.stepUs, 3),
      trace.amplitudeUnit ?? unknown,
      trace.rectification,
      `${file.delimiter === null ? 'one column' : delimiterNames[file.delimiter]}, ${file.decimalMark === ',' ? 'decimal comma' : 'decimal point'}, ${file.encoding}`,
    ]),
  );
  return table(
    [
      left('file'),
      left('trace'),
      right('samples'),
      right('start µs'),
      right('rate MHz'),
      left('amplitude'),
      left('rectification'),
      left('written with'),
    ],
    rows,
  );
}
