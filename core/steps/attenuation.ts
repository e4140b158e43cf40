import type { CaptureId } from '../capture/capture.ts';
import type { Doubt } from '../doubt.ts';
import { type Flag, flagTexts } from '../flag.ts';
import type { Reading } from '../gate/reading.ts';
import { type Problem, problem } from '../outcome.ts';
import type { AttenuationDecision } from '../review/sensitivity-decision.ts';
import { type ApparentAttenuation, apparentAttenuation } from '../sensitivity/apparent-attenuation.ts';
import { implausibleAttenuation, unknownNearField } from '../sensitivity/curve-remarks.ts';
import type { NearField } from '../sensitivity/near-field.ts';
import { type HeightErrors, heightUncertaintyDb } from '../sensitivity/reference-level.ts';
import { figure } from '../units/figure.ts';
import { rectangularUncertainty } from '../units/quantity.ts';
import type { Examination } from './examine.ts';
import { type EchoOfReflector, type ServingEcho, servingEchoes } from './sensitivity-points.ts';

export interface AttenuationResult extends ApparentAttenuation {
  readonly near: BackWallRead;
  readonly far: BackWallRead;
  readonly doubts: readonly Doubt[];
  readonly remarks: readonly string[];
}

/** One of the two back-wall echoes as it was read. */
export interface BackWallRead {
  readonly distanceMm: number;
  readonly captureId: CaptureId;
  readonly gainDb: number | null;
  readonly amplitudePercent: number;
  readonly timeUs: number | null;
  readonly from: Reading['from'];
  readonly flags: readonly Flag[];
}

/** Apparent attenuation from the captures of a back wall; `null` where the problems say why. */
export function concludeAttenuation(
  decision: AttenuationDecision,
  errors: HeightErrors,
  field: NearField | null,
  examinations: readonly Examination[],
  say: { readonly problems: Problem[]; readonly warnings: Problem[] },
): AttenuationResult | null {
  const { near, far } = decision;
  const place = 'attenuation';
  if (far.distanceMm <= near.distanceMm) {
    const sentence = `the far echo is given at ${far.distanceMm} mm and the near one at ${near.distanceMm} mm; give the nearer first`;
    say.problems.push(problem('distances-reversed', { file: place }, sentence));
    return null;
  }
  const heights = servingEchoes(examinations, [near, far], place);
  say.problems.push(...heights.problems);
  say.warnings.push(...heights.warnings);
  const [first, second] = inOneCapture(heights.echoes);
  if (first === null || second === null) return null;
  const between = {
    uCouplingDb: first.captureId === second.captureId ? 0 : errors.uCouplingDb,
    uGainDb: first.gainDb === second.gainDb ? 0 : errors.uGainDb / Math.SQRT2,
  };
  const backWall = (echo: EchoOfReflector, { distanceMm, toleranceMm }: AttenuationDecision['near']) => ({
    distanceMm,
    uDistanceMm: rectangularUncertainty(toleranceMm),
    levelDb: {
      value: echo.gainFreeDb,
      standardUncertainty: heightUncertaintyDb(echo.reading.signalToNoiseDb, between),
    },
  });
  const apparent = apparentAttenuation(backWall(first, near), backWall(second, far));
  const doubts = implausibleAttenuation(apparent.attenuationDbPerMm);
  if (field !== null && near.distanceMm < field.lawsFromMm) {
    const { sentence, advice } = flagTexts['in-near-field'];
    const figures = `The near echo comes from ${figure(near.distanceMm, 2)} mm; three near-field lengths are ${figure(field.lawsFromMm, 1)} mm.`;
    doubts.push({ flag: 'in-near-field', sentence: `${sentence} ${figures} ${advice}` });
  }
  return {
    ...apparent,
    near: backWallRead(near.distanceMm, first),
    far: backWallRead(far.distanceMm, second),
    doubts,
    remarks: field === null ? [unknownNearField] : [],
  };
}

/** Both echoes from one capture, where one shows both whole: then no gain and no coupling stands between them. Of several, the one with the highest near echo. */
function inOneCapture(
  echoes: readonly (ServingEcho | null)[],
): readonly [EchoOfReflector | null, EchoOfReflector | null] {
  const [near, far] = echoes;
  if (near == null || far == null) return [near?.serving ?? null, far?.serving ?? null];
  const all = ({ serving, others }: ServingEcho) => [serving, ...others].filter((echo) => !echo.bounded);
  const pairs = all(near).flatMap((a) =>
    all(far)
      .filter((b) => b.captureId === a.captureId)
      .map((b) => [a, b] as const),
  );
  const [best] = pairs.sort(([a], [b]) => b.gainFreeDb - a.gainFreeDb);
  return best ?? [near.serving, far.serving];
}

function backWallRead(distanceMm: number, { reading, captureId, gainDb }: EchoOfReflector): BackWallRead {
  const { amplitudePercent, timeUs, from, flags } = reading;
  return { distanceMm, captureId, gainDb, amplitudePercent, timeUs: timeUs?.value ?? null, from, flags };
}
