import { coverageFactor } from '../check/verdict.ts';
import type { RatingDecision } from '../review/scan-decision.ts';
import { figure } from '../units/figure.ts';
import type { Quantity } from '../units/quantity.ts';

/** AWS D1.1 writes its attenuation factor in inches, and in SI with a rounded constant. */
export type RatingForm = RatingDecision['form'];

/** What the sound loses on its way, as the code counts it. */
export interface AttenuationFactor {
  /** By the formula, before rounding. */
  readonly rawDb: number;
  /** In whole dB. */
  readonly factorDb: number;
  /** Nearer than where the formula begins the factor was set to 0. */
  readonly floored: boolean;
}

const mmPerInch = 25.4;
/** The arithmetic’s own rounding must not push a half below itself: 2 · (57.15/25.4 − 1) is 2.5. */
const roundingDb = 1e-9;

/** To whole dB: below a half down, a half and more up (not to the even one). Source: AWS D1.1, as quoted in public (2.5 is 3). */
export function wholeDbHalfUp(db: number): number {
  return Math.floor(db + 0.5 + roundingDb) + 0;
}

/**
 * Attenuation factor c: inch form 2 · (S − 1) with S in inches, SI form 0.08 · (S − 25) with S in mm, rounded half up to whole dB. 2 dB/in is 0.0787 dB/mm: the SI
 * form’s 0.08 is a rounded conversion, and the two may differ by 1 dB after rounding. Nearer than 1 in (25 mm) the formula is negative; whether the factor
 * is 0 there is not confirmed and therefore a setting.
 * Source: AWS D1.1, indication rating (formula, rounding and examples as quoted in public; the code itself was not read).
 */
export function attenuationFactor(pathMm: number, form: RatingForm, floorAtZero: boolean): AttenuationFactor {
  const rawDb = form === 'inch' ? 2 * (pathMm / mmPerInch - 1) : 0.08 * (pathMm - 25);
  const rounded = wholeDbHalfUp(rawDb);
  const floored = floorAtZero && rawDb < 0;
  return { rawDb, factorDb: floored ? 0 : rounded, floored };
}

/** An indication rating, with all that it was made of. */
export interface IndicationRating {
  readonly form: RatingForm;
  readonly soundPathMm: Quantity;
  readonly factor: AttenuationFactor;
  /** a: the gain that brings the indication to the reference height; `null` where no gain is stated. */
  readonly indicationLevelDb: number | null;
  /** b: the gain that brings the reference reflector there. */
  readonly referenceLevelDb: number | null;
  /** a − b: what the indication needs more than the reference. */
  readonly aboveReferenceGainDb: Quantity;
  /** d = a − b − c, not rounded. The more positive, the smaller the indication. */
  readonly ratingDb: Quantity;
  /** The echo stands at least as high as read: the rating is this or less. */
  readonly atMost: boolean;
  readonly remarks: readonly string[];
}

/**
 * Indication rating d = a − b − c. With levels in place of gains: an echo that stands L dB above the reference height at the reference gain needs L dB less gain, so
 * a − b = −L. For instruments with a gain control; one with an attenuator, whose reading falls as the gain grows, has b − a − c.
 * An aid: whether a rating is acceptable is for the code book to say.
 * @param levelDb of the indication above the reference, gain taken out @param referenceGainDb `null` where no gain is stated
 * Source: AWS D1.1, clause 6 Part F in editions to 2015, clause 8 Part F in 2020 (from memory; arithmetic as quoted in public).
 */
export function rateIndication(
  levelDb: Quantity,
  isLowerBound: boolean,
  soundPathMm: Quantity,
  referenceGainDb: number | null,
  { form, floorAtZero }: Pick<RatingDecision, 'form' | 'floorAtZero'>,
): IndicationRating {
  const factor = attenuationFactor(soundPathMm.value, form, floorAtZero);
  const more = { value: -levelDb.value, standardUncertainty: levelDb.standardUncertainty };
  return {
    form,
    soundPathMm,
    factor,
    indicationLevelDb: referenceGainDb === null ? null : referenceGainDb - levelDb.value,
    referenceLevelDb: referenceGainDb,
    aboveReferenceGainDb: more,
    ratingDb: { value: more.value - factor.factorDb, standardUncertainty: levelDb.standardUncertainty },
    atMost: isLowerBound,
    remarks: remarksAbout(soundPathMm, factor, form, floorAtZero),
  };
}

function remarksAbout(
  { value, standardUncertainty }: Quantity,
  factor: AttenuationFactor,
  form: RatingForm,
  floorAtZero: boolean,
): string[] {
  const remarks: string[] = [];
  const other = attenuationFactor(value, form === 'inch' ? 'si' : 'inch', floorAtZero).factorDb;
  if (other !== factor.factorDb)
    remarks.push(
      `The ${form === 'inch' ? 'SI' : 'inch'} form of the attenuation factor gives ${other} dB here, and the ${form === 'inch' ? 'inch' : 'SI'} form ${factor.factorDb} dB: the SI form’s 0.08 dB/mm is a rounded 2 dB/in. Use the form of the edition in force.`,
    );
  const expanded = coverageFactor * (standardUncertainty ?? 0);
  const ends = [value - expanded, value + expanded].map((mm) => attenuationFactor(mm, form, floorAtZero).factorDb);
  if (ends[0] !== ends[1])
    remarks.push(
      `Within the uncertainty of the sound path (k = 2) the attenuation factor may be ${ends[0]} or ${ends[1]} dB.`,
    );
  if (factor.floored)
    remarks.push(
      `The sound path is shorter than where the formula begins: it gives ${figure(factor.rawDb, 2)} dB, and 0 dB was taken, as set. Whether the code does so is not confirmed.`,
    );
  return remarks;
}

/** What stands beside every rating. */
export const ratingCaution =
  'An aid to the arithmetic only. Acceptance is by the table of the code in force: look up the class for weld size, search unit angle and loading. A higher rating is a smaller indication.';
export const ratingClause =
  'AWS D1.1, ultrasonic testing of groove welds: clause 6 Part F in editions to 2015, clause 8 Part F in 2020 (from memory; check against the edition in force)';
