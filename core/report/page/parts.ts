import type { Arithmetic } from '../../check/assessed-step.ts';
import type { VerdictOutcome } from '../../check/verdict.ts';
import { type Flag, flagTexts } from '../../flag.ts';
import { verdictWords } from '../../origin/verdict-words.ts';
import { html, type Markup, type Shown } from './markup.ts';

/** A part of the page with a heading of its own; numbered where the page is put together. */
export interface Section {
  readonly id: string;
  readonly title: string;
  readonly body: Markup;
}

export interface TableColumn {
  readonly head: string;
  /** `name`: of a capture or a file, which wants room. */
  readonly kind: 'words' | 'figure' | 'code' | 'name';
}

export const words = (head: string): TableColumn => ({ head, kind: 'words' });
export const figure = (head: string): TableColumn => ({ head, kind: 'figure' });
export const name = (head: string): TableColumn => ({ head, kind: 'name' });
export const code = (head: string): TableColumn => ({ head, kind: 'code' });

/** More columns than these are set smaller, so that they keep to the paper's width. */
const manyColumns = 6;

/** A table whose head is repeated on every page. Columns in which no row has anything are left out; the first one names its row. */
export function table(
  caption: string,
  allColumns: readonly TableColumn[],
  allRows: readonly (readonly Shown[])[],
): Markup {
  const kept = allColumns.map((_, i) => i === 0 || allRows.some((row) => !isEmpty(row[i])));
  const columns = allColumns.filter((_, i) => kept[i]);
  const rows = allRows.map((row) => row.filter((_, i) => kept[i]));
  // A caption of the table's own may be torn from it at the end of a sheet.
  return html`<div class="scroll"><p class="caption" aria-hidden="true">${caption}</p><table aria-label="${caption}"${columns.length > manyColumns && html` class="dense"`}>
<thead><tr>${columns.map(({ head, kind }) => html`<th scope="col" class="${kind}">${head}</th>`)}</tr></thead>
<tbody>
${rows.map(
  (row) => html`<tr>${row.map((cell, i) => tableCell(cell, columns[i].kind, i === 0))}</tr>
`,
)}</tbody>
</table></div>
`;
}

/** The true minus sign before a figure, as the trade writes it. */
export function withMinus(text: string): string {
  return text.replace(/(^|[\s(])-(?=\d)/g, '$1−');
}

function tableCell(given: Shown, kind: TableColumn['kind'], isFirst: boolean): Markup {
  const cell = kind === 'figure' && typeof given === 'string' ? withMinus(given) : given;
  return isFirst ? html`<th scope="row" class="${kind}">${cell}</th>` : html`<td class="${kind}">${cell}</td>`;
}

function isEmpty(cell: Shown): boolean {
  return (
    cell === null || cell === undefined || cell === false || cell === '' || (Array.isArray(cell) && cell.length === 0)
  );
}

/** Text from a file or a person within a sentence: its own direction of writing does not reach beyond it. */
export function given(text: string): Markup {
  return html`<bdi>${text}</bdi>`;
}

export function verdictMark(outcome: VerdictOutcome): Markup {
  return html`<span class="verdict verdict-${outcome}">${verdictWords[outcome]}</span>`;
}

export function notes(sentences: readonly Shown[]): Markup | null {
  return sentences.length === 0
    ? null
    : html`<ul class="notes">${sentences.map((sentence) => html`<li>${sentence}</li>`)}</ul>
`;
}

export const flagNames = (flags: readonly Flag[]): string => flags.join(', ');

/** The sentence and the advice of each flag, once. */
export function flagNotes(flags: Iterable<Flag>): Markup | null {
  const present = new Set(flags);
  return notes(
    (Object.keys(flagTexts) as Flag[])
      .filter((flag) => present.has(flag))
      .map((flag) => html`<strong>${flag}</strong>: ${flagTexts[flag].sentence} ${flagTexts[flag].advice}`),
  );
}

/** A line of arithmetic: what was reckoned, the formula, and the formula with its numbers. */
export function arithmeticLine(of: Shown, { text, withNumbers }: Arithmetic): Markup {
  return html`<li><div>${of}</div><div class="soft">${text}</div><div class="withnumbers">${withMinus(withNumbers)}</div></li>
`;
}

export function arithmeticLines(lines: readonly Markup[]): Markup | null {
  return lines.length === 0
    ? null
    : html`<ul class="arithmetic">
${lines}</ul>
`;
}

/** Names with their values, in two columns; an empty value is a line for a pen. */
export function fields(
  list: readonly { readonly label: string; readonly value: Shown; readonly wide?: boolean }[],
): Markup {
  return html`<dl class="fields">
${list.map(
  ({ label, value, wide }) =>
    html`<div${wide === true && html` class="wide"`}><dt>${label}</dt><dd>${value}</dd></div>
`,
)}</dl>
`;
}
