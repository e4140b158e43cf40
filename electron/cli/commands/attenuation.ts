import { captureLookup } from '../../../core/report/document.ts';
import { sensitivityDocument } from '../../../core/report/sensitivity-document.ts';
import { emptyReview, type Reflector } from '../../../core/review/review.ts';
import type { SensitivityDecision } from '../../../core/review/sensitivity-decision.ts';
import { concludeSensitivity, flagsOfSensitivity } from '../../../core/steps/sensitivity.ts';
import { planForHeights } from '../../../core/steps/sensitivity-points.ts';
import { type Answer, flagLegend, refuseUnless, trustworthy, warningLines } from '../answer.ts';
import { gather } from '../gather.ts';
import { openedCalibration } from '../opened-calibration.ts';
import { type CommonOptions, conditioningFrom } from '../options.ts';
import { refuseArgument } from '../refusal.ts';
import { probeFrom } from '../sensitivity-arguments.ts';
import { sensitivityWords } from '../sensitivity-words.ts';
import { examined } from './sensitivity.ts';

export interface AttenuationOptions extends CommonOptions {
  reflector?: readonly Reflector[];
  threshold?: number;
  tolerance?: number;
  coupling?: number;
  gainUncertainty?: number;
  probe?: { elementMm: number; frequencyMHz: number };
  velocity?: number;
  calibration?: string;
}

/** Apparent attenuation from two echoes of one back wall. */
export async function attenuation(words: readonly string[], options: AttenuationOptions): Promise<Answer> {
  const calibration = options.calibration === undefined ? null : openedCalibration(options.calibration).calibration;
  const decision = decisionFrom(options);
  const { near, far, thresholdPercent } = decision.attenuation!;
  const review = { ...emptyReview, conditioning: conditioningFrom(options) };
  const {
    examinations,
    problems: found,
    warnings: read,
  } = await examined(
    await gather(words, options),
    planForHeights(review, [near, far], thresholdPercent, calibration),
    options,
  );
  const result = concludeSensitivity(decision, {
    calibration,
    ofCurve: [],
    ofAttenuation: examinations,
    readings: [],
    gainDbOf: () => null,
  });
  const problems = [...found, ...result.problems];
  refuseUnless(result.attenuation !== null, problems);
  const captures = captureLookup(examinations.map(({ capture }) => capture));
  const warnings = [...read, ...result.warnings];
  const flags = flagsOfSensitivity(result);
  const { near_field, attenuation: document, arithmetic } = sensitivityDocument(result, captures);
  return {
    document: { near_field, ...document, arithmetic, warnings: warningLines(warnings) },
    words: () => sensitivityWords(result, captures) + flagLegend(flags),
    trusted: trustworthy(flags),
    problems,
    warnings,
  };
}

function decisionFrom(options: AttenuationOptions): SensitivityDecision {
  const given = [...(options.reflector ?? [])].sort((a, b) => a.distanceMm - b.distanceMm);
  if (given.length !== 2)
    refuseArgument(
      '--reflector',
      'give two echoes of one back wall by their distances, n times the thickness for the n-th, as in --reflector 50mm@16us..18us --reflector 100mm@33us..35us',
    );
  if (given[0].distanceMm === given[1].distanceMm)
    refuseArgument(
      '--reflector',
      'both echoes are given at one distance; the n-th echo stands at n times the thickness',
    );
  const [near, far] = given.map((reflector) => ({ ...reflector, toleranceMm: options.tolerance ?? 0 }));
  return {
    curve: null,
    attenuation: { captures: [], near, far, thresholdPercent: options.threshold ?? 5 },
    probe: probeFrom(options),
    uCouplingDb: options.coupling ?? 0,
    uGainDb: options.gainUncertainty ?? 0,
  };
}
