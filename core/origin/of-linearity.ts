import type { AssessedStep, Term } from '../check/assessed-step.ts';
import { arithmeticOf, linearityFormulas, uncertaintyArithmetic } from '../linearity/formulas.ts';
import type { GainPoint } from '../linearity/gain.ts';
import type { LinearityStep } from '../linearity/linearity-step.ts';
import type { LinearityPart } from '../linearity/part.ts';
import type { LinearityRule } from '../linearity/rule.ts';
import type { FigureAsked, LinearityPartName, Origin, OriginInput } from '../origin.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { Quantity } from '../units/quantity.ts';
import {
  conditioningInWords,
  flagsShown,
  heightInWords,
  type OriginContext,
  origin,
  shown,
  timingInWords,
} from './context.ts';
import { decisionInNumbers, limitsShown } from './decision-in-numbers.ts';
import { type Figure, figures, figureWithUncertainty } from './figure.ts';
import { verdictWords } from './verdict-words.ts';

type Asked = Extract<FigureAsked, { kind: 'linearity' }>;

interface OfPart extends OriginContext {
  readonly name: LinearityPartName;
  readonly part: LinearityPart<LinearityRule>;
}

interface AtStep extends OfPart {
  readonly asked: Extract<Asked, { of: 'steps' | 'conclusions' }>;
  readonly step: LinearityStep;
}

/** Where a figure of the instrument's linearity comes from: of a step, of what follows from all of them, of a setting of the gain, of the whole check. */
export function originInLinearity(asked: Asked, context: OriginContext): Origin | null {
  const part = context.evaluation.linearity[asked.part];
  if (part === null) return null;
  const ofPart: OfPart = { ...context, name: asked.part, part };
  if (asked.of === 'check') return verdictOfCheck(ofPart);
  if (asked.of === 'points') {
    const point = context.evaluation.linearity.gain?.points[asked.index];
    return point === undefined ? null : totalOfPoint(point, ofPart);
  }
  const step = part[asked.of][asked.index];
  if (step === undefined) return null;
  const made = ofStep({ ...ofPart, asked, step });
  return {
    ...made,
    title: `${made.title}: ${step.name}`,
    capture: step.captureId === null ? null : { captureId: step.captureId, samples: step.from, timeUs: step.timeUs },
    flags: flagsShown(step.flags),
  };
}

function ofStep(at: AtStep): Origin {
  switch (at.asked.figure) {
    case 'read':
      return readOrigin(at);
    case 'deviation':
      return deviationOrigin(at);
    case 'verdict':
      return verdictOrigin(at);
  }
}

function figureOf(
  quantity: Quantity | null,
  unit: AssessedStep['readUnit'] | Term['unit'],
  style: FigureStyle,
): Figure | null {
  if (quantity === null) return null;
  // What is exact is written without an uncertainty of nought.
  const known = quantity.standardUncertainty === 0 ? quantity.value : quantity;
  switch (unit) {
    case 'µs':
      return figures.echoTimeUs(known, style);
    case 'mm':
      return figures.residualMm(known, style);
    case 'dB':
      return { ...figures.levelDb(known, style), ...(typeof known === 'number' ? { decimals: 3 } : {}) };
    case '%':
      return figures.deviationPercent(known, style);
    case '':
      return { value: quantity.value, decimals: 2, unit: '', standardUncertainty: null };
  }
}

function readOrigin({ step, name, review, style }: AtStep): Origin {
  const { timeBase } = review.linearity;
  const isTime = step.readUnit === 'µs';
  return origin({
    title: isTime ? 'Time of the echo' : 'Height of the echo',
    ...shown(figureOf(step.read, step.readUnit, style), style),
    inputs: [{ name: 'conditioning', value: conditioningInWords(review.conditioning), asked: null }],
    source:
      name === 'timeBase' && isTime
        ? timingInWords(timeBase?.timing ?? 'peak', review.conditioning)
        : `${heightInWords(review.conditioning)} Its uncertainty is the standard deviation of the capture’s noise, at least that of one count’s rounding.`,
  });
}

/** How the uncertainty comes about where a deviation's terms are not independent of one another. */
const dependent: Readonly<Record<'timeBase' | 'screenHeight' | 'gain', string>> = {
  timeBase:
    'Uncertainty: that of every echo, by its share in the deviation, through the line as well; that of the range is left out.',
  screenHeight: '',
  gain: 'Uncertainty: that of the first and the last height of each signal between the two settings; heights between them cancel.',
};

function deviationOrigin({ step, name, style, asked }: AtStep): Origin {
  const { formula, terms, unit, deviation } = step;
  const title = unit === 'dB' ? 'Error' : 'Deviation';
  if (formula === null || deviation === null)
    return origin({ title, ...shown(null, style), source: step.remark ?? 'Not assessed.' });
  const uncertaintyFormula = uncertaintyArithmetic(formula, terms, unit, style);
  const { source } = linearityFormulas[formula];
  const readIndex = terms.findIndex(({ value }) => value === step.read);
  return origin({
    title,
    ...shown(figureOf(deviation, unit, style), style),
    formula: arithmeticOf(formula, terms, unit, style),
    uncertaintyFormula,
    inputs: terms.map(
      (term, i): OriginInput => ({
        name: term.name,
        value: figureWithUncertainty(figureOf(term.value, term.unit, style), style),
        asked: i === readIndex && asked.of === 'steps' ? { ...asked, figure: 'read' } : null,
      }),
    ),
    source: [`${source}.`, uncertaintyFormula === null ? dependent[name] : '', step.remark ?? '']
      .filter((part) => part !== '')
      .join(' '),
  });
}

function verdictOrigin({ step, part, style, asked }: AtStep): Origin {
  const { verdict, limits, deviation, unit } = step;
  const name = unit === 'dB' ? 'error' : 'deviation';
  return origin({
    title: 'Verdict',
    value: verdict === null ? 'none' : verdictWords[verdict.outcome],
    formula: verdict === null ? null : decisionInNumbers(name, verdict, limits, style),
    inputs: [
      {
        name,
        value: figureWithUncertainty(figureOf(deviation, unit, style), style),
        asked: { ...asked, figure: 'deviation' },
      },
      ...(limits === null ? [] : [{ name: 'allowed', value: limitsShown(limits, unit, style), asked: null }]),
    ],
    source: [ruleInWords(part), step.remark ?? ''].filter((words) => words !== '').join(' '),
  });
}

function verdictOfCheck({ part, name }: OfPart): Origin {
  const inputs = (['steps', 'conclusions'] as const).flatMap((of) =>
    part[of].flatMap(({ name: step, verdict }, index): OriginInput[] =>
      verdict === null
        ? []
        : [
            {
              name: step,
              value: verdictWords[verdict.outcome],
              asked: { kind: 'linearity', part: name, of, index, figure: 'verdict' },
            },
          ],
    ),
  );
  const { outcome } = part;
  return origin({
    title: 'Verdict of the check',
    value: outcome === null ? 'none' : verdictWords[outcome],
    formula:
      outcome === null
        ? null
        : {
            text: 'the worst of its steps; a step that was not assessed keeps the check from passing',
            withNumbers: `the worst of ${[...new Set(inputs.map(({ value }) => value))].join(', ')}: ${verdictWords[outcome]}`,
          },
    inputs,
    source: ruleInWords(part),
  });
}

function totalOfPoint(point: GainPoint, { review, style }: OfPart): Origin {
  const { totalErrorDb, stepErrorDb, captureId } = point;
  return origin({
    title: `Total error at ${Number(point.levelDb.toFixed(1))} dB`,
    ...shown(figureOf(totalErrorDb, 'dB', style), style),
    inputs: [
      {
        name: 'error of the step to here',
        value: figureWithUncertainty(figureOf(stepErrorDb, 'dB', style), style),
        asked: null,
      },
      { name: 'height', value: figureWithUncertainty(figureOf(point.percent, '%', style), style), asked: null },
      { name: 'conditioning', value: conditioningInWords(review.conditioning), asked: null },
    ],
    source: `Sum of the errors of the steps from the first setting of the run. ${dependent.gain}`,
    capture: { captureId, samples: null, timeUs: null },
  });
}

function ruleInWords({ rule }: LinearityPart<LinearityRule>): string {
  if (rule === null) return 'No rule was chosen: there is no verdict.';
  return `${rule.title}, ${rule.edition}, ${rule.clause}. ${rule.source}`;
}
