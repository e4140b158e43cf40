import { flagTexts } from '../flag.ts';
import { type Figure, figures } from '../origin/figure.ts';
import type { FigureAsked, IndicationFigure } from '../origin.ts';
import type { Indication } from '../steps/scan.ts';
import { type FigureStyle, unitSign } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import { type FigureColumn, figureColumn, filledColumns, wordsColumn } from './figure-table.ts';

/** What a person decided of an indication, in a word or two. */
export function decisionWords({ decided, taken }: Pick<Indication, 'decided' | 'taken'>): string {
  if (taken !== null) return taken;
  return decided ? 'taken up' : 'proposed';
}

/** In a few words why there is no figure: the sentence stands beside the indication. */
const missing = { unreferenced: 'unreferenced', noRating: 'no rating', noLength: 'no length' } as const;

/** The columns of a table of indications, those left out that no row has anything for. */
export function indicationColumns(
  rows: readonly Indication[],
  style: FigureStyle,
): readonly FigureColumn<Indication>[] {
  const mm = unitSign('length', style);
  const length = (known: Quantity | number | null | undefined): Figure | null =>
    known == null ? null : figures.lengthMm(known, style);
  const level = (known: Quantity | null | undefined): Figure | null =>
    known == null ? null : figures.levelDb(known, style);
  const asked =
    (figure: IndicationFigure) =>
    ({ name }: Indication): FigureAsked => ({ kind: 'indication', name, figure });
  const height = ({ peakIsLowerBound }: Indication) => (peakIsLowerBound ? 'at-least' : null);
  const columns: FigureColumn<Indication>[] = [
    wordsColumn('name', 'Name', ({ name }) => name),
    wordsColumn('decision', 'Decision', decisionWords),
    figureColumn('along', 'Along the weld', mm, ({ peak }) => length(peak?.positionMm)),
    figureColumn('from', 'From', mm, ({ length: found }) => length(found.low?.positionMm), {
      bound: ({ length: found }) => (found.low === null || found.low.state === 'crossed' ? null : 'at-most'),
      asked: asked('low-end'),
    }),
    figureColumn('to', 'To', mm, ({ length: found }) => length(found.high?.positionMm), {
      bound: ({ length: found }) => (found.high === null || found.high.state === 'crossed' ? null : 'at-least'),
      asked: asked('high-end'),
    }),
    figureColumn('length', 'Length', mm, ({ length: found }) => length(found.lengthMm), {
      bound: ({ length: found }) => (found.atLeast ? 'at-least' : found.atMost ? 'at-most' : null),
      words: ({ length: found }) => (found.withoutLength === null ? null : missing.noLength),
      asked: asked('length'),
    }),
    figureColumn('length-across', 'Length across', mm, ({ lengthAcross: found }) => length(found.lengthMm), {
      bound: ({ lengthAcross: found }) => (found.atLeast ? 'at-least' : found.atMost ? 'at-most' : null),
      asked: asked('length-across'),
    }),
    figureColumn('depth', 'Depth', mm, ({ depthMm }) => length(depthMm), { asked: asked('depth') }),
    figureColumn('surface-distance', 'Surface distance', mm, ({ surfaceDistanceMm }) => length(surfaceDistanceMm), {
      asked: asked('surface-distance'),
    }),
    figureColumn('across', 'Across', mm, ({ location }) => length(location?.place?.acrossMm)),
    figureColumn('leg', 'Leg', '', ({ leg }) =>
      leg === null ? null : { value: leg, decimals: 0, unit: '', standardUncertainty: null },
    ),
    figureColumn('sound-path', 'Sound path', mm, ({ soundPathMm }) => length(soundPathMm), {
      asked: asked('sound-path'),
    }),
    figureColumn(
      'amplitude',
      'Amplitude',
      '% FSH',
      ({ peak }) => (peak?.amplitudePercent == null ? null : figures.amplitudePercent(peak.amplitudePercent, style)),
      { bound: height, asked: asked('amplitude') },
    ),
    figureColumn('gain', 'Gain', 'dB', ({ peak }) =>
      peak?.gainDb == null ? null : figures.levelDb(peak.gainDb, style),
    ),
    figureColumn('level', 'To the reference', 'dB', ({ amplitude }) => level(amplitude.held?.levelDb), {
      bound: height,
      words: ({ amplitude }) => (amplitude.unreferenced === null ? null : missing.unreferenced),
      asked: asked('level'),
    }),
    figureColumn('to-curve', 'To the curve', 'dB', ({ toCurve }) => level(toCurve?.held?.toCurveDb), {
      bound: height,
      words: ({ toCurve }) => (toCurve?.unreferenced == null ? null : missing.unreferenced),
      asked: asked('to-curve'),
    }),
    figureColumn(
      'attenuation-factor',
      'Attenuation factor',
      'dB',
      ({ rating }) =>
        rating === null ? null : { value: rating.factor.factorDb, decimals: 0, unit: 'dB', standardUncertainty: null },
      { asked: asked('attenuation-factor') },
    ),
    figureColumn('rating', 'Rating', 'dB', ({ rating }) => level(rating?.ratingDb), {
      bound: ({ rating }) => (rating?.atMost ? 'at-most' : null),
      words: ({ withoutRating }) => (withoutRating === null ? null : missing.noRating),
      asked: asked('rating'),
    }),
    wordsColumn('notes', 'Notes', ({ notes }) => (notes === '' ? null : notes)),
    wordsColumn('doubts', 'Doubts', ({ flags, remarks }) => {
      const words = [...new Set([...flags.map((flag) => flagTexts[flag].sentence), ...remarks])];
      return words.length === 0 ? null : words.join(' ');
    }),
  ];
  return filledColumns(columns, rows, always);
}

const always: ReadonlySet<string> = new Set(['name', 'decision', 'along', 'length', 'depth', 'amplitude']);
