import type { Problem } from '../../core/outcome.ts';
import { csvText, type TextCell } from '../../core/report/table-text.ts';
import { printableJson } from './table.ts';
import { writeOutput } from './write-output.ts';

/** Writes what could not be used, with its place and the reason: CSV, or JSON where the name ends so. */
export async function writeFailures(file: string, problems: readonly Problem[], replace: boolean): Promise<void> {
  await writeOutput(file, /\.json$/i.test(file) ? asJson(problems) : asCsv(problems), replace);
}

function asJson(problems: readonly Problem[]): string {
  const failures = problems.map(({ code, place, sentence }) => ({ ...place, code, reason: sentence }));
  return `${printableJson({ failures })}\n`;
}

function asCsv(problems: readonly Problem[]): string {
  const number = (value: number | null): TextCell => (value === null ? null : { figure: String(value) });
  return csvText(
    {
      head: ['file', 'line', 'column', 'code', 'reason'],
      rows: problems.map(({ code, place, sentence }) => [
        { words: place.file },
        number(place.line),
        number(place.column),
        { words: code },
        { words: sentence },
      ]),
    },
    '.',
  );
}
