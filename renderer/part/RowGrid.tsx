import { useMemo } from 'react';
import { bareFigure, uncertaintyOf } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { boundSign, type FigureColumn } from '../../core/report/figure-table.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { isSame } from '../audit/asked.ts';
import { Figure } from '../parts/Figure.tsx';
import { ResultGrid, rowPx } from '../procedures/ResultGrid.tsx';
import own from './Part.module.css';
import type { Order } from './rows.ts';

const headPx = 64;
/** For a bar that scrolls sideways. */
const sparePx = 18;
const letterRem = 0.475;
const paddingRem = 1;
/** Words have at most so much room; the whole stands in what the row is asked for. */
const mostWordsRem = 14;

interface RowGridProps<Row> {
  readonly label: string;
  readonly rows: readonly Row[];
  readonly columns: readonly FigureColumn<Row>[];
  readonly keyOf: (row: Row) => string;
  /** How a cell of words is written where there is little room; `null`: as it stands. */
  readonly short?: (column: string, words: string) => string;
  readonly order: Order | null;
  readonly onHead: (column: string) => void;
  readonly isSelected: (row: Row) => boolean;
  readonly onSelect: (row: Row) => void;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  /** What stands where there are no rows. */
  readonly nothing: string;
  readonly style: FigureStyle;
}

/** Rows of located readings or indications: as high as its rows, as far as there is room, the chosen one in sight. */
export function RowGrid<Row>(props: RowGridProps<Row>) {
  const { rows, isSelected, onHead } = props;
  return (
    <ResultGrid
      label={props.label}
      rows={rows}
      columns={props.columns}
      template={useWidths(props)}
      keyOf={props.keyOf}
      order={props.order}
      onHead={({ id }) => onHead(id)}
      isSelected={isSelected}
      onSelect={props.onSelect}
      inSight={rows.findIndex(isSelected)}
      hasOwnStop={(row, column) => isAskable(column, row)}
      cell={(row, column, tabIndex) => <RowCell {...props} row={row} column={column} tabIndex={tabIndex} />}
      nothing={props.nothing}
      className={own.asHighAsItsRows}
      style={{ height: `min(19rem, ${headPx + Math.max(1, rows.length) * rowPx + sparePx}px)` }}
    />
  );
}

function isAskable<Row>(column: FigureColumn<Row>, row: Row): boolean {
  return column.unit !== null && column.figure(row) !== null && column.asked(row) !== null;
}

function textOf<Row>(column: FigureColumn<Row>, row: Row, style: FigureStyle): string {
  const figure = column.figure(row);
  if (figure === null) return column.words(row) ?? '–';
  const u = uncertaintyOf(figure);
  const value = `${boundSign(column.bound(row))}${bareFigure(figure, style)}`;
  return u === null ? value : `${value} ± ${bareFigure(u, style)}`;
}

function RowCell<Row>({
  row,
  column,
  short = (_, words) => words,
  asked,
  onAsk,
  tabIndex,
  style,
}: RowGridProps<Row> & {
  readonly row: Row;
  readonly column: FigureColumn<Row>;
  readonly tabIndex: number;
}) {
  if (column.unit === null) {
    const words = column.words(row);
    return words === null ? null : (
      <span className={own.cellWords} title={words}>
        {short(column.id, words)}
      </span>
    );
  }
  const text = textOf(column, row, style);
  const ask = column.figure(row) === null ? null : column.asked(row);
  if (ask === null) return text;
  const name = column.unit === '' ? column.name : `${column.name}, ${column.unit}`;
  return <Figure name={name} text={text} asked={ask} onAsk={onAsk} isAsked={isSame(ask, asked)} tabIndex={tabIndex} />;
}

/** No figure is ever cut off, for it would read as another one: each column is as wide as its longest; words give way. */
function useWidths<Row>({ rows, columns, short = (_, words) => words, style }: RowGridProps<Row>): string {
  return useMemo(
    () =>
      columns
        .map((column, c) => {
          // A name of several words takes two lines.
          const words = column.name.split(' ').map((word) => word.length);
          let longest = Math.max(...words, column.name.length / 2) + 2;
          for (const row of rows) {
            const text = column.unit === null ? short(column.id, column.words(row) ?? '') : textOf(column, row, style);
            longest = Math.max(longest, text.length);
          }
          const rem = Math.round(100 * (longest * letterRem + paddingRem)) / 100;
          if (column.unit !== null) return `${Math.max(4, rem)}rem`;
          return c === 0 ? `min(${rem}rem, max(8rem, 46cqi))` : `${Math.min(mostWordsRem, rem)}rem`;
        })
        .join(' '),
    [rows, columns, short, style],
  );
}
