import type { CaptureId } from '../capture/capture.ts';
import { type VerdictOutcome, worstOf } from '../check/verdict.ts';
import {
  differenceInFrequency,
  differenceInTime,
  type SpectrumDifference,
  type TimeDifference,
} from '../compare/difference.ts';
import { differencesOf, type FigureDifference } from '../compare/probes.ts';
import { type Problem, problem } from '../outcome.ts';
import { type AgainstStated, againstStated } from '../probe/against-stated.ts';
import { characteristicsOf, type ProbeCharacteristics } from '../probe/characteristics.ts';
import { hindranceTexts } from '../probe/hindrance.ts';
import type { CapturePulse, PulseSettings } from '../probe/pulse.ts';
import { publishedStatedRules, type StatedRule } from '../probe/rule.ts';
import { windowInWords } from '../probe/window.ts';
import type { ProbesDecision } from '../review/probes-decision.ts';
import type { Review } from '../review/review.ts';
import { type Examination, type Plan, planFor } from './examine.ts';

/** One probe, against what is stated of it and against the reference. */
export interface ProbeResult extends ProbeCharacteristics {
  readonly stated: readonly AgainstStated[];
  /** Of all stated figures that the rule limits; `null` where none is. */
  readonly outcome: VerdictOutcome | null;
  /** The first capture that could be measured: what overlays show of this probe. */
  readonly shownBy: CaptureId | null;
  /** `null` for the reference itself, and where there is none. */
  readonly comparison: ProbeComparison | null;
}

export interface ProbeComparison {
  readonly reference: string;
  readonly figures: readonly FigureDifference[];
  /** Of the captures that show both; `null` where one of them has no curves. */
  readonly time: TimeDifference | null;
  readonly frequency: SpectrumDifference | null;
}

export interface ProbesResult {
  /** In order of first appearance. */
  readonly probes: readonly ProbeResult[];
  readonly captures: readonly CapturePulse[];
  readonly reference: string | null;
  readonly rule: StatedRule | null;
  /** Window and padding of all spectra, in words. */
  readonly spectrum: string;
  readonly remarks: readonly string[];
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
}

/** So many captures keep their waveforms and spectra beside their figures. */
export const mostWithCurves = 500;

/** How captures are measured. There is no band-pass: a filter’s band would be taken for the probe’s. */
export function planForProbes(review: Pick<Review, 'conditioning'>, decision: ProbesDecision, curves: boolean): Plan {
  const ofAll: PulseSettings = {
    gate: decision.gate,
    spectrum: decision.spectrum,
    elementMm: decision.elementMm,
    velocityMPerS: decision.velocityMPerS,
    curves,
  };
  return planFor(review, {
    conditioning: { ...review.conditioning, bandPass: null },
    pulse: {
      ofAll,
      ofProbes: decision.probes.map(({ name, gate, elementMm }) => ({
        probe: name,
        settings: { ...ofAll, gate: gate ?? decision.gate, elementMm: elementMm ?? decision.elementMm },
      })),
    },
  });
}

/**
 * Puts captures together by the probe that they state; one that states none stands for itself, under its file's name.
 * Problems: one for each capture of which nothing could be measured, `unknown-probe` (a reference or stated figures for a probe that no capture
 * states), `unknown-rule`. Warnings: `no-probe-stated`, `band-pass-left-out`.
 */
export function concludeProbes(
  decision: ProbesDecision,
  examinations: readonly Examination[],
  conditioning: Review['conditioning'],
): ProbesResult {
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const groups = new Map<string, CapturePulse[]>();
  const gains = new Map<CaptureId, number | null>();
  for (const { capture, pulse } of examinations) {
    if (pulse === undefined) continue;
    const name = capture.probe ?? capture.captureId;
    const group = groups.get(name);
    if (group === undefined) groups.set(name, [pulse]);
    else group.push(pulse);
    gains.set(capture.captureId, capture.gainDb);
    if (capture.probe === null) warnings.push(problem('no-probe-stated', { file: capture.captureId }, noProbe));
    if (pulse.hindrance !== null)
      problems.push(problem(pulse.hindrance, { file: capture.captureId }, hindranceTexts[pulse.hindrance]));
  }
  if (conditioning.bandPass !== null) warnings.push(problem('band-pass-left-out', { file: 'probes' }, noBand));
  if (!decision.normalised && decision.reference !== null && [...gains.values()].includes(null))
    warnings.push(problem('gain-not-stated', { file: 'probes' }, noGain));
  const rule = ruleOf(decision, problems);
  const named = [
    ...decision.probes.map(({ name }) => name),
    ...(decision.reference === null ? [] : [decision.reference]),
  ];
  for (const name of new Set(named)) {
    if (groups.has(name)) continue;
    const sentence = `no capture states the probe "${name}"; those stated are ${[...groups.keys()].join(', ')}`;
    problems.push(problem('unknown-probe', { file: 'probes' }, sentence));
  }
  const characteristics = [...groups].map(([name, pulses]) => characteristicsOf(name, pulses));
  const shown = new Map(
    [...groups].map(([name, pulses]) => [name, pulses.find(({ hindrance }) => hindrance === null) ?? null]),
  );
  const reference = characteristics.find(({ probe }) => probe === decision.reference) ?? null;
  const probes = characteristics.map((probe): ProbeResult => {
    const own = decision.probes.find(({ name }) => name === probe.probe);
    const stated = againstStated(
      (figure) => probe.figures[figure].quantity,
      own?.stated ?? [],
      rule,
      decision.decision,
    );
    const verdicts = stated.flatMap(({ verdict }) => (verdict === null ? [] : [verdict.outcome]));
    return {
      ...probe,
      stated,
      outcome: verdicts.length === 0 ? null : worstOf(verdicts),
      shownBy: shown.get(probe.probe)?.captureId ?? null,
      comparison:
        reference === null || reference === probe ? null : comparisonOf(probe, reference, decision, shown, gains),
    };
  });
  return {
    probes,
    captures: [...groups.values()].flat(),
    reference: reference?.probe ?? null,
    rule,
    spectrum: windowInWords(decision.spectrum),
    remarks: remarksOn(probes, decision),
    problems,
    warnings,
  };
}

const noProbe =
  'the capture states no probe, so it stands for itself; state the probe in the file, in the manifest or in the review for captures of one probe to be put together';
const noGain =
  'not every capture states its gain: overlays of those that do not are taken to be at the gain of the reference';
const noBand = 'the band-pass is left out where probes are measured: its band would be taken for the probe’s';

function ruleOf({ rule }: ProbesDecision, problems: Problem[]): StatedRule | null {
  if (rule === null) return null;
  if (rule.kind === 'own') return rule.rule;
  const known = publishedStatedRules.find(({ name }) => name === rule.name) ?? null;
  if (known === null) {
    const names = publishedStatedRules.map(({ name }) => name).join(', ');
    problems.push(
      problem('unknown-rule', { file: 'probes' }, `no published rule has the name "${rule.name}"; there are ${names}`),
    );
  }
  return known;
}

function comparisonOf(
  probe: ProbeCharacteristics,
  reference: ProbeCharacteristics,
  { align, normalised, significance }: ProbesDecision,
  shown: ReadonlyMap<string, CapturePulse | null>,
  gains: ReadonlyMap<CaptureId, number | null>,
): ProbeComparison {
  const figures = differencesOf(probe, reference, significance);
  const a = shown.get(reference.probe) ?? null;
  const b = shown.get(probe.probe) ?? null;
  if (a === null || b === null || a.curves === null || b.curves === null)
    return { reference: reference.probe, figures, time: null, frequency: null };
  const [gainOfA, gainOfB] = [gains.get(a.captureId) ?? null, gains.get(b.captureId) ?? null];
  const gainDb = gainOfA === null || gainOfB === null ? 0 : gainOfB - gainOfA;
  return {
    reference: reference.probe,
    figures,
    time: differenceInTime(a.curves, b.curves, align, normalised, gainDb),
    frequency: differenceInFrequency(a.curves, b.curves, normalised, gainDb),
  };
}

function remarksOn(probes: readonly ProbeResult[], { significance }: ProbesDecision): string[] {
  const tested = probes
    .flatMap(({ comparison }) => comparison?.figures ?? [])
    .filter(({ test }) => test !== null).length;
  return [
    'The spectrum is that of the two-way echo, reflector and material in it: compare probes on one reflector alone.',
    ...(tested < 2
      ? []
      : [
          `Welch’s test was made ${tested} times at ${Number((100 * significance).toPrecision(3))} %: about ${Number((tested * significance).toPrecision(2))} of them would call alike probes different by chance alone, and figures of one probe are not independent of one another.`,
        ]),
    ...probes.flatMap(({ probe, multiLobed: { at6Db, at20Db } }) =>
      [
        { level: '−6 dB', count: at6Db },
        { level: '−20 dB', count: at20Db },
      ].flatMap(({ level, count }) =>
        count === 0
          ? []
          : [
              `${probe}: ${count} ${count === 1 ? 'capture is' : 'captures are'} multi-lobed at ${level}, with more than one pair of crossings; limits and bandwidth there are those of the outermost.`,
            ],
      ),
    ),
    ...(probes.some(({ captureIds }) => captureIds.length === 1)
      ? [
          'The uncertainty of a probe with one capture is that of its noise: what coupling changes between captures is not in it.',
        ]
      : []),
  ];
}
