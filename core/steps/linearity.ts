import { orderInTime } from '../capture/order-in-time.ts';
import type { Doubt } from '../doubt.ts';
import type { Gate } from '../gate/gate.ts';
import { type GainResult, judgeGain } from '../linearity/gain.ts';
import { heightOf, type SteppedReading } from '../linearity/height-reading.ts';
import type { LinearityPart } from '../linearity/part.ts';
import type { GainRule, LinearityRule, SteppedRule, TimeBaseRule, TwoEchoRule } from '../linearity/rule.ts';
import { publishedLinearityRules, rulesFor } from '../linearity/rule.ts';
import { levelsByTable, type StepFault } from '../linearity/step-table.ts';
import { judgeSteppedGain } from '../linearity/stepped-gain.ts';
import { judgeTimeBase, type TimeBaseResult } from '../linearity/time-base.ts';
import { judgeTwoEcho } from '../linearity/two-echo.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import type {
  GainDecision,
  LinearityDecision,
  ScreenHeightDecision,
  StepTable,
  TimeBaseDecision,
} from '../review/linearity-decision.ts';
import type { Review } from '../review/review.ts';
import { type Examination, type Plan, planFor } from './examine.ts';
import { placedEchoes } from './time-base-echoes.ts';

/** How the captures of a stepped check came into their order. */
export type StepOrder = 'step-table' | 'time-taken' | 'as-given';

interface OfSteps {
  readonly order: StepOrder;
  /** What is wrong with the step table, by its rows. */
  readonly faults: readonly StepFault[];
}

export type TimeBaseCheck = TimeBaseResult & { readonly doubts: readonly Doubt[] };
export type TwoEchoCheck = LinearityPart<TwoEchoRule> & { readonly form: 'two-echo' };
export type SteppedGainCheck = LinearityPart<SteppedRule> & OfSteps & { readonly form: 'stepped-gain' };
export type ScreenHeightCheck = TwoEchoCheck | SteppedGainCheck;
export type GainCheck = GainResult & OfSteps;

/** The checks of an instrument's linearity. A part that was not asked for, or that a problem prevented, is `null`. */
export interface LinearityResult {
  readonly timeBase: TimeBaseCheck | null;
  readonly screenHeight: ScreenHeightCheck | null;
  readonly gain: GainCheck | null;
}

type Conditioned = Pick<Review, 'conditioning'>;

/** What is to be read for the time base: every echo in the window, or each reflector in its own. */
export function planForTimeBase(review: Conditioned, decision: TimeBaseDecision): Plan {
  const { reflectors, timing, thresholdPercent } = decision;
  const flankPercent = timing === 'crossing' ? thresholdPercent : null;
  if (reflectors.kind === 'equally-spaced') {
    const { abovePercent, fromUs, toUs } = reflectors;
    return planFor(review, { echoes: { abovePercent, fromUs, toUs }, flankPercent, timing });
  }
  const gates = reflectors.list.map((reflector) => gate(`${reflector.distanceMm} mm`, reflector, thresholdPercent));
  return planFor(review, { gates, timing });
}

/** What is to be read for the screen height: both echoes, or the one. */
export function planForScreenHeight(review: Conditioned, decision: ScreenHeightDecision): Plan {
  const { thresholdPercent } = decision;
  const gates =
    decision.form === 'two-echo'
      ? [
          gate('larger echo', decision.larger, thresholdPercent),
          gate('smaller echo', decision.smaller, thresholdPercent),
        ]
      : [gate('echo', decision.window, thresholdPercent)];
  return planFor(review, { gates });
}

export function planForGain(review: Conditioned, decision: GainDecision): Plan {
  return planFor(review, { gates: [gate('echo', decision.window, decision.thresholdPercent)] });
}

function gate(
  name: string,
  { fromUs, toUs }: { readonly fromUs: number; readonly toUs: number },
  thresholdPercent: number,
): Gate {
  return { name, span: { axis: 'time', fromUs, toUs }, thresholdPercent };
}

/** One part of the linearity decision with the plan for its captures. */
export interface LinearityQuestion {
  readonly part: keyof LinearityDecision;
  readonly references: readonly string[];
  readonly plan: Plan;
}

/** What is to be examined for the parts that were asked for. */
export function planForLinearity(review: Review): LinearityQuestion[] {
  const { timeBase, screenHeight, gain } = review.linearity;
  const questions: LinearityQuestion[] = [];
  if (timeBase !== null)
    questions.push({ part: 'timeBase', references: timeBase.captures, plan: planForTimeBase(review, timeBase) });
  if (screenHeight !== null)
    questions.push({
      part: 'screenHeight',
      references: screenHeight.captures,
      plan: planForScreenHeight(review, screenHeight),
    });
  if (gain !== null) questions.push({ part: 'gain', references: gain.captures, plan: planForGain(review, gain) });
  return questions;
}

/** Judges the parts whose captures were examined. A problem in one leaves the others standing. */
export function concludeLinearity(
  { timeBase, screenHeight, gain }: LinearityDecision,
  examined: Partial<Record<keyof LinearityDecision, readonly Examination[]>>,
): { readonly result: LinearityResult; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const kept = <T extends object>(outcome: Outcome<T> | null): T | null => {
    if (outcome === null) return null;
    if (!outcome.ok) {
      problems.push(...outcome.problems);
      return null;
    }
    if ('faults' in outcome.value) problems.push(...(outcome.value.faults as readonly StepFault[]).map(faultProblem));
    return outcome.value;
  };
  const result: LinearityResult = {
    timeBase: kept(timeBase && concludeTimeBase(timeBase, examined.timeBase ?? [])),
    screenHeight: kept(screenHeight && concludeScreenHeight(screenHeight, examined.screenHeight ?? [])),
    gain: kept(gain && concludeGain(gain, examined.gain ?? [])),
  };
  return { result, problems };
}

function faultProblem({ row, code, sentence }: StepFault): Problem {
  return problem(code, { file: 'step table' }, `row ${row + 1}: ${sentence}`);
}

/** Holds the echoes of the time base against a line. Problems: an unknown rule or one of another check, and those of `judgeTimeBase`. */
export function concludeTimeBase(
  decision: TimeBaseDecision,
  examinations: readonly Examination[],
): Outcome<TimeBaseCheck> {
  const rule = ruleOf(decision.rule, 'time-base', (of): of is TimeBaseRule => of.check === 'time-base', 'time base');
  if (!rule.ok) return rule;
  const { echoes, doubts, unused, warnings } = placedEchoes(decision, examinations);
  const judged = judgeTimeBase({
    echoes,
    places: decision.reflectors.kind === 'equally-spaced' ? 'numbers' : 'distances',
    spacingMm: decision.reflectors.kind === 'equally-spaced' ? decision.reflectors.spacingMm : null,
    rule: rule.value,
    line: decision.line,
    range: decision.range,
    decision: decision.decision,
  });
  if (!judged.ok) return judged;
  const flags = [...new Set([...judged.value.flags, ...doubts.map(({ flag }) => flag)])];
  const check = { ...judged.value, flags, doubts, unused, warnings: [...warnings, ...judged.value.warnings] };
  return success(check, check.warnings);
}

/** Judges the screen height. Problems: an unknown rule, or one of another check or form. */
export function concludeScreenHeight(
  decision: ScreenHeightDecision,
  examinations: readonly Examination[],
): Outcome<ScreenHeightCheck> {
  if (decision.form === 'two-echo') {
    const rule = ruleOf(
      decision.rule,
      'screen-height',
      (of): of is TwoEchoRule => of.form === 'two-echo',
      'screen height, two echoes',
    );
    if (!rule.ok) return rule;
    const { examinations: ordered } = inTime(examinations);
    const pairs = ordered.map((examination) => ({
      captureId: examination.capture.captureId,
      larger: heightOf(examination.readings[0], comparable(examination)),
      smaller: heightOf(examination.readings[1], comparable(examination)),
    }));
    const judged = judgeTwoEcho(pairs, rule.value, decision.decision);
    const warnings = [...judged.warnings, ...ordered.filter((of) => of.isHalfWave).map(halfWaveWarning)];
    return success({ ...judged, warnings, form: 'two-echo' }, warnings);
  }
  const rule = ruleOf(
    decision.rule,
    'screen-height',
    (of): of is SteppedRule => of.form !== 'two-echo',
    'screen height, one echo stepped by the gain',
  );
  if (!rule.ok) return rule;
  const { readings, order, faults } = stepped(examinations, decision.steps);
  const judged = judgeSteppedGain(readings, rule.value, decision.decision);
  return success({ ...judged, order, faults, form: 'stepped-gain' });
}

/** On a half wave the heights of two different echoes are not known to within the noise: by several per cent of themselves, as the carrier's phase has it (measured, 5 % at a bandwidth of 60 %). */
function comparable(examination: Examination): Pick<Examination, 'uHeightPercent' | 'cutOffPercent'> {
  return examination.isHalfWave ? { ...examination, uHeightPercent: null } : examination;
}

function halfWaveWarning({ capture }: Examination): Problem {
  const sentence =
    'the record shows one half wave alone, on which the heights of two different echoes cannot be compared closely: no uncertainty can be stated, and no step can pass; capture the RF signal or both half waves';
  return problem('half-wave-heights', { file: capture.captureId }, sentence);
}

/** Judges the gain control. Problems: an unknown rule or one of another check. */
export function concludeGain(decision: GainDecision, examinations: readonly Examination[]): Outcome<GainCheck> {
  const rule = ruleOf(decision.rule, 'gain', (of): of is GainRule => of.check === 'gain', 'gain');
  if (!rule.ok) return rule;
  const { readings, order, faults } = stepped(examinations, decision.steps);
  return success({ ...judgeGain(readings, rule.value, decision.decision), order, faults });
}

type OfCheck<Check extends LinearityRule['check']> = Extract<LinearityRule, { check: Check }>;

function ruleOf<Check extends LinearityRule['check'], Rule extends OfCheck<Check>>(
  choice: TimeBaseDecision['rule'],
  check: Check,
  fits: (rule: OfCheck<Check>) => rule is Rule,
  words: string,
): Outcome<Rule | null> {
  if (choice === null) return success(null);
  const rule = choice.kind === 'own' ? choice.rule : publishedLinearityRules.find(({ name }) => name === choice.name);
  const names = rulesFor(check)
    .filter(fits)
    .map(({ name }) => name);
  if (rule === undefined) {
    const sentence = `no published rule is called "${choice.kind === 'published' ? choice.name : ''}"; for the ${words} there are ${names.join(', ')}, or give a rule file of your own`;
    return failure(problem('unknown-rule', { file: 'linearity' }, sentence));
  }
  if (rule.check !== check || !fits(rule as OfCheck<Check>)) {
    const sentence = `the rule ${rule.name} is not one for this check (${words}); there are ${names.join(', ')}`;
    return failure(problem('rule-of-another-check', { file: 'linearity' }, sentence));
  }
  return success(rule as Rule);
}

/** In order of the time taken, where every capture says it. */
function inTime(examinations: readonly Examination[]): {
  readonly examinations: readonly Examination[];
  readonly order: StepOrder;
} {
  const { order, unplaced } = orderInTime(examinations.map(({ capture }) => capture.takenAt));
  if (unplaced.length > 0) return { examinations, order: 'as-given' };
  return { examinations: order.map((i) => examinations[i]), order: 'time-taken' };
}

function stepped(
  examinations: readonly Examination[],
  table: StepTable | null,
): { readonly readings: readonly SteppedReading[] } & OfSteps {
  const at = (examination: Examination, levelDb: number | null): SteppedReading => ({
    ...heightOf(examination.readings[0], examination),
    levelDb,
  });
  if (table === null) {
    const { examinations: ordered, order } = inTime(examinations);
    return { readings: ordered.map((examination) => at(examination, examination.capture.gainDb)), order, faults: [] };
  }
  const { order, levelsDb, faults } = levelsByTable(
    table,
    examinations.map(({ capture }) => capture),
  );
  return { readings: order.map((i) => at(examinations[i], levelsDb[i])), order: 'step-table', faults };
}
