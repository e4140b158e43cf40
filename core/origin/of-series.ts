import { formulas, methods } from '../formula.ts';
import type { Reading } from '../gate/reading.ts';
import { unreachable } from '../invariant.ts';
import type { FigureAsked, Origin, OriginInput } from '../origin.ts';
import type { SeriesResult } from '../steps/read.ts';
import { type OriginContext, origin, shown } from './context.ts';
import { figures, figureWithUncertainty, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';

type Asked = Extract<FigureAsked, { kind: 'series' }>;

export function originInSeries(asked: Asked, context: OriginContext): Origin | null {
  const series = context.evaluation.readings?.series.find((s) => s.gate === asked.gate);
  if (series === undefined) return null;
  switch (asked.figure) {
    case 'peak':
      return peakOrigin(series, context);
    case 'peak-position':
      return positionOrigin(series, context);
    case 'path-range':
      return rangeOrigin(series, context);
    default:
      return unreachable(asked.figure);
  }
}

/** The readings that the peak was made from, each to be asked in turn. */
function peakInputs({ gate, peak }: SeriesResult, { evaluation, style }: OriginContext): OriginInput[] {
  return (peak?.from ?? []).map((captureId) => {
    const reading = evaluation.readings?.readings.find((r) => r.captureId === captureId && r.gate === gate);
    const capture = evaluation.captures.find((c) => c.captureId === captureId);
    const at =
      capture?.positionMm == null ? '' : ` at ${figureWords(figures.lengthMm(capture.positionMm, style), style)}`;
    const gain =
      capture?.gainDb == null ? '' : `, ${figureWords(figures.levelDb(capture.gainDb, style), style)} of gain`;
    const amplitude =
      reading?.amplitudePercent == null ? null : figures.amplitudePercent(reading.amplitudePercent, style);
    return {
      name: captureId,
      value: `${figureWords(amplitude, style)}${at}${gain}`,
      asked: { kind: 'reading', captureId, gate, figure: 'amplitude' },
    };
  });
}

function howFound(series: SeriesResult): string {
  const method = series.peak?.method === 'parabola' ? methods['series-peak'] : methods['series-highest'];
  return [method, ...series.doubts].join(' ');
}

function peakOrigin(series: SeriesResult, context: OriginContext): Origin {
  const { style } = context;
  const { peak } = series;
  const height = peak === null ? null : figures.amplitudePercent(peak.amplitudePercent, style);
  const gain =
    peak?.referenceGainDb == null ? '' : ` at ${figureWords(figures.levelDb(peak.referenceGainDb, style), style)}`;
  return origin({
    title: `Peak of the series at gate ‘${series.gate}’`,
    value: `${peak?.isLowerBound ? '≥ ' : ''}${figureWords(height, style)}${gain}`,
    inputs: peakInputs(series, context),
    source: howFound(series),
  });
}

function positionOrigin(series: SeriesResult, context: OriginContext): Origin {
  const { style } = context;
  const position = series.peak?.positionMm ?? null;
  return origin({
    title: `Position of the peak at gate ‘${series.gate}’`,
    ...shown(position === null ? null : figures.lengthMm(position, style), style),
    inputs: peakInputs(series, context),
    source: howFound(series),
  });
}

function rangeOrigin({ gate, pathRangeMm }: SeriesResult, { evaluation, style }: OriginContext): Origin {
  const placed = (evaluation.readings?.readings ?? []).filter((r) => r.gate === gate && r.soundPathMm !== null);
  const by = (better: (a: number, b: number) => boolean): Reading | undefined =>
    placed.reduce<Reading | undefined>(
      (best, reading) =>
        best === undefined || better(reading.soundPathMm!.value, best.soundPathMm!.value) ? reading : best,
      undefined,
    );
  const [longest, shortest] = [by((a, b) => a > b), by((a, b) => a < b)];
  const range = pathRangeMm === null ? null : figures.lengthMm(pathRangeMm, style);
  const input = (name: string, reading: Reading): OriginInput => ({
    name: `${name}, ${reading.captureId}`,
    value: figureWithUncertainty(figures.lengthMm(reading.soundPathMm!, style), style),
    asked: { kind: 'reading', captureId: reading.captureId, gate, figure: 'sound-path' },
  });
  const known = range !== null && longest !== undefined && shortest !== undefined;
  return origin({
    title: `Range of sound paths at gate ‘${gate}’`,
    ...shown(range, style),
    formula: known
      ? {
          text: formulas['path-range'].text,
          withNumbers: withNumbers(
            [figures.lengthMm(longest.soundPathMm!, style), figures.lengthMm(shortest.soundPathMm!, style)],
            (a, b) => a - b,
            (a, b) => `${a} − ${b}`,
            range,
            style,
          ),
        }
      : null,
    inputs: known ? [input('longest', longest), input('shortest', shortest)] : [],
    source: formulas['path-range'].source,
  });
}
