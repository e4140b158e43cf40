import { flagTexts } from '../flag.ts';
import { type Figure, figures } from '../origin/figure.ts';
import type { LocationFigureAsked } from '../origin.ts';
import type { LocatedReading } from '../steps/locate.ts';
import { type FigureStyle, unitSign } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { type FigureColumn, figureColumn, filledColumns, wordsColumn } from './figure-table.ts';

type OfReading = Extract<LocationFigureAsked, { gate: string }>['figure'];

const takenWords = { reflector: 'reflector', geometry: 'geometry' } as const;

/** What a reading is: what a person took it for, or what the part's own shape would show there. */
export function standingOf({ taken, geometry, place, without }: LocatedReading): string | null {
  if (taken !== null) return takenWords[taken];
  if (geometry[0] !== undefined) return `geometry expected here: ${geometry[0].expected.name}`;
  return place === null ? without : null;
}

/** The columns of a table of located readings, those left out that no row has anything for. */
export function locationColumns(
  rows: readonly LocatedReading[],
  style: FigureStyle,
): readonly FigureColumn<LocatedReading>[] {
  const mm = unitSign('length', style);
  const length = (known: Quantity | number | null | undefined): Figure | null =>
    known == null ? null : figures.lengthMm(known, style);
  const asked =
    (figure: OfReading) =>
    ({ captureId, gate }: LocatedReading) =>
      ({ kind: 'location', captureId, gate, figure }) as const;
  const columns: FigureColumn<LocatedReading>[] = [
    wordsColumn('capture', 'Capture', ({ captureId }) => captureId),
    wordsColumn('gate', 'Gate', ({ gate }) => gate),
    figureColumn('along', 'Along the weld', mm, ({ alongWeldMm }) => length(alongWeldMm)),
    figureColumn('depth', 'Depth', mm, ({ place }) => length(place?.depthMm), { asked: asked('depth') }),
    figureColumn('across', 'Across', mm, ({ place }) => length(place?.acrossMm), { asked: asked('across') }),
    figureColumn('leg', 'Leg', '', ({ place }) => (place === null ? null : plain(place.leg)), { asked: asked('leg') }),
    figureColumn('surface-distance', 'From the index', mm, ({ place }) => length(place?.surfaceDistanceMm), {
      asked: asked('surface-distance'),
    }),
    figureColumn('from-front', 'From the front', mm, ({ place }) => length(place?.fromFrontMm), {
      asked: asked('from-front'),
    }),
    figureColumn('sound-path', 'Sound path', mm, ({ soundPathMm }) => length(soundPathMm), {
      asked: ({ captureId, gate }) => ({ kind: 'reading', captureId, gate, figure: 'sound-path' }),
    }),
    figureColumn(
      'amplitude',
      'Amplitude',
      '% FSH',
      ({ amplitudePercent }) => (amplitudePercent === null ? null : figures.amplitudePercent(amplitudePercent, style)),
      { asked: ({ captureId, gate }) => ({ kind: 'reading', captureId, gate, figure: 'amplitude' }) },
    ),
    wordsColumn('standing', 'What it is', standingOf),
    wordsColumn('doubts', 'Doubts', ({ flags, place }) => {
      const remarks = place?.remarks ?? [];
      const words = [...flags.map((flag) => flagTexts[flag].sentence), ...remarks];
      return words.length === 0 ? null : words.join(' ');
    }),
  ];
  return filledColumns(columns, rows, always);
}

const always: ReadonlySet<string> = new Set(['capture', 'gate', 'depth', 'sound-path', 'standing']);

function plain(value: number): Figure {
  return { value, decimals: 0, unit: '', standardUncertainty: null };
}
