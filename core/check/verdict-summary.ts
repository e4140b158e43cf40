import type { CaptureId } from '../capture/capture.ts';
import type { Evaluation } from '../evaluate.ts';
import type { Flag } from '../flag.ts';
import { decisionInNumbers } from '../origin/decision-in-numbers.ts';
import { figures, figureWords } from '../origin/figure.ts';
import { originOf } from '../origin.ts';
import type { Review } from '../review/review.ts';
import type { FigureStyle } from '../units/figure-style.ts';
import type { Arithmetic, AssessedStep } from './assessed-step.ts';
import type { DriftCheck, DriftedReflector, DriftResult } from './drift.ts';
import { type Limits, type Verdict, type VerdictOutcome, worstOf } from './verdict.ts';

/** What a verdict is about. */
export type JudgedPart = 'time-base' | 'screen-height' | 'gain' | 'drift';

export const judgedParts: Readonly<Record<JudgedPart, string>> = {
  'time-base': 'time-base linearity',
  'screen-height': 'screen-height linearity',
  gain: 'gain linearity',
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
  /** How the measured figure was made, and how it lies to the limits. */
  readonly arithmetic: readonly Arithmetic[];
  readonly flags: readonly Flag[];
  readonly remark: string | null;
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
  const all = [...ofDrift(review, evaluation, style)];
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
  const made = originOf({ kind: 'drift', captureId, distanceMm, figure }, review, evaluation, style);
  return {
    part: 'drift',
    judged: `${name} at ${figureWords(figures.statedMm(distanceMm, style), style)}`,
    captureId,
    takenAt,
    verdict,
    limits,
    rule: drift.rule!,
    arithmetic: [...(made?.formula ? [made.formula] : []), decisionInNumbers(name, verdict, limits, style)],
    flags,
    remark: null,
  };
}

/** A check can be no pass although each of its verdicts is one: where the rule limits the amplitude and no reference is known. */
function ofWholeCheck({ rule, decision }: DriftResult, check: DriftCheck): SummarisedVerdict[] {
  const own = worstOf(check.reflectors.flatMap((r) => r.verdicts.map((verdict) => verdict.outcome)));
  const nothingJudged = check.reflectors.every((r) => r.verdicts.length === 0);
  if (rule === null || (!nothingJudged && (own !== 'pass' || check.verdict === 'pass'))) return [];
  const verdict: Verdict = {
    measured: null,
    limit: 0,
    unit: 'dB',
    rule: rule.name,
    clause: rule.clause,
    decision,
    outcome: 'not-assessed',
  };
  const remark = 'The rule limits the amplitude, but what it was at the calibration is not known.';
  const judged = 'amplitude change';
  const { captureId, takenAt } = check;
  return [
    {
      part: 'drift',
      judged,
      captureId,
      takenAt,
      verdict,
      limits: null,
      rule,
      arithmetic: [],
      flags: check.flags,
      remark,
    },
  ];
}

/** A step's own arithmetic and its decision. */
export function ofStep(
  part: JudgedPart,
  step: AssessedStep,
  rule: SummarisedVerdict['rule'],
  takenAt: string | null,
  style: FigureStyle,
): SummarisedVerdict | null {
  if (step.verdict === null) return null;
  return {
    part,
    judged: step.name,
    captureId: step.captureId,
    takenAt,
    verdict: step.verdict,
    limits: step.limits,
    rule,
    arithmetic: [
      ...(step.arithmetic === null ? [] : [step.arithmetic]),
      decisionInNumbers('deviation', step.verdict, step.limits, style),
    ],
    flags: step.flags,
    remark: step.remark,
  };
}
