import type { DistanceCalibration } from '../calibration/distance.ts';
import type { Capture, CaptureId } from '../capture/capture.ts';
import type { Waveform } from '../capture/waveform.ts';
import type { Gate, Timing } from '../gate/gate.ts';
import { type Reading, readGate } from '../gate/reading.ts';
import { type BackWallSettings, type CaptureMaterial, measureBackWalls } from '../material/back-walls.ts';
import type { Problem } from '../outcome.ts';
import type { BeamInPlate } from '../part/sound-path.ts';
import { type CapturePulse, measurePulse, type PulseSettings } from '../probe/pulse.ts';
import type { Review } from '../review/review.ts';
import { type ConditioningRecipe, condition, type Trace } from '../signal/conditioning.ts';
import { type Echo, findEchoes } from '../signal/echoes.ts';
import { type PictureSpan, type TracePicture, tracePicture } from '../signal/trace-picture.ts';
import { percentAtGain } from '../units/decibel.ts';

/** What is to be found in each capture: the same for all captures of one step of the evaluation. */
export interface Plan {
  readonly conditioning: ConditioningRecipe;
  /** `null`: no list of echoes is wanted. */
  readonly echoes: {
    readonly abovePercent: number;
    readonly fromUs: number | null;
    readonly toUs: number | null;
    /** The gain at which `abovePercent` is meant; absent or `null`: that of each capture itself. */
    readonly atGainDb?: number | null;
  } | null;
  /** The height in % FSH at which each echo's leading flank is timed, too; `null`: at none. */
  readonly flankPercent: number | null;
  readonly gates: readonly Gate[];
  readonly timing: Timing;
  readonly calibration: DistanceCalibration | null;
  readonly beam: BeamInPlate | null;
  readonly uAngleDeg: number | null;
  /** Where probes are characterised: how the echo is measured, by the probe that a capture states. */
  readonly pulse?: PulsePlan;
  /** Where a material is measured: the echoes of its back wall. */
  readonly material?: BackWallSettings;
  /** Where a trace is to be drawn small. */
  readonly picture?: PictureSpan;
}

/** A plan that asks for what is wanted and for nothing else. */
export function planFor(review: Pick<Review, 'conditioning'>, wanted: Partial<Plan>): Plan {
  return {
    conditioning: review.conditioning,
    echoes: null,
    flankPercent: null,
    gates: [],
    timing: 'peak',
    calibration: null,
    beam: null,
    uAngleDeg: null,
    ...wanted,
  };
}

/** How the echo of a probe is measured: as for all, or as for the probe of this name. */
export interface PulsePlan {
  readonly ofAll: PulseSettings;
  readonly ofProbes: readonly { readonly probe: string; readonly settings: PulseSettings }[];
}

/** What is known of how a capture was taken: the capture without its waveform. */
export type CaptureFacts = Omit<Capture, 'waveform' | 'metadata' | 'id'> &
  Pick<Waveform, 'stepUs' | 'amplitudeUnit' | 'rectification'> & {
    readonly captureId: CaptureId;
    readonly samples: number;
  };

/** All that one capture yields by itself. It holds no samples, so that many thousands can be kept. */
export interface Examination {
  readonly capture: CaptureFacts;
  readonly noisePercent: number | null;
  /** Standard uncertainty of a height by the noise, in % FSH; `null` where the noise is not known. */
  readonly uHeightPercent: number | null;
  /** The record shows one half wave alone: how high an echo stands depends on its carrier's phase, so that two different echoes cannot be compared closely. */
  readonly isHalfWave: boolean;
  /** The lowest height in % FSH at which screen or converter cut a crest off; `null` where none was. */
  readonly cutOffPercent: number | null;
  readonly echoes: readonly Echo[];
  /** One for each gate of the plan, in its order. */
  readonly readings: readonly Reading[];
  /** Not there where the plan asks for none. */
  readonly pulse?: CapturePulse;
  readonly material?: CaptureMaterial;
  readonly picture?: TracePicture | null;
}

/** The examinations of those captures that could be conditioned, in the order given, and the problems of the others. */
export interface Examined {
  readonly examinations: readonly Examination[];
  readonly problems: readonly Problem[];
}

/**
 * Conditions captures and reads what the plan asks for, one after the other, so that one trace at a time is in memory.
 * Captures are independent of one another: batches may be examined apart and put together.
 */
export function examine(captures: readonly Capture[], plan: Plan): Examined {
  const examinations: Examination[] = [];
  const problems: Problem[] = [];
  for (const capture of captures) {
    const outcome = condition(capture.waveform, plan.conditioning);
    if (outcome.ok) examinations.push(examineTrace(factsOf(capture), outcome.value, plan));
    else problems.push(...outcome.problems.map((p) => ({ ...p, place: { ...p.place, file: capture.id } })));
  }
  return { examinations, problems };
}

/** The same for a capture that is conditioned already, by the plan's own recipe. */
export function examineTrace(capture: CaptureFacts, trace: Trace, plan: Plan): Examination {
  return {
    capture,
    noisePercent: trace.noisePercent,
    uHeightPercent: uHeight(trace),
    isHalfWave: isHalfWave(trace),
    cutOffPercent: cutOffHeight(trace),
    echoes: plan.echoes === null ? [] : findEchoes(trace, echoesIn(capture, plan.echoes), plan.flankPercent),
    readings: plan.gates.map((gate) =>
      readGate(capture.captureId, trace, gate, plan.timing, plan.calibration, plan.beam, plan.uAngleDeg),
    ),
    ...(plan.pulse !== undefined && { pulse: pulseOf(capture, trace, plan.pulse) }),
    ...(plan.material !== undefined && { material: measureBackWalls(capture.captureId, trace, plan.material) }),
    ...(plan.picture !== undefined && { picture: tracePicture(trace, plan.picture) }),
  };
}

function pulseOf(capture: CaptureFacts, trace: Trace, { ofAll, ofProbes }: PulsePlan): CapturePulse {
  const own = ofProbes.find(({ probe }) => probe === capture.probe);
  return measurePulse(capture.captureId, trace, capture.gainDb, own?.settings ?? ofAll);
}

/** The height asked for, as it stands on the capture's own screen. */
function echoesIn({ gainDb }: CaptureFacts, echoes: NonNullable<Plan['echoes']>) {
  const { abovePercent, atGainDb = null } = echoes;
  if (atGainDb === null || gainDb === null) return echoes;
  return { ...echoes, abovePercent: percentAtGain(abovePercent, atGainDb, gainDb) };
}

/** A half wave does not show the other half of its noise, and its envelope is filled in between: heights of one echo on it then spread by 1.4 times the noise (measured). */
const halfWaveFactor = 2;

/** The noise, which is never less than one count's rounding (resolution/√12). A height made from several samples spreads by less. */
function uHeight(trace: Trace): number | null {
  return trace.noisePercent === null ? null : trace.noisePercent * (isHalfWave(trace) ? halfWaveFactor : 1);
}

function isHalfWave({ rectification }: Trace): boolean {
  return rectification === 'positive' || rectification === 'negative';
}

function cutOffHeight({ samples, saturated }: Trace): number | null {
  let lowest = Number.POSITIVE_INFINITY;
  for (const { first, last } of saturated)
    for (let i = first; i <= last; i++) lowest = Math.min(lowest, Math.abs(samples[i]));
  return Number.isFinite(lowest) ? lowest : null;
}

export function factsOf(capture: Capture): CaptureFacts {
  return {
    captureId: capture.id,
    file: capture.file,
    trace: capture.trace,
    sha256: capture.sha256,
    samples: capture.waveform.samples.length,
    stepUs: capture.waveform.stepUs,
    amplitudeUnit: capture.waveform.amplitudeUnit,
    rectification: capture.waveform.rectification,
    gainDb: capture.gainDb,
    takenAt: capture.takenAt,
    positionMm: capture.positionMm,
    acrossMm: capture.acrossMm,
    probe: capture.probe,
    instrument: capture.instrument,
    block: capture.block,
    temperatureC: capture.temperatureC,
  };
}
