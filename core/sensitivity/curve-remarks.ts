import { coverageFactor } from '../check/verdict.ts';
import type { Doubt } from '../doubt.ts';
import { hypot } from '../elementary/hypotenuse.ts';
import { flagTexts } from '../flag.ts';
import { figure } from '../units/figure.ts';
import type { Quantity } from '../units/quantity.ts';
import type { CurvePoint, DistanceAmplitudeCurve } from './distance-amplitude-curve.ts';
import type { NearField } from './near-field.ts';
import type { HeightErrors, ReferenceLevel } from './reference-level.ts';

export const unknownNearField =
  'Whether these echoes lie beyond the near field is not known, and the law of spreading holds only beyond it: give element, frequency and velocity of the probe.';

/** The reference height is set within 5 % FSH (ASME V, Article 4, from memory; common practice). */
const settingPercent = 5;

/** Whether a gain that was stated brings the curve to its height. */
export function referenceRemarks(reference: ReferenceLevel, points: readonly CurvePoint[]): string[] {
  if (reference.by !== 'stated') return [];
  if (reference.gainDb === null)
    return ['No capture states its gain: all are taken to be at the reference gain that was given.'];
  const highest = Math.max(...points.map(({ heightPercent }) => heightPercent.value));
  const off = highest - reference.percent;
  if (Math.abs(off) <= settingPercent) return [];
  return [
    `At the reference gain given the highest point of the curve stands at ${figure(highest, 1)} % FSH, not within ${settingPercent} % of ${reference.percent} %.`,
  ];
}

/** Which points a law leaves out. */
export function nearPointsRemark(points: readonly CurvePoint[], field: NearField): string {
  const near = points
    .filter((point) => point.inNearField === true)
    .map(({ distanceMm }) => `${figure(distanceMm, 2)} mm`);
  return `Nearer than three near-field lengths (${figure(field.lawsFromMm, 1)} mm): ${near.join(', ')}. The curve stands there as it was measured, the law of spreading does not hold, and the attenuation is fitted without.`;
}

/** An attenuation below zero by more than its uncertainty. */
export function implausibleAttenuation(attenuationDbPerMm: Quantity): Doubt[] {
  const { value, standardUncertainty } = attenuationDbPerMm;
  if (!(value + coverageFactor * (standardUncertainty ?? 0) < 0)) return [];
  const { sentence, advice } = flagTexts['attenuation-implausible'];
  return [
    { flag: 'attenuation-implausible', sentence: `${sentence} It is ${figure(1000 * value, 1)} dB/m. ${advice}` },
  ];
}

/** From so many dB on it is said that a line of the curve hides something; half a step of the usual 1 dB gain control. */
const worthSayingDb = 0.5;

export function lineRemarks(curve: DistanceAmplitudeCurve | null, above: readonly number[]): string[] {
  return above.flatMap((db, i) => {
    if (curve === null || Math.abs(db) < worthSayingDb) return [];
    const [a, b] = [curve.points[i].distanceMm, curve.points[i + 1].distanceMm];
    return [
      `Between ${figure(a, 2)} and ${figure(b, 2)} mm the line lies up to ${figure(Math.abs(db), 1)} dB ${db > 0 ? 'above' : 'below'} one over the logarithm of the distance, on which echoes that spread lie: readings there may be told ${db > 0 ? 'lower' : 'higher'} by so much, which their uncertainty takes in. Add a reflector between.`,
    ];
  });
}

/** Echoes fall with distance beyond the near field. */
export function risingRemarks(points: readonly CurvePoint[]): string[] {
  return points.slice(1).flatMap((point, i) => {
    const before = points[i];
    if (before.inNearField === true) return [];
    const rise = point.levelDb.value - before.levelDb.value;
    const u = hypot(point.levelDb.standardUncertainty ?? 0, before.levelDb.standardUncertainty ?? 0);
    if (rise <= coverageFactor * u) return [];
    return [
      `The echo at ${figure(point.distanceMm, 2)} mm stands ${figure(rise, 1)} dB above the one at ${figure(before.distanceMm, 2)} mm: outside the near field echoes fall with distance. Check that both are at their peak, and the reflectors meant.`,
    ];
  });
}

/** A small uncertainty must not hide what was left out of it. */
export function errorRemarks(
  points: readonly CurvePoint[],
  { uCouplingDb, uGainDb }: HeightErrors,
  transferDb: Quantity,
): string[] {
  const gains = new Set(points.map(({ gainDb }) => gainDb));
  const leftOut = [
    ...(uCouplingDb === 0 && points.length > 0 ? ['the coupling'] : []),
    ...(uGainDb === 0 && gains.size > 1 ? ['the steps of the gain'] : []),
    ...(transferDb.value !== 0 && transferDb.standardUncertainty === 0 ? ['the transfer correction'] : []),
  ];
  if (leftOut.length === 0) return [];
  return [
    `The uncertainties take ${inAList(leftOut)} as exact: state what is known of ${leftOut.length > 1 ? 'them' : 'it'}.`,
  ];
}

function inAList(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}
