import type { CaptureId } from '../capture/capture.ts';
import type { Flag } from '../flag.ts';
import type { Reading } from '../gate/reading.ts';
import type { ScanDecision } from '../review/scan-decision.ts';
import type { SensitivityDecision } from '../review/sensitivity-decision.ts';
import { levelsInDb } from '../sensitivity/evaluation-levels.ts';
import { type HeldReading, type HoldingBy, holdAgainstCurve } from '../sensitivity/hold-against-curve.ts';
import type { CurveResult } from '../steps/sensitivity.ts';
import { figure } from '../units/figure.ts';

/** What amplitudes of a scan are told against. */
export interface ScanReference {
  readonly by: HoldingBy;
  /** Where it comes from. */
  readonly from: 'stated' | 'sensitivity';
  readonly scanningGainDb: number | null;
}

/** An amplitude against reference level and curve; without a reference `unreferenced` says why, and nothing else is told. */
export interface ReferredAmplitude {
  readonly held: HeldReading | null;
  /** The gain taken out beyond the reference’s own: that stated for scanning, or the difference of the stated gains. `null` where none is known. */
  readonly takenOutDb: number | null;
  readonly unreferenced: string | null;
  readonly remarks: readonly string[];
  readonly flags: readonly Flag[];
}

const onlyCalibrated =
  'There is only a distance calibration: nothing says which height on the screen a reference reflector gives, so the amplitude is unreferenced and gets no rating. Give a reference level, or the captures of a reference reflector.';

/** What a scan is held against; `null` where there is none. */
export interface ScanReferences {
  /** For the level above the reference and the rating: the stated one, else that of the sensitivity part. */
  readonly level: ScanReference | null;
  /** For dB to the curve and its levels: that of the sensitivity part, since its curve is told above its own reference. */
  readonly curve: ScanReference | null;
}

/** The references of a scan, with the transfer correction and the uncertainties of the sensitivity part. */
export function scanReferences(
  { reference: stated, scanningGainDb }: ScanDecision,
  curve: CurveResult | null,
  sensitivity: SensitivityDecision | null,
): ScanReferences {
  const uCouplingDb = sensitivity?.uCouplingDb ?? 0;
  const common = {
    decision: curve?.decision ?? ('with-uncertainty' as const),
    transferDb: curve?.transferDb ?? { value: 0, standardUncertainty: 0 },
  };
  const ofCurve: ScanReference | null =
    curve === null || curve.reference === null
      ? null
      : {
          by: {
            ...common,
            curve: curve.curve,
            levels: curve.levels === null ? [] : levelsInDb(curve.levels),
            reference: curve.reference,
            errors: { uCouplingDb, uGainDb: sensitivity?.uGainDb ?? 0 },
          },
          from: 'sensitivity',
          scanningGainDb,
        };
  if (stated === null) return { level: ofCurve, curve: ofCurve };
  const { percent, gainDb, uGainDb } = stated;
  const reference = { percent, gainDb, raisedDb: 0, by: 'stated' as const, setAtDb: gainDb };
  return {
    level: {
      by: { ...common, curve: null, levels: [], reference, errors: { uCouplingDb, uGainDb } },
      from: 'stated',
      scanningGainDb,
    },
    curve: ofCurve,
  };
}

/** Two gains differ when they do by more than a display in tenths of dB can hide. */
const sameDb = 0.05;

/**
 * The amplitude of a reading against the reference, scanning gain taken out: by the gain that the capture states (which has the scanning gain in it), else by the
 * scanning gain stated for the scan. Flag `unreferenced` where there is no reference, and where neither gain is known.
 */
export function referAmplitude(
  reading: Reading & { readonly captureId: CaptureId },
  gainDb: number | null,
  reference: ScanReference | null,
): ReferredAmplitude {
  if (reference === null)
    return { held: null, takenOutDb: null, unreferenced: onlyCalibrated, remarks: [], flags: ['unreferenced'] };
  const { by, scanningGainDb } = reference;
  const referenceGainDb = by.reference?.gainDb ?? null;
  const remarks: string[] = [];
  let takenOutDb = gainDb === null || referenceGainDb === null ? scanningGainDb : gainDb - referenceGainDb;
  let effectiveGainDb = gainDb;
  let { transferDb } = by;
  if (gainDb === null && referenceGainDb !== null && scanningGainDb !== null) {
    effectiveGainDb = referenceGainDb + scanningGainDb;
    remarks.push(
      `The capture states no gain: ${figure(scanningGainDb, 1)} dB above the reference were taken out, as stated for the scan.`,
    );
  } else if (gainDb === null && referenceGainDb === null && scanningGainDb !== null) {
    transferDb = { ...transferDb, value: transferDb.value - scanningGainDb };
  } else if (gainDb !== null && referenceGainDb !== null && scanningGainDb !== null) {
    const aboveDb = gainDb - referenceGainDb;
    if (Math.abs(aboveDb - scanningGainDb) > sameDb)
      remarks.push(
        `The capture’s gain stands ${figure(aboveDb, 1)} dB above the reference’s, and ${figure(scanningGainDb, 1)} dB are stated for scanning: the capture’s own gain was taken out. Check which of them holds.`,
      );
  } else if (gainDb === null || referenceGainDb === null) {
    takenOutDb = null;
  }
  const held = holdAgainstCurve({ ...reading, gainDb: effectiveGainDb }, { ...by, transferDb });
  if (held.levelDb === null)
    return {
      held,
      takenOutDb: null,
      unreferenced: held.remarks[0] ?? 'There is no amplitude to hold against the reference.',
      remarks,
      flags: ['unreferenced'],
    };
  return { held, takenOutDb, unreferenced: null, remarks, flags: [] };
}
