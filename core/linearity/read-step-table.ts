import { readCell } from '../import/number.ts';
import { columnOfField, splitLines } from '../import/table.ts';
import { decodeLatin1, decodeUtf8 } from '../import/text.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import type { StatedSteps } from './step-table.ts';

/** A row of a step table as it stands in its file. */
export interface StepRow {
  /** `FILE` or `FILE#TRACE`, as written. */
  readonly capture: string;
  /** `null` where what stands there is no number. */
  readonly db: number | null;
  readonly line: number;
  /** Of the cell that states the dB. */
  readonly column: number;
}

export interface StepTableFile {
  readonly states: StatedSteps['states'];
  readonly rows: readonly StepRow[];
  /** What is wrong with single rows; the others can be used. */
  readonly problems: readonly Problem[];
}

const captureWords = /^(?:file|capture|file name|filename)$/i;
const traceWords = /^trace$/i;
const statedBy: readonly (readonly [StatedSteps['states'], RegExp])[] = [
  ['gain', /^gain(?:_db| ?[[(]?db[\])]?)?$/i],
  ['change', /^change(?:_db| ?[[(]?db[\])]?)?$/i],
  ['attenuator', /^attenuator(?:_db| ?[[(]?db[\])]?)?$/i],
];

/**
 * Reads a step table: a CSV with a column `file` (or `capture`), optionally `trace`, and one of `gain_db` (of the instrument), `change_db` (of that, since the first row) or
 * `attenuator_db` (the loss of one outside the instrument). Rows are in the order in which the steps were taken. Lines that begin with # are left out.
 * Problems of the whole: `step-table-empty`, `step-table-columns`. Of a row, which keep the rest: `step-gain-not-a-number`, `step-gain-missing`, `step-without-capture`,
 * `unterminated-quote`; each at its line and column.
 */
export function readStepTable(file: string, bytes: Uint8Array): Outcome<StepTableFile> {
  const text = (decodeUtf8(bytes, 0, bytes.length) ?? decodeLatin1(bytes, 0, bytes.length)).replace(/^\uFEFF/, '');
  const lines = text
    .split(/\r\n|\r|\n/)
    .map((line, i) => ({ text: line, number: i + 1 }))
    .filter(({ text: line }) => line.trim() !== '' && !line.trimStart().startsWith('#'));
  if (lines.length === 0)
    return failure(
      problem('step-table-empty', { file }, 'the step table is empty; give a header and a row for each step'),
    );
  const delimiter = ([',', ';', '\t'] as const).reduce((best, mark) =>
    lines[0].text.split(mark).length > lines[0].text.split(best).length ? mark : best,
  );
  const [header, ...cells] = splitLines(lines, delimiter);
  const names = (header ?? []).map((cell) => cell.trim());
  const captureField = names.findIndex((name) => captureWords.test(name));
  const traceField = names.findIndex((name) => traceWords.test(name));
  const stated = statedBy.flatMap(([states, words]) =>
    names.flatMap((name, field) => (words.test(name) ? [{ states, field }] : [])),
  );
  if (captureField < 0 || stated.length !== 1) {
    const sentence =
      captureField < 0
        ? 'a step table needs a header with a column "file" that names the captures'
        : `a step table needs one column of "gain_db", "change_db" and "attenuator_db"; this one has ${stated.length === 0 ? 'none' : stated.length} of them`;
    return failure(problem('step-table-columns', { file, line: lines[0].number, column: 1 }, sentence));
  }
  const [{ states, field }] = stated;
  const rows: StepRow[] = [];
  const problems: Problem[] = [];
  cells.forEach((row, i) => {
    const { text: written, number } = lines[i + 1];
    const say = (code: string, column: number, sentence: string) =>
      problems.push(problem(code, { file, line: number, column }, sentence));
    if (row === null) {
      say(
        'unterminated-quote',
        1,
        'a quotation mark opens on this line and is not closed on it; close it, or take it out',
      );
      return;
    }
    const capture = (row[captureField] ?? '').trim();
    const trace = traceField < 0 ? '' : (row[traceField] ?? '').trim();
    if (capture === '') {
      say(
        'step-without-capture',
        columnOfField(written, delimiter, captureField),
        'this row names no capture; name its file',
      );
      return;
    }
    const cell = (row[field] ?? '').trim();
    const column = columnOfField(written, delimiter, field);
    const reading = readCell(cell, null);
    const db = reading.kind === 'number' && Number.isFinite(reading.value) ? reading.value : null;
    if (cell === '')
      say('step-gain-missing', column, `no ${names[field]} stands here; the step of "${capture}" is not assessed`);
    else if (db === null)
      say(
        'step-gain-not-a-number',
        column,
        `"${cell}" is not a number of dB; the step of "${capture}" is not assessed until it is corrected`,
      );
    rows.push({ capture: trace === '' ? capture : `${capture}#${trace}`, db, line: number, column });
  });
  if (rows.length === 0 && problems.length === 0)
    return failure(
      problem(
        'step-table-empty',
        { file, line: lines[0].number },
        'the step table has a header and no rows; give a row for each step',
      ),
    );
  return success({ states, rows, problems });
}
