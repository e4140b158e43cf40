import { hypot } from '../elementary/hypotenuse.ts';
import { type BackWallSettings, backWallDoubts, type CaptureMaterial } from '../material/back-walls.ts';
import { spreadingInWords } from '../material/diffraction.ts';
import { type Problem, problem } from '../outcome.ts';
import { hindranceTexts } from '../probe/hindrance.ts';
import type { MaterialDecision } from '../review/material-decision.ts';
import type { Review } from '../review/review.ts';
import { type Sample, sampleOf } from '../statistics/sample.ts';
import { type Quantity, rectangularUncertainty } from '../units/quantity.ts';
import { type Examination, type Plan, planFor } from './examine.ts';

/** Attenuation at one frequency, from all captures that have it. */
export interface AttenuationAt {
  readonly frequencyMHz: number;
  readonly dbPerMm: Quantity;
  readonly captures: number;
}

export interface MaterialResult {
  readonly thicknessMm: number;
  /** Mean over the captures; the uncertainty holds the thickness’s tolerance too. `null` where no capture gave one. */
  readonly velocityMPerS: Quantity | null;
  readonly sample: Sample | null;
  readonly attenuation: readonly AttenuationAt[];
  /** The band in which the ratio of the spectra means something; `null` where there is none. */
  readonly band: { readonly fromMHz: number; readonly toMHz: number } | null;
  readonly captures: readonly CaptureMaterial[];
  readonly remarks: readonly string[];
  readonly problems: readonly Problem[];
}

/** Without a band-pass: a filter’s band would be taken for the material’s. */
export function planForMaterial(review: Pick<Review, 'conditioning'>, decision: MaterialDecision): Plan {
  return planFor(review, {
    conditioning: { ...review.conditioning, bandPass: null },
    material: backWallSettings(decision),
  });
}

function backWallSettings({ thicknessMm, echoes, spreading }: MaterialDecision): BackWallSettings {
  return { thicknessMm, echoes, spreading };
}

/**
 * Velocity and attenuation over all captures. The thickness is one and the same for all of them, so its share does not grow less with their number.
 * Problems: `multiple-twice`, and for each capture `not-measurable`, the reason by echo.
 */
export function concludeMaterial(decision: MaterialDecision, examinations: readonly Examination[]): MaterialResult {
  const captures = examinations.flatMap(({ material }) => (material == null ? [] : [material]));
  const problems = [...repeatedMultiples(decision), ...captures.flatMap(hindrancesOf)];
  const found = captures.flatMap(({ velocityMPerS }) => (velocityMPerS === null ? [] : [velocityMPerS]));
  const sample = sampleOf(found.map(({ value }) => value));
  const attenuation = meanAttenuation(captures);
  const uThickness = rectangularUncertainty(decision.toleranceMm) / decision.thicknessMm;
  return {
    thicknessMm: decision.thicknessMm,
    velocityMPerS: sample === null ? null : meanVelocity(sample, found, uThickness),
    sample,
    attenuation,
    band:
      attenuation.length === 0
        ? null
        : { fromMHz: attenuation[0].frequencyMHz, toMHz: attenuation[attenuation.length - 1].frequencyMHz },
    captures,
    remarks: [
      'Apparent attenuation: what is lost at both surfaces at each reflection is in it. By mm of travel, there and back.',
      spreadingInWords(decision.spreading),
      ...(decision.toleranceMm === 0 ? ['The thickness counts as exact: no tolerance was given.'] : []),
    ],
    problems,
  };
}

function meanVelocity(sample: Sample, found: readonly Quantity[], uThickness: number): Quantity {
  let square: number | null = 0;
  for (const { standardUncertainty: u } of found) square = square === null || u === null ? null : square + u * u;
  const byTiming = square === null ? null : Math.sqrt(square) / sample.count;
  const ofMean = sample.uMean === null ? byTiming : Math.max(sample.uMean, byTiming ?? 0);
  return {
    value: sample.mean,
    standardUncertainty: ofMean === null ? null : hypot(ofMean, sample.mean * uThickness),
  };
}

function repeatedMultiples({ echoes }: MaterialDecision): Problem[] {
  const seen = new Set<number>();
  return echoes.flatMap(({ multiple }) => {
    const twice = seen.has(multiple);
    seen.add(multiple);
    return twice
      ? [
          problem(
            'multiple-twice',
            { file: 'material' },
            `echo ${multiple} of the back wall is given twice; give each once`,
          ),
        ]
      : [];
  });
}

function hindrancesOf({
  captureId,
  echoes,
  hindrances,
  withoutAttenuation,
  velocityMPerS,
}: CaptureMaterial): Problem[] {
  const each = hindrances.map(({ multiple, hindrance }) =>
    problem(
      hindrance,
      { file: captureId },
      `echo ${multiple} of the back wall is not measurable: ${hindranceTexts[hindrance]}`,
    ),
  );
  for (const { multiple, doubts } of echoes)
    for (const doubt of doubts)
      each.push(
        problem(
          doubt,
          { file: captureId },
          `echo ${multiple} of the back wall: ${backWallDoubts[doubt]}; narrow its gate`,
        ),
      );
  if (velocityMPerS === null || withoutAttenuation === null) return each;
  return [...each, problem('no-band', { file: captureId }, `no attenuation: ${withoutAttenuation}`)];
}

/** At the frequencies of the first capture that has them, those that all captures with an attenuation share. */
function meanAttenuation(captures: readonly CaptureMaterial[]): AttenuationAt[] {
  const spectra = captures.flatMap(({ attenuation }) => (attenuation === null ? [] : [attenuation]));
  if (spectra.length === 0) return [];
  return Array.from(spectra[0].frequenciesMHz).flatMap((frequencyMHz, line): AttenuationAt[] => {
    const lines = spectra.map(({ frequenciesMHz }, i) =>
      i === 0 ? line : frequenciesMHz.findIndex((each) => Math.abs(each - frequencyMHz) < 1e-9),
    );
    if (lines.includes(-1)) return [];
    const sample = sampleOf(spectra.map(({ dbPerMm }, i) => dbPerMm[lines[i]]));
    if (sample === null) return [];
    let square: number | null = 0;
    for (const [i, { uDbPerMm }] of spectra.entries())
      square = square === null || uDbPerMm === null ? null : square + uDbPerMm[lines[i]] ** 2;
    const byNoise = square === null ? null : Math.sqrt(square) / sample.count;
    const u = sample.uMean === null ? byNoise : Math.max(sample.uMean, byNoise ?? 0);
    return [{ frequencyMHz, dbPerMm: { value: sample.mean, standardUncertainty: u }, captures: sample.count }];
  });
}
