import type { CaptureId } from '../../core/capture/capture.ts';
import type { CalibrationFit, Reflector, Review } from '../../core/review/review.ts';

/** Common practice for a first look: low enough for most echoes, well above the grass. */
const usualThresholdPercent = 20;

/** A calibration by windows, to begin with. */
function calibrationByWindows(captureId: CaptureId, heightPercent: number): CalibrationFit {
  return {
    kind: 'fit',
    captures: [captureId],
    reflectors: { kind: 'windows', list: [] },
    timing: 'peak',
    thresholdPercent: Math.max(1, Math.min(usualThresholdPercent, Math.floor(heightPercent / 2))),
    nominal: null,
  };
}

/**
 * The calibration with one more reflector. A calibration by windows keeps what it has (a reflector at the same distance is replaced); one from a block
 * or taken over from elsewhere knows no windows, and a new one by windows begins, by the same rule of timing.
 */
export function withReflector(
  calibration: Review['calibration'],
  captureId: CaptureId,
  reflector: Reflector,
  heightPercent: number,
): CalibrationFit {
  const isByWindows = calibration?.kind === 'fit' && calibration.reflectors.kind === 'windows';
  const begun = calibrationByWindows(captureId, heightPercent);
  const base: CalibrationFit = isByWindows ? calibration : { ...begun, timing: calibration?.timing ?? begun.timing };
  const list = base.reflectors.kind === 'windows' ? base.reflectors.list : [];
  const others = list.filter(({ distanceMm }) => distanceMm !== reflector.distanceMm);
  return {
    ...base,
    captures: base.captures.includes(captureId) ? base.captures : [...base.captures, captureId],
    reflectors: { kind: 'windows', list: [...others, reflector].sort((a, b) => a.distanceMm - b.distanceMm) },
  };
}
