import { openCalibration } from '../../core/calibration/open-calibration.ts';
import { calibrationAsGiven } from '../../core/steps/calibrate.ts';
import { readText, usable } from './gather.ts';

/** A calibration document as the review keeps it, and what can be computed with. */
export function openedCalibration(file: string) {
  const { text, sha256 } = readText(file);
  const given = usable(openCalibration(file, text, sha256)).value;
  return { given, calibration: calibrationAsGiven(given) };
}
