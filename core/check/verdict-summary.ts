import type { CaptureId } from '../capture/capture.ts';
import type { Evaluation } from '../evaluate.ts';
import type { Flag } from '../flag.ts';
import type { LinearityPart } from '../linearity/part.ts';
import { type LinearityRule, publishedLinearityRules } from '../linearity/rule.ts';
import { decisionInNumbers } from '../origin/decision-in-numbers.ts';
import { figures, figureWords } from '../origin/figure.ts';
import { type FigureAsked, type LinearityPartName, originOf } from '../origin.ts';
import type { Review } from '../review/review.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import { angleBeamVerdicts } from './angle-beam-verdicts.ts';
import type { Arithmetic, AssessedStep } from './assessed-step.ts';
import type { DriftCheck, DriftedReflector, DriftResult } from './drift.ts';
import { publishedRules } from './rule.ts';
import { statedVerdicts } from './stated-verdicts.ts';
import { type Limits, type Verdict, type VerdictOutcome, worstOf } from './verdict.ts';

/** What a verdict is about. */
export type JudgedPart = 'time-base' | 'screen-height' | 'gain' | 'angle-beam' | 'probe' | 'drift';

export const judgedParts: Readonly<Record<JudgedPart, string>> = {
  'time-base': 'time-base linearity',
  'screen-height': 'screen-height linearity',
  gain: 'gain linearity',
  'angle-beam': 'index point and angle of the probe',
  probe: 'probe against its stated figures',
  drift: 'drift',
};

/** One verdict, with all that it rests on. */
export interface SummarisedVerdict {
  readonly part: JudgedPart;
  /** What was held against the rule: `distance error at 100 mm`, `echo 3`. */
  readonly judged: string;
  /** `null` where it is of several captures, or of none. */
  readonly captureId: CaptureId | null;
  readonly takenAt: string | null;
  /** Measured (U = 2 u), limit on its side, unit, rule, clause, decision rule, outcome. */
  readonly verdict: Verdict;
  /** Both sides; `null` where the rule's limit has none that a number could be held against. */
  readonly limits: Limits | null;
  readonly rule: { readonly name: string; readonly title: string; readonly edition: string; readonly source: string };
  /** How the measured figure was made, and how it lies to the limits: put into words when it is read. */
  readonly arithmetic: () => readonly Arithmetic[];
  readonly flags: readonly Flag[];
  readonly remark: string | null;
  /** What to ask to learn where the verdict comes from; `null` where nothing could be held against the rule. */
  readonly asked: FigureAsked | null;
}

export type VerdictCounts = Readonly<Record<VerdictOutcome, number>>;

export interface VerdictSummary {
  /** What fails first, then what is inconclusive, what was not assessed, what passes; each in the order of the parts and their steps. */
  readonly verdicts: readonly SummarisedVerdict[];
  readonly counts: VerdictCounts;
  readonly parts: readonly {
    readonly part: JudgedPart;
    readonly outcome: VerdictOutcome;
    readonly counts: VerdictCounts;
  }[];
  /** The worst of all; `null` where no rule was chosen for anything. */
  readonly outcome: VerdictOutcome | null;
}

/** In the order in which they are to be looked at. */
export const outcomesInOrder: readonly VerdictOutcome[] = ['fail', 'inconclusive', 'not-assessed', 'pass'];

/**
 * Every verdict of an evaluation in one list. What was measured without a rule has no verdict and is not here; readings against evaluation levels are not
 * either, for a level asks for an evaluation and judges nothing.
 */
export function verdictSummary(review: Review, evaluation: Evaluation, style: FigureStyle): VerdictSummary {
  const all = [
    ...ofLinearity(evaluation, style),
    ...angleBeamVerdicts(review, evaluation, style),
    ...statedVerdicts(review, evaluation, style),
    ...ofDrift(review, evaluation, style),
    ...neverHeld(review, evaluation),
  ];
  const verdicts = outcomesInOrder.flatMap((outcome) => all.filter(({ verdict }) => verdict.outcome === outcome));
  const parts = (Object.keys(judgedParts) as JudgedPart[]).flatMap((part) => {
    const own = all.filter((entry) => entry.part === part);
    return own.length === 0 ? [] : [{ part, outcome: worstOf(outcomesOf(own)), counts: countsOf(own) }];
  });
  return { verdicts, counts: countsOf(all), parts, outcome: all.length === 0 ? null : worstOf(outcomesOf(all)) };
}

const outcomesOf = (entries: readonly SummarisedVerdict[]) => entries.map(({ verdict }) => verdict.outcome);

function countsOf(entries: readonly SummarisedVerdict[]): VerdictCounts {
  const count = (outcome: VerdictOutcome) => entries.filter(({ verdict }) => verdict.outcome === outcome).length;
  return {
    fail: count('fail'),
    inconclusive: count('inconclusive'),
    'not-assessed': count('not-assessed'),
    pass: count('pass'),
  };
}

function ofDrift(review: Review, evaluation: Evaluation, style: FigureStyle): SummarisedVerdict[] {
  const { drift } = evaluation;
  if (drift === null || drift.rule === null) return [];
  return drift.checks.flatMap((check) => [
    ...check.reflectors.flatMap((reflector) =>
      reflector.verdicts.map((verdict) => ofReflector(review, evaluation, style, { drift, check, reflector, verdict })),
    ),
    ...ofWholeCheck(drift, check),
  ]);
}

interface JudgedReflector {
  readonly drift: DriftResult;
  readonly check: DriftCheck;
  readonly reflector: DriftedReflector;
  readonly verdict: Verdict;
}

function ofReflector(
  review: Review,
  evaluation: Evaluation,
  style: FigureStyle,
  { drift, check, reflector, verdict }: JudgedReflector,
): SummarisedVerdict {
  const { captureId, takenAt } = check;
  const { distanceMm, flags } = reflector;
  const name = verdict.unit === 'mm' ? 'distance error' : 'amplitude change';
  const limits = verdict.unit === 'mm' ? reflector.distanceLimitsMm : reflector.amplitudeLimitsDb;
  const figure = verdict.unit === 'mm' ? 'distance-error' : 'amplitude-change';
  const arithmetic = () => {
    const made = originOf({ kind: 'drift', captureId, distanceMm, figure }, review, evaluation, style);
    return [...(made?.formula ? [made.formula] : []), decisionInNumbers(name, verdict, limits, style)];
  };
  return {
    part: 'drift',
    judged: `${name} at ${figureWords(figures.statedMm(distanceMm, style), style)}`,
    captureId,
    takenAt,
    verdict,
    limits,
    rule: drift.rule!,
    arithmetic,
    flags,
    remark: null,
    asked: { kind: 'drift', captureId, distanceMm, figure: 'verdict' },
  };
}

/** What the rule limits and no reflector of the check has a verdict on: the check passes in nothing then, and the list must say why. */
function ofWholeCheck({ rule, decision }: DriftResult, check: DriftCheck): SummarisedVerdict[] {
  if (rule === null) return [];
  const { captureId, takenAt, flags, reflectors } = check;
  const missing = (judged: string, remark: string) => [
    {
      ...notAssessed({ part: 'drift', judged, captureId, takenAt, rule, flags, remark }, decision),
      asked: { kind: 'drift' as const, captureId, distanceMm: null, figure: 'verdict' as const },
    },
  ];
  if (reflectors.length === 0) return missing('all of it', 'No reflector was named to hold this check against.');
  const hasReference = reflectors.some(({ reference }) => reference !== null && reference.amplitudePercent !== null);
  if (rule.amplitude === null || hasReference) return [];
  return missing('amplitude change', 'The rule limits the amplitude, but what it was at the calibration is not known.');
}

function ofLinearity({ linearity, captures }: Evaluation, style: FigureStyle): SummarisedVerdict[] {
  const takenAt = new Map(captures.map((capture) => [capture.captureId, capture.takenAt]));
  const ofPart = (part: JudgedPart, name: LinearityPartName) => {
    const found: LinearityPart<LinearityRule> | null = linearity[name];
    if (found === null || found.rule === null) return [];
    const { rule } = found;
    const time = (step: AssessedStep) => (step.captureId === null ? null : (takenAt.get(step.captureId) ?? null));
    return (['steps', 'conclusions'] as const).flatMap((of) =>
      found[of].flatMap((step, index) =>
        ofStep(part, step, rule, time(step), style).map((entry) => ({
          ...entry,
          asked: { kind: 'linearity' as const, part: name, of, index, figure: 'verdict' as const },
        })),
      ),
    );
  };
  return [...ofPart('time-base', 'timeBase'), ...ofPart('screen-height', 'screenHeight'), ...ofPart('gain', 'gain')];
}

/** A rule was chosen, and a problem left nothing to hold against it: not assessed, so that the rest does not pass for the whole. */
function neverHeld(review: Review, evaluation: Evaluation): SummarisedVerdict[] {
  const { timeBase, screenHeight, gain } = review.linearity;
  const { linearity, drift } = evaluation;
  return [
    ...notHeld('time-base', timeBase?.rule, linearity.timeBase),
    ...notHeld('screen-height', screenHeight?.rule, linearity.screenHeight),
    ...notHeld('gain', gain?.rule, linearity.gain),
    ...notHeld('drift', review.drift?.rule, drift),
  ];
}

type RuleShown = SummarisedVerdict['rule'] & { readonly clause: string };
type RuleChosen =
  | { readonly kind: 'published'; readonly name: string }
  | { readonly kind: 'own'; readonly rule: RuleShown }
  | null;

function notHeld(part: JudgedPart, chosen: RuleChosen | undefined, result: object | null): SummarisedVerdict[] {
  if (chosen == null || result !== null) return [];
  const rule = chosen.kind === 'own' ? chosen.rule : publishedRule(part, chosen.name);
  const remark = 'Nothing could be held against the rule; the problems say why.';
  return [notAssessed({ part, judged: 'all of it', captureId: null, takenAt: null, rule, flags: [], remark })];
}

function publishedRule(part: JudgedPart, name: string): RuleShown {
  const published: readonly RuleShown[] = part === 'drift' ? publishedRules : publishedLinearityRules;
  const nowhere = { name, title: name, edition: '', clause: '', source: 'No published rule has this name.' };
  return published.find((rule) => rule.name === name) ?? nowhere;
}

function notAssessed(
  of: Pick<SummarisedVerdict, 'part' | 'judged' | 'captureId' | 'takenAt' | 'flags' | 'remark'> & {
    readonly rule: RuleShown;
  },
  decision: Verdict['decision'] = 'with-uncertainty',
): SummarisedVerdict {
  const { name, clause } = of.rule;
  const verdict: Verdict = {
    measured: null,
    limit: 0,
    unit: of.part === 'drift' || of.part === 'gain' ? 'dB' : '%',
    rule: name,
    clause,
    decision,
    outcome: 'not-assessed',
  };
  return { ...of, verdict, limits: null, arithmetic: () => [], asked: null };
}

/** A step's own arithmetic, and its decision. */
function ofStep(
  part: JudgedPart,
  step: AssessedStep,
  rule: SummarisedVerdict['rule'],
  takenAt: string | null,
  style: FigureStyle,
): Omit<SummarisedVerdict, 'asked'>[] {
  const { name, captureId, verdict, limits, flags, remark } = step;
  if (verdict === null) return [];
  const arithmetic = () => [
    ...(step.arithmetic === null ? [] : [step.arithmetic]),
    decisionInNumbers('deviation', verdict, limits, style),
  ];
  return [{ part, judged: name, captureId, takenAt, verdict, limits, rule, arithmetic, flags, remark }];
}
