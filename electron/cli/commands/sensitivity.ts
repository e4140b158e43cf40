import { type Gate, gateProblems } from '../../../core/gate/gate.ts';
import { defaultOffPeakDb } from '../../../core/gate/off-peak.ts';
import { captureLookup } from '../../../core/report/document.ts';
import { sensitivityDocument } from '../../../core/report/sensitivity-document.ts';
import { emptyReview, type ReadingDecision, type Reflector, type Review } from '../../../core/review/review.ts';
import type { SensitivityDecision } from '../../../core/review/sensitivity-decision.ts';
import type { ReflectorKind } from '../../../core/sensitivity/reflector-kind.ts';
import type { Examination } from '../../../core/steps/examine.ts';
import { concludeReadings, planForReadings } from '../../../core/steps/read.ts';
import { concludeSensitivity, flagsOfSensitivity } from '../../../core/steps/sensitivity.ts';
import { planForHeights } from '../../../core/steps/sensitivity-points.ts';
import { type Answer, flagLegend, refuseUnless, trustworthy, warningLines } from '../answer.ts';
import { type ExaminedFiles, examineFiles } from '../examine-files.ts';
import { type Gathered, gather } from '../gather.ts';
import { levelsFrom } from '../levels-argument.ts';
import { openedCalibration } from '../opened-calibration.ts';
import { type CommonOptions, conditioningFrom } from '../options.ts';
import { Refusal, refuseArgument } from '../refusal.ts';
import { probeFrom } from '../sensitivity-arguments.ts';
import { sensitivityWords } from '../sensitivity-words.ts';

export interface SensitivityOptions extends CommonOptions {
  reflector?: readonly Reflector[];
  kind?: ReflectorKind;
  straightIn?: 'db' | 'percent';
  reference?: number;
  referenceGain?: number;
  levels?: string;
  transfer?: number;
  transferUncertainty?: number;
  coupling?: number;
  gainUncertainty?: number;
  threshold?: number;
  tolerance?: number;
  probe?: { elementMm: number; frequencyMHz: number };
  velocity?: number;
  calibration?: string;
  read?: readonly string[];
  gate?: readonly Gate[];
  offPeak?: number;
  separate?: boolean;
  simpleAcceptance?: boolean;
}

type Given = ReturnType<typeof openedCalibration>;

/** A distance-amplitude curve from reference reflectors, what follows from it, and readings of the part held against it. */
export async function sensitivity(words: readonly string[], options: SensitivityOptions): Promise<Answer> {
  const opened = options.calibration === undefined ? null : openedCalibration(options.calibration);
  const decision = decisionFrom(options);
  const readings = readingsFrom(options, opened);
  const review: Review = { ...emptyReview, conditioning: conditioningFrom(options), readings };
  const curve = decision.curve!;
  const calibration = opened?.calibration ?? null;
  const ofCurve = await examined(
    await gather(words, options),
    planForHeights(review, curve.reflectors, curve.thresholdPercent, calibration),
    options,
  );
  const ofPart =
    readings === null
      ? null
      : await examined(
          await gather(options.read ?? [], options),
          planForReadings(review, readings, calibration),
          options,
        );
  const examinations = [...ofCurve.examinations, ...(ofPart?.examinations ?? [])];
  const gains = new Map(examinations.map(({ capture }) => [capture.captureId, capture.gainDb]));
  const result = concludeSensitivity(decision, {
    calibration,
    ofCurve: ofCurve.examinations,
    ofAttenuation: [],
    readings: readings === null ? [] : concludeReadings(readings, ofPart?.examinations ?? []).readings,
    gainDbOf: (captureId) => gains.get(captureId) ?? null,
  });
  const problems = [...ofCurve.problems, ...(ofPart?.problems ?? []), ...result.problems];
  refuseUnless(result.curve!.points.length > 0, problems);

  const captures = captureLookup(examinations.map(({ capture }) => capture));
  const warnings = [...ofCurve.warnings, ...(ofPart?.warnings ?? []), ...result.warnings];
  const flags = flagsOfSensitivity(result);
  const settings = {
    threshold_percent: curve.thresholdPercent,
    gates: readings?.gates ?? [],
    series: readings?.series ?? null,
    conditioning: review.conditioning,
  };
  return {
    document: { ...sensitivityDocument(result, captures), settings, warnings: warningLines(warnings) },
    words: () => sensitivityWords(result, captures) + flagLegend(flags),
    trusted: trustworthy(flags),
    problems,
    warnings,
  };
}

/** What could be examined of some files, with the problems and warnings of all of them. */
export async function examined(
  gathered: Gathered,
  plan: Parameters<typeof examineFiles>[0]['plan'],
  options: CommonOptions,
): Promise<ExaminedFiles & { readonly examinations: readonly Examination[] }> {
  const { examinations, problems, warnings } = await examineFiles({ ...gathered, plan }, options.jobs ?? null);
  const all = [...gathered.problems, ...problems];
  refuseUnless(examinations.length > 0, all);
  return { examinations, problems: all, warnings: [...gathered.warnings, ...warnings] };
}

function decisionFrom(options: SensitivityOptions): SensitivityDecision {
  const reflectors = options.reflector ?? [];
  if (reflectors.length === 0)
    refuseArgument(
      '--reflector',
      'give the reflectors of the curve, three or more, as in --reflector 20mm@5us..9us (sound paths, not depths)',
    );
  if (options.kind === undefined)
    return refuseArgument(
      '--kind',
      'say what the reflectors are: side-drilled-hole, flat-bottomed-hole, back-wall or other; the law of spreading depends on it',
    );
  return {
    curve: {
      captures: [],
      kind: options.kind,
      reflectors: reflectors.map((reflector) => ({ ...reflector, toleranceMm: options.tolerance ?? 0 })),
      thresholdPercent: options.threshold ?? 5,
      straightIn: options.straightIn ?? 'db',
      referencePercent: options.reference ?? 80,
      referenceGainDb: options.referenceGain ?? null,
      levels: options.levels === undefined ? null : levelsFrom(options.levels),
      decision: options.simpleAcceptance === true ? 'simple-acceptance' : 'with-uncertainty',
      transferCorrectionDb: options.transfer ?? 0,
      uTransferCorrectionDb: options.transferUncertainty ?? 0,
    },
    attenuation: null,
    probe: probeFrom(options),
    uCouplingDb: options.coupling ?? 0,
    uGainDb: options.gainUncertainty ?? 0,
  };
}

function readingsFrom(options: SensitivityOptions, opened: Given | null): ReadingDecision | null {
  const gates = options.gate ?? [];
  if (options.read === undefined) {
    if (gates.length > 0) refuseArgument('--gate', 'a gate reads captures of the part; name them with --read');
    return null;
  }
  if (gates.length === 0) refuseArgument('--gate', 'give at least one gate, as in --gate weld=20mm..80mm@30');
  if (opened === null)
    return refuseArgument(
      '--calibration',
      'a reading needs its sound path to be held against the curve; give --calibration CAL.json, as printed by calibrate --json',
    );
  const faults = gateProblems(gates, '--gate');
  if (faults.length > 0) throw new Refusal(faults);
  return {
    captures: [],
    gates: [...gates],
    timing: opened.given.timing,
    beam: null,
    uAngleDeg: null,
    series: options.separate === true ? null : { offPeakDb: options.offPeak ?? defaultOffPeakDb },
  };
}
