import type { DistanceCalibration } from '../calibration/distance.ts';
import type { CaptureId } from '../capture/capture.ts';
import { orderInTime } from '../capture/order-in-time.ts';
import type { SampleRange } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import type { Quantity } from '../units/quantity.ts';
import { againstLine, lineOf } from './check-line.ts';
import { causeTexts, changeOfLine, type DriftCause } from './drift-cause.ts';
import { consequencesOf, remarksOf } from './drift-consequences.ts';
import { judgeReflector } from './judge-reflector.ts';
import { type DriftRule, needsRange } from './rule.ts';
import { type CalibratedReflector, sameBlock, standsOn } from './same-block.ts';
import { type DecisionRule, type Limits, type Verdict, type VerdictOutcome, worstOf } from './verdict.ts';

/** One reflector as a check capture shows it; `null` time where it has no echo there. */
export interface CheckedReflector {
  readonly distanceMm: number;
  /** Of the distance itself, 0 where it is not given; it counts unless the calibration was made on the same reflector. */
  readonly uDistanceMm?: number;
  readonly timeUs: Quantity | null;
  readonly amplitudePercent: number | null;
  /** Peak against rms of the noise: the uncertainty of the amplitude follows from it; `null` where the noise is not known. */
  readonly signalToNoiseDb: number | null;
  readonly flags: readonly Flag[];
  /** The samples it was read from. */
  readonly from: SampleRange | null;
}

/** One check capture, read at the reflectors of the calibration. */
export interface CheckCapture {
  readonly captureId: CaptureId;
  readonly takenAt: string | null;
  readonly gainDb: number | null;
  /** The block that the capture names; not given where it names none. */
  readonly block?: string | null;
  readonly reflectors: readonly CheckedReflector[];
}

/** Height of a reflector when the calibration was made, taken as exact; `null` amplitude: nothing is asked of it there. */
export interface ReferenceHeight {
  readonly distanceMm: number;
  readonly amplitudePercent: number | null;
  readonly gainDb: number | null;
}

export interface DriftInput {
  readonly checks: readonly CheckCapture[];
  readonly calibration: DistanceCalibration;
  readonly reference: readonly ReferenceHeight[];
  /** The calibration's reflectors as they were seen; not given where that is not known. */
  readonly calibrated?: readonly CalibratedReflector[];
  readonly rule: DriftRule | null;
  /** The full sweep; a rule with limits in per cent of the range needs it. */
  readonly rangeMm: number | null;
  /** `with-uncertainty` where nothing else is chosen. */
  readonly decision?: DecisionRule;
}

export interface DriftedReflector {
  readonly distanceMm: number;
  /** The echo as the check capture shows it. */
  readonly seen: CheckedReflector;
  /** Where the calibration puts that echo. */
  readonly soundPathMm: Quantity | null;
  readonly distanceErrorMm: Quantity | null;
  /** The block that the calibration was made on, too, so that the tolerance of this distance cancels; `null`: it counts. */
  readonly sameBlock: string | null;
  readonly amplitudeChangeDb: Quantity | null;
  /** What its amplitude is held against. */
  readonly reference: ReferenceHeight | null;
  /** What the rule allows here on either side; `null` where it limits nothing of the kind. */
  readonly distanceLimitsMm: Limits | null;
  readonly amplitudeLimitsDb: Limits | null;
  /** Distance, then amplitude, as far as the rule limits them. */
  readonly verdicts: readonly Verdict[];
  readonly flags: readonly Flag[];
}

export interface DriftCheck {
  readonly captureId: CaptureId;
  readonly takenAt: string | null;
  readonly gainDb: number | null;
  readonly reflectors: readonly DriftedReflector[];
  /** The line through its own reflectors; `null` with fewer than two. */
  readonly line: Pick<DistanceCalibration, 'velocityMPerS' | 'zeroOffsetUs'> | null;
  /** The calibration's line as sure as it is where that is held against it, and the block on which both were made, so that its tolerance cancels (`null`: it counts). */
  readonly heldAgainst: Pick<DistanceCalibration, 'velocityMPerS' | 'zeroOffsetUs'>;
  readonly sameBlock: string | null;
  /** Both need two reflectors with an echo; `null` otherwise. */
  readonly velocityChangePercent: Quantity | null;
  readonly zeroOffsetChangeUs: Quantity | null;
  /** `null` with fewer than two reflectors, and where an uncertainty is not known. */
  readonly cause: DriftCause | null;
  /** The cause in a sentence. */
  readonly causeSentence: string | null;
  /** The worst of its quantities; what could not be assessed makes it `inconclusive`, never `pass`. `null` without a rule. */
  readonly verdict: Exclude<VerdictOutcome, 'not-assessed'> | null;
  /** What the rule says must be done, where the verdict is not `pass`. */
  readonly consequences: readonly string[];
  /** What the rule asks for although its limits are kept. */
  readonly remarks: readonly string[];
  readonly flags: readonly Flag[];
}

export interface DriftResult {
  /** In order of the time taken. */
  readonly checks: readonly DriftCheck[];
  readonly firstFailing: CaptureId | null;
  /** The last passing check before the first failing one (the last passing of all where none fails). */
  readonly lastPassing: CaptureId | null;
  readonly rule: DriftRule | null;
  readonly decision: DecisionRule;
  readonly rangeMm: number | null;
  /** What was taken for granted, and what hindered a figure. */
  readonly warnings: readonly Problem[];
}

/**
 * Holds check captures against the calibration, in order of the time taken.
 *
 *     distance error   = sound path by the calibration − known distance      (mm; u of the fit with its covariance, and of
 *                                                                            the distance, both without the tolerance of
 *                                                                            a block that served both: it cancels)
 *     amplitude change = 20 · log10(amplitude now / reference), gain out     (dB; u = 20/ln 10 · noise / amplitude)
 *
 * A saturated echo has no amplitude change, a missing one neither figure; both stay `not-assessed` and the check cannot pass. The 10 % of a limit 'of the reading'
 * are taken of the known distance. With two reflectors or more the change is told apart into zero offset and velocity (`changeOfLine`).
 * A drift is never interpolated in time: the last passing check bounds what is in doubt.
 *
 * Problems: `no-checks`, `range-missing`, `range-not-positive`, `reference-not-positive`. Warnings: `no-time-taken`, `gain-not-stated`,
 * `gain-partly-stated`, `no-reference-amplitude`, and what hinders a line through the reflectors of a check.
 * Sources: the rule's own `source`; decision with uncertainty: reasoning of ISO 14253-1 (from memory).
 */
export function judgeDrift(input: DriftInput): Outcome<DriftResult> {
  const problems = inputProblems(input);
  if (problems.length > 0) return failure(...problems);
  const { order, unplaced } = orderInTime(input.checks.map((check) => check.takenAt));
  const warnings: Problem[] = unplaced.map((i) =>
    problem(
      'no-time-taken',
      { file: input.checks[i].captureId },
      'no usable time is stated for this check: it is put after those that have one, in the order given',
    ),
  );
  const asksAmplitude = input.rule !== null && input.rule.amplitude !== null;
  if (asksAmplitude && !input.reference.some((height) => height.amplitudePercent !== null)) {
    warnings.push(
      problem(
        'no-reference-amplitude',
        { file: 'drift' },
        'the rule limits the amplitude, but no reference amplitude is known: no check can pass; give the amplitude at calibration',
      ),
    );
  }
  const checks: DriftCheck[] = [];
  let lastPassing: DriftCheck | null = null;
  for (const i of order) {
    const check = judgeCheck(input.checks[i], input, lastPassing, warnings);
    checks.push(check);
    if (check.verdict === 'pass') lastPassing = check;
  }
  const failing = checks.findIndex((check) => check.verdict === 'fail');
  const before = failing < 0 ? checks : checks.slice(0, failing);
  return success(
    {
      checks,
      firstFailing: checks[failing]?.captureId ?? null,
      lastPassing: before.findLast((check) => check.verdict === 'pass')?.captureId ?? null,
      rule: input.rule,
      decision: input.decision ?? 'with-uncertainty',
      rangeMm: input.rangeMm,
      warnings,
    },
    warnings,
  );
}

function inputProblems({ checks, reference, rule, rangeMm }: DriftInput): Problem[] {
  const problems: Problem[] = [];
  const say = (code: string, sentence: string) => problems.push(problem(code, { file: 'drift' }, sentence));
  if (checks.length === 0) say('no-checks', 'there is no check capture; name at least one');
  if (rangeMm !== null && !(rangeMm > 0 && Number.isFinite(rangeMm)))
    say('range-not-positive', 'the range must be a length above 0; give the full sweep');
  if (rangeMm === null && rule !== null && needsRange(rule)) {
    say('range-missing', `the rule ${rule.name} limits the distance in per cent of the range: give the full sweep`);
  }
  for (const { distanceMm, amplitudePercent } of reference) {
    if (amplitudePercent !== null && !(amplitudePercent > 0 && Number.isFinite(amplitudePercent))) {
      say(
        'reference-not-positive',
        `the reference amplitude at ${distanceMm} mm must be above 0 % of full screen height`,
      );
    }
  }
  return problems;
}

function judgeCheck(
  check: CheckCapture,
  input: DriftInput,
  lastPassing: DriftCheck | null,
  warnings: Problem[],
): DriftCheck {
  const { rule } = input;
  const same = sameBlock(check.block ?? null, input.calibrated ?? []);
  const reflectors = check.reflectors.map((reflector) => judgeReflector(check, reflector, input, same, warnings));
  const seen = check.reflectors.filter((reflector) => reflector.timeUs !== null);
  const cancels = same !== null && seen.every(({ distanceMm }) => standsOn(same, distanceMm)) ? same : null;
  const line = lineOf(check, seen, cancels, warnings);
  const heldAgainst =
    line === null || cancels === null ? input.calibration : againstLine(input.calibration, cancels, line);
  const change = line === null ? null : changeOfLine(heldAgainst, line);
  const outcomes = reflectors.flatMap((reflector) => reflector.verdicts.map((verdict) => verdict.outcome));
  const unasked = rule?.amplitude != null && !input.reference.some((height) => height.amplitudePercent !== null);
  const verdict = rule === null ? null : outcomeOfCheck(unasked ? [...outcomes, 'not-assessed'] : outcomes);
  const flags = new Set<Flag>(reflectors.flatMap((reflector) => reflector.flags));
  if (verdict === 'fail') flags.add('drift');
  return {
    captureId: check.captureId,
    takenAt: check.takenAt,
    gainDb: check.gainDb,
    reflectors,
    line: line && { velocityMPerS: line.velocityMPerS, zeroOffsetUs: line.zeroOffsetUs },
    heldAgainst: { velocityMPerS: heldAgainst.velocityMPerS, zeroOffsetUs: heldAgainst.zeroOffsetUs },
    sameBlock: line === null ? null : (cancels?.block ?? null),
    velocityChangePercent: change?.velocityChangePercent ?? null,
    zeroOffsetChangeUs: change?.zeroOffsetChangeUs ?? null,
    cause: change?.cause ?? null,
    causeSentence: change === null || change.cause === null ? null : causeTexts[change.cause],
    verdict,
    consequences: rule === null || verdict === null ? [] : consequencesOf(rule, verdict, reflectors, lastPassing),
    remarks: rule === null ? [] : remarksOf(rule, reflectors),
    flags: [...flags],
  };
}

function outcomeOfCheck(outcomes: readonly VerdictOutcome[]): Exclude<VerdictOutcome, 'not-assessed'> {
  const worst = worstOf(outcomes);
  return worst === 'not-assessed' ? 'inconclusive' : worst;
}
