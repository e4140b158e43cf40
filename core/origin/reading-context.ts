import type { Reading } from '../gate/reading.ts';
import type { FigureAsked, OriginInput } from '../origin.ts';
import { conditioningInWords, type OriginContext } from './context.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';

export type ReadingAsked = Extract<FigureAsked, { kind: 'reading' }>;

/** One reading in its context: what the figures of all kinds need. */
export interface Read extends OriginContext {
  readonly asked: ReadingAsked;
  readonly reading: Reading;
  readonly gainDb: number | null;
}

export function input(
  read: Read,
  name: string,
  figure: Figure | null,
  asked: ReadingAsked['figure'] | null,
): OriginInput {
  return {
    name,
    value: figureWithUncertainty(figure, read.style),
    asked: asked === null ? null : { ...read.asked, figure: asked },
  };
}

export function traceInputs({ review, reading, style }: Read): OriginInput[] {
  const gate = review.readings?.gates.find((g) => g.name === reading.gate);
  const { conditioning } = review;
  const gates: OriginInput[] = [];
  if (gate !== undefined) {
    const [from, to] =
      gate.span.axis === 'time'
        ? [figures.timeUs(gate.span.fromUs, style), figures.timeUs(gate.span.toUs, style)]
        : [figures.statedMm(gate.span.fromMm, style), figures.statedMm(gate.span.toMm, style)];
    const value = `${figureWords(from, style)} to ${figureWords(to, style)}, threshold ${gate.thresholdPercent} %`;
    gates.push({ name: 'gate', value, asked: null });
  }
  return [...gates, { name: 'conditioning', value: conditioningInWords(conditioning), asked: null }];
}
