import type { CaptureId } from '../../core/capture/capture.ts';
import type { Review } from '../../core/review/review.ts';
import type { CalibrationResult } from '../../core/steps/calibrate.ts';
import { refersTo } from '../../core/steps/calibration-points.ts';
import type { ShownReflector } from './trace-props.ts';

/**
 * Where the calibration looks into a capture: the windows a person gave; of a block, which has none, the samples that each of its echoes was read from.
 */
export function shownReflectors(
  decision: Review['calibration'],
  result: CalibrationResult | null,
  capture: { readonly id: CaptureId; readonly file: string; readonly startUs: number; readonly stepUs: number },
): ShownReflector[] {
  if (decision?.kind !== 'fit') return [];
  const { id: captureId, file, startUs, stepUs } = capture;
  const isMeant = (reference: string) => refersTo(reference, { captureId, file });
  if (!decision.captures.some(isMeant)) return [];
  if (decision.reflectors.kind === 'windows') {
    return decision.reflectors.list.filter((reflector) => reflector.capture === null || isMeant(reflector.capture));
  }
  return (result?.calibration?.points ?? []).flatMap(({ captureId: readIn, distanceMm, from }) =>
    readIn === captureId && from !== null
      ? [{ distanceMm, fromUs: startUs + from.first * stepUs, toUs: startUs + from.last * stepUs }]
      : [],
  );
}
