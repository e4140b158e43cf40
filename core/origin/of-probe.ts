import type { FigureAsked, FormulaShown, Origin, OriginInput } from '../origin.ts';
import type { ProbeFigureResult } from '../probe/characteristics.ts';
import { type ProbeFigure, probeFigures } from '../probe/figures.ts';
import { hindranceTexts } from '../probe/hindrance.ts';
import type { Measured } from '../probe/measured.ts';
import type { CapturePulse } from '../probe/pulse.ts';
import type { ProbeResult, ProbesResult } from '../steps/probes.ts';
import { conditioningInWords, flagsShown, type OriginContext, origin, shown } from './context.ts';
import { decisionInNumbers } from './decision-in-numbers.ts';
import { type Figure, figureWithUncertainty, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';
import { probeFigure } from './probe-figure.ts';
import { verdictWords } from './verdict-words.ts';

type Asked = Extract<FigureAsked, { kind: 'probe' }>;

interface Context extends OriginContext {
  readonly result: ProbesResult;
}

/** Where a figure of a probe comes from: of one capture, the mean of several, against a stated one, against the reference probe. */
export function originInProbes(asked: Asked, context: OriginContext): Origin | null {
  const result = context.evaluation.probes;
  if (result === null) return null;
  const known = { ...context, result };
  if (asked.of === 'capture') {
    const pulse = result.captures.find(({ captureId }) => captureId === asked.captureId);
    return pulse === undefined ? null : ofCapture(asked.figure, pulse, known);
  }
  const probe = result.probes.find((each) => each.probe === asked.probe);
  if (probe === undefined) return null;
  switch (asked.of) {
    case 'mean':
      return ofMean(asked.figure, probe, known);
    case 'stated':
      return ofStated(asked.figure, probe, known);
    case 'difference':
      return ofDifference(asked.figure, probe, known);
  }
}

const written = (figure: ProbeFigure, { quantity }: Measured, { style }: Context): Figure | null =>
  quantity === null ? null : probeFigure(figure, quantity, style);

const nothing = ({ hindrance }: Measured): string =>
  hindrance === null ? '' : ` Not measurable: ${hindranceTexts[hindrance]}`;

function ofCapture(figure: ProbeFigure, pulse: CapturePulse, context: Context): Origin {
  const { title, definition, source } = probeFigures[figure];
  const measurement = pulse.figures[figure];
  const inputs = inputsOf(figure);
  return origin({
    title: `${title}: one capture`,
    ...shown(written(figure, measurement, context), context.style),
    formula: formulaOf(figure, pulse, context),
    inputs: [
      ...inputs.map(
        (name): OriginInput => ({
          name: probeFigures[name].title,
          value: figureWithUncertainty(written(name, pulse.figures[name], context), context.style),
          asked: { kind: 'probe', of: 'capture', captureId: pulse.captureId, figure: name },
        }),
      ),
      ...(isSpectral(figure) ? [{ name: 'spectrum', value: context.result.spectrum, asked: null }] : []),
      {
        name: 'conditioning',
        value: conditioningInWords({ ...context.review.conditioning, bandPass: null }),
        asked: null,
      },
    ],
    source: `${definition} ${source}. The uncertainty is that of the record’s own noise, propagated.${nothing(measurement)}${isMultiLobed(figure, pulse) ? ' Multi-lobed: more than one pair of crossings at this level; the outermost are taken.' : ''}`,
    capture: { captureId: pulse.captureId, samples: pulse.from, timeUs: pulse.peakUs?.value ?? null },
    flags: flagsShown(pulse.flags),
  });
}

/** Whether the level that a figure is read at has more than one pair of crossings. */
function isMultiLobed(figure: ProbeFigure, { multiLobed }: CapturePulse): boolean {
  if (!isSpectral(figure) || figure === 'peak-frequency') return false;
  return figure.includes('20-db') ? multiLobed.at20Db : multiLobed.at6Db;
}

const isSpectral = (figure: ProbeFigure): boolean =>
  probeFigures[figure].unit === 'MHz' || figure.startsWith('relative-');

/** The figures that another is worked out from. */
function inputsOf(figure: ProbeFigure): readonly ProbeFigure[] {
  switch (figure) {
    case 'centre-frequency-e1065':
    case 'centre-frequency-iso':
    case 'bandwidth-6-db':
    case 'relative-bandwidth-e1065':
    case 'relative-bandwidth-iso':
      return ['lower-limit-6-db', 'upper-limit-6-db'];
    case 'bandwidth-20-db':
      return ['lower-limit-20-db', 'upper-limit-20-db'];
    case 'logarithmic-decrement':
      return ['decay-rate', 'centre-frequency-e1065'];
    case 'sensitivity':
      return ['height'];
    case 'near-field':
    case 'beam-half-angle-6-db':
    case 'beam-half-angle-20-db':
      return ['centre-frequency-e1065'];
    default:
      return [];
  }
}

const formulas: Partial<
  Record<
    ProbeFigure,
    { compute: (l: number, u: number) => number; write: (l: string, u: string) => string; text: string }
  >
> = {
  'centre-frequency-e1065': {
    compute: (l, u) => (l + u) / 2,
    write: (l, u) => `(${l} + ${u}) / 2`,
    text: '(lower limit + upper limit) / 2',
  },
  'centre-frequency-iso': {
    compute: (l, u) => Math.sqrt(l * u),
    write: (l, u) => `√(${l} · ${u})`,
    text: '√(lower limit · upper limit)',
  },
  'bandwidth-6-db': { compute: (l, u) => u - l, write: (l, u) => `${u} − ${l}`, text: 'upper limit − lower limit' },
  'bandwidth-20-db': { compute: (l, u) => u - l, write: (l, u) => `${u} − ${l}`, text: 'upper limit − lower limit' },
  'relative-bandwidth-e1065': {
    compute: (l, u) => (200 * (u - l)) / (u + l),
    write: (l, u) => `100 % · (${u} − ${l}) / ((${l} + ${u}) / 2)`,
    text: '100 % · (upper limit − lower limit) / arithmetic mean of both',
  },
  'relative-bandwidth-iso': {
    compute: (l, u) => (100 * (u - l)) / Math.sqrt(l * u),
    write: (l, u) => `100 % · (${u} − ${l}) / √(${l} · ${u})`,
    text: '100 % · (upper limit − lower limit) / geometric mean of both',
  },
  'logarithmic-decrement': {
    // 20 / ln 10 = 8.68589 dB is a factor e.
    compute: (decay, frequency) => decay / 8.68589 / frequency,
    write: (decay, frequency) => `${decay} / 8.68589 dB / ${frequency}`,
    text: 'fall / 8.68589 dB / centre frequency',
  },
};

function formulaOf(figure: ProbeFigure, pulse: CapturePulse, context: Context): FormulaShown | null {
  const formula = formulas[figure];
  const result = written(figure, pulse.figures[figure], context);
  const numbers = inputsOf(figure).map((name) => written(name, pulse.figures[name], context));
  if (formula === undefined || result === null || numbers.includes(null)) return null;
  return {
    text: formula.text,
    withNumbers: withNumbers(
      numbers as Figure[],
      (l, u) => formula.compute(l, u),
      (l, u) => formula.write(l, u),
      result,
      context.style,
    ),
  };
}

function ofMean(figure: ProbeFigure, probe: ProbeResult, context: Context): Origin {
  const result = probe.figures[figure];
  const { title, definition, source } = probeFigures[figure];
  const known = result.quantity === null ? null : probeFigure(figure, result.quantity, context.style);
  return origin({
    title: `${title} of ${probe.probe}`,
    ...shown(known, context.style),
    inputs: probe.captureIds.map(
      (captureId): OriginInput => ({
        name: captureId,
        value: valueOfCapture(captureId, figure, context),
        asked: { kind: 'probe', of: 'capture', captureId, figure },
      }),
    ),
    source: `${definition} ${source}. ${meanInWords(result)}`,
  });
}

function valueOfCapture(captureId: string, figure: ProbeFigure, context: Context): string {
  const pulse = context.result.captures.find((each) => each.captureId === captureId);
  if (pulse === undefined) return '';
  const { quantity, hindrance } = pulse.figures[figure];
  return quantity === null
    ? `not measurable (${hindrance})`
    : figureWords(probeFigure(figure, quantity, context.style), context.style);
}

function meanInWords({ sample, by, quantity }: ProbeFigureResult): string {
  if (quantity === null || sample === null) return 'No capture gave a figure.';
  if (sample.count === 1) return 'From one capture: the uncertainty is that of its noise.';
  const from =
    by === 'repeats'
      ? 'the spread of the captures over the root of their number (type A)'
      : by === 'noise'
        ? 'what the captures’ noise implies, which is more than their spread shows'
        : 'not known';
  return `Mean of ${sample.count} captures; the uncertainty is ${from}.`;
}

function ofStated(figure: ProbeFigure, probe: ProbeResult, context: Context): Origin | null {
  const held = probe.stated.find((each) => each.figure === figure);
  if (held === undefined) return null;
  const { verdict, limits } = held;
  const { rule } = context.result;
  return origin({
    title: `${probeFigures[figure].title} of ${probe.probe}, against the stated one`,
    value: verdict === null ? 'no verdict' : verdictWords[verdict.outcome],
    formula: verdict === null ? null : decisionInNumbers('deviation', verdict, limits, context.style),
    inputs: [
      {
        name: 'measured',
        value: figureWithUncertainty(measuredOf(figure, probe, context), context.style),
        asked: { kind: 'probe', of: 'mean', probe: probe.probe, figure },
      },
      {
        name: 'stated',
        value: figureWords(probeFigure(figure, held.stated, context.style), context.style),
        asked: null,
      },
    ],
    source:
      rule === null ? 'No rule was chosen: there is no verdict.' : `${rule.title}, ${rule.edition}. ${rule.source}`,
  });
}

function measuredOf(figure: ProbeFigure, probe: ProbeResult, { style }: Context): Figure | null {
  const { quantity } = probe.figures[figure];
  return quantity === null ? null : probeFigure(figure, quantity, style);
}

function ofDifference(figure: ProbeFigure, probe: ProbeResult, context: Context): Origin | null {
  const { comparison } = probe;
  const held = comparison?.figures.find((each) => each.figure === figure);
  const reference = context.result.probes.find((each) => each.probe === comparison?.reference);
  if (held === undefined || reference === undefined) return null;
  const { difference, test, sentence } = held;
  const a = measuredOf(figure, probe, context);
  const b = measuredOf(figure, reference, context);
  const result = difference === null ? null : probeFigure(figure, difference, context.style);
  const input = (of: ProbeResult, known: Figure | null): OriginInput => ({
    name: of.probe,
    value: figureWithUncertainty(known, context.style),
    asked: { kind: 'probe', of: 'mean', probe: of.probe, figure },
  });
  return origin({
    title: `${probeFigures[figure].title}: ${probe.probe} less ${reference.probe}`,
    ...shown(result, context.style),
    formula:
      a === null || b === null || result === null
        ? null
        : {
            text: 'probe − reference probe',
            withNumbers: withNumbers(
              [a, b],
              (x, y) => x - y,
              (x, y) => `${x} − ${y}`,
              result,
              context.style,
            ),
          },
    inputs: [input(probe, a), input(reference, b)],
    source: `${sentence}${test === null ? '' : ` Welch’s t = ${test.t.toFixed(2)} with ${test.degreesOfFreedom.toFixed(1)} degrees of freedom (Welch and Satterthwaite), p = ${test.p.toPrecision(2)}.`}`,
  });
}
