import { bareFigure, uncertaintyOf } from '../../core/origin/figure.ts';
import { ratingCaution, ratingClause } from '../../core/rating/aws-d1.1.ts';
import { boundSign, type FigureColumn } from '../../core/report/figure-table.ts';
import { indicationColumns } from '../../core/report/indications-table.ts';
import type { Indication, ScanResult } from '../../core/steps/scan.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { formatNumber, unknown } from '../../core/units/format-quantity.ts';
import { left, printable, right, table } from './table.ts';

const forLength: ReadonlySet<string> = new Set([
  'name',
  'decision',
  'along',
  'from',
  'to',
  'length',
  'sound-path',
  'amplitude',
]);

/** Lengths alone, with their ends. */
export function lengthWords(result: ScanResult): string {
  return scanWords(result, forLength);
}

/** Everything that is known of each indication. */
export function indicationWords(result: ScanResult): string {
  return scanWords(result, null);
}

function scanWords(result: ScanResult, only: ReadonlySet<string> | null): string {
  const { indications, lines, stepMm } = result;
  const places = lines.reduce((sum, { stations }) => sum + stations.length, 0);
  const head = `Scan: ${places} positions on ${lines.length} line${lines.length === 1 ? '' : 's'}${stepMm === null ? '' : `, usually ${formatNumber(stepMm, 2)} mm apart`}; uncertainties are standard uncertainties (k = 1)`;
  if (indications.length === 0)
    return [head, 'No indication stands above the level.', ...result.remarks.map(printable)].join('\n');
  const columns = indicationColumns(indications, metricStyle).filter(
    ({ id }) => id !== 'doubts' && (only === null || only.has(id)),
  );
  const rows = indications.map((indication) => [
    ...columns.map((column) => cellOf(indication, column)),
    // That an amplitude has no reference does not touch a length.
    indication.flags.filter((flag) => only === null || flag !== 'unreferenced').join(', '),
  ]);
  const titles = [
    ...columns.map(({ name, unit }) => (unit === null ? left(name) : right(`${name} ${unit}`.trim()))),
    left('flags'),
  ];
  return [
    head,
    table(titles, rows),
    ...listed('Without a length', indications, ({ length }) =>
      length.withoutLength === null ? [] : [length.withoutLength],
    ),
    ...(only === null ? ratingWords(indications) : []),
    ...listed('To be known', indications, ({ remarks, location }) => [
      ...remarks,
      ...(location?.geometry ?? []).map(({ sentence }) => sentence),
    ]),
    ...result.remarks.map((remark) => `  ${printable(remark)}`),
  ].join('\n');
}

function cellOf(indication: Indication, column: FigureColumn<Indication>): string {
  if (column.unit === null) return column.words(indication) ?? '';
  const figure = column.figure(indication);
  if (figure === null) return column.words(indication) ?? unknown;
  const u = uncertaintyOf(figure);
  const plain = `${boundSign(column.bound(indication))}${bareFigure(figure, metricStyle)}`;
  return u === null ? plain : `${plain} ± ${bareFigure(u, metricStyle)}`;
}

function ratingWords(indications: readonly Indication[]): string[] {
  const rated = indications.some(({ rating }) => rating !== null);
  return [
    ...(rated ? [`Rating: ${ratingClause}`, `  ${ratingCaution}`] : []),
    ...listed('Without a rating', indications, ({ withoutRating }) => (withoutRating === null ? [] : [withoutRating])),
    ...(rated
      ? []
      : listed('Unreferenced', indications, ({ amplitude, withoutRating }) =>
          amplitude.unreferenced === null || withoutRating !== null ? [] : [amplitude.unreferenced],
        )),
  ];
}

/** The same sentence about several indications stands once, with their names. */
function listed(
  title: string,
  indications: readonly Indication[],
  of: (indication: Indication) => readonly string[],
): string[] {
  const names = new Map<string, string[]>();
  for (const indication of indications)
    for (const sentence of of(indication)) names.set(sentence, [...(names.get(sentence) ?? []), indication.name]);
  const lines = [...names].map(([sentence, who]) => {
    const whom = who.length === indications.length && who.length > 1 ? 'all' : who.join('; ');
    return printable(`  ${whom}: ${sentence}`);
  });
  return lines.length === 0 ? [] : [title, ...lines];
}
