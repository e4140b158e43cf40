import { flagTexts } from '../flag.ts';
import type { Reading } from '../gate/reading.ts';
import { bareFigure, type Figure, figures, uncertaintyOf } from '../origin/figure.ts';
import type { ReadingFigure } from '../origin.ts';
import type { CaptureFacts } from '../steps/examine.ts';
import { type FigureStyle, unitSign } from '../units/figure-style.ts';
import type { CaptureLookup } from './document.ts';
import type { TextCell, TextTable } from './table-text.ts';

export type ReadingColumnId = 'capture' | 'position' | 'gain' | 'taken' | 'gate' | ReadingFigure | 'flags';

/** A column of the readings' table. */
export interface ReadingColumn {
  readonly id: ReadingColumnId;
  readonly name: string;
  /** `null` for words. */
  readonly unit: string | null;
  /** The figure as it is written; `null` where there is none, and for words. */
  readonly figure: (reading: Reading, capture: CaptureFacts | undefined) => Figure | null;
  /** What rows are put in order by; `null` goes last. */
  readonly order: (reading: Reading, capture: CaptureFacts | undefined) => number | string | null;
  /** What can be asked of the figure. */
  readonly asked: ReadingFigure | null;
}

/** Height is a lower bound: the crest is cut off by the screen, or by the gate's edge. */
export function isLowerBound(reading: Reading): boolean {
  return reading.flags.includes('saturated') || reading.flags.includes('cut-by-gate');
}

/** The columns of a table of readings in the order they stand, those left out that no row has anything for. */
export function readingColumns(
  readings: readonly Reading[],
  captures: CaptureLookup,
  style: FigureStyle,
): readonly ReadingColumn[] {
  return allColumns(style).filter(
    ({ id, order }) =>
      always.has(id) || readings.some((reading) => order(reading, captures.get(reading.captureId)) !== null),
  );
}

const always: ReadonlySet<ReadingColumnId> = new Set(['capture', 'gate', 'time', 'sound-path', 'amplitude', 'flags']);

function allColumns(style: FigureStyle): readonly ReadingColumn[] {
  const length = unitSign('length', style);
  const words = (id: ReadingColumnId, name: string, order: ReadingColumn['order']): ReadingColumn => ({
    id,
    name,
    unit: null,
    figure: () => null,
    order,
    asked: null,
  });
  const figure = (
    id: ReadingColumnId,
    name: string,
    unit: string,
    value: (reading: Reading, capture: CaptureFacts | undefined) => Parameters<(typeof figures)['lengthMm']>[0] | null,
    write: (known: Parameters<(typeof figures)['lengthMm']>[0], style: FigureStyle) => Figure,
    asked: ReadingFigure | null = null,
  ): ReadingColumn => ({
    id,
    name,
    unit,
    figure: (reading, capture) => {
      const known = value(reading, capture);
      return known === null ? null : write(known, style);
    },
    order: (reading, capture) => {
      const known = value(reading, capture);
      return known === null || typeof known === 'number' ? known : known.value;
    },
    asked,
  });
  return [
    words('capture', 'Capture', (reading) => reading.captureId),
    figure('position', 'Position', length, (_, capture) => capture?.positionMm ?? null, figures.lengthMm),
    words('gate', 'Gate', (reading) => reading.gate),
    figure('sound-path', 'Sound path', length, (r) => r.soundPathMm, figures.lengthMm, 'sound-path'),
    figure('amplitude', 'Amplitude', '% FSH', (r) => r.amplitudePercent, figures.amplitudePercent, 'amplitude'),
    figure('below-peak', 'Below peak', 'dB', (r) => r.belowPeakDb, figures.levelDb, 'below-peak'),
    figure('depth', 'Depth', length, (r) => r.depthMm, figures.lengthMm, 'depth'),
    figure(
      'surface-distance',
      'Surface distance',
      length,
      (r) => r.surfaceDistanceMm,
      figures.lengthMm,
      'surface-distance',
    ),
    figure(
      'leg',
      'Leg',
      '',
      (r) => r.leg,
      (known) => ({ ...figures.levelDb(known, style), decimals: 0, unit: '' }),
      'leg',
    ),
    figure('time', 'Time', 'µs', (r) => r.timeUs?.value ?? null, figures.timeUs, 'time'),
    figure('crossing', 'Crossing', 'µs', (r) => r.crossingUs, figures.timeUs, 'crossing'),
    figure('signal-to-noise', 'Signal to noise', 'dB', (r) => r.signalToNoiseDb, figures.levelDb, 'signal-to-noise'),
    figure('gain', 'Gain', 'dB', (_, capture) => capture?.gainDb ?? null, figures.levelDb),
    words('taken', 'Taken', (_, capture) => capture?.takenAt ?? null),
    words('flags', 'Doubts', (reading) => (reading.flags.length === 0 ? null : reading.flags.join(', '))),
  ];
}

/**
 * The rows as text, in the order given: what is copied into a spreadsheet, and saved. A figure with an uncertainty takes two columns; a height that is
 * only a lower bound is a figure all the same, since its flag stands beside it.
 */
export function readingsText(
  rows: readonly Reading[],
  columns: readonly ReadingColumn[],
  captures: CaptureLookup,
  style: FigureStyle,
): TextTable {
  const withU = (column: ReadingColumn) =>
    rows.some((row) => column.figure(row, captures.get(row.captureId))?.standardUncertainty != null);
  const parts = columns.flatMap((column): Part[] => {
    const named = `${column.name}${column.unit ? ` (${column.unit})` : ''}`;
    const plain: Part = { head: named, cell: (row) => cellOf(row, column, captures, style) };
    if (!withU(column)) return [plain];
    const u: Part = {
      head: `u of ${named}`,
      cell: (row) => {
        const figure = column.figure(row, captures.get(row.captureId));
        const known = figure === null ? null : uncertaintyOf(figure);
        return known === null ? null : { figure: bareFigure(known, style) };
      },
    };
    return [plain, u];
  });
  return { head: parts.map(({ head }) => head), rows: rows.map((row) => parts.map(({ cell }) => cell(row))) };
}

interface Part {
  readonly head: string;
  readonly cell: (row: Reading) => TextCell;
}

function cellOf(row: Reading, column: ReadingColumn, captures: CaptureLookup, style: FigureStyle): TextCell {
  const capture = captures.get(row.captureId);
  if (column.unit === null) {
    if (column.id === 'flags')
      return { words: row.flags.map((flag) => `${flag}: ${flagTexts[flag].sentence}`).join(' ') };
    const words = column.order(row, capture);
    return words === null ? null : { words: String(words) };
  }
  const figure = column.figure(row, capture);
  return figure === null ? null : { figure: bareFigure(figure, style) };
}
