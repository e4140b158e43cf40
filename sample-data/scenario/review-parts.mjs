// What every saved review begins with: its files by their hashes, and how captures are conditioned.
import { createHash } from 'node:crypto';

const sha256 = (content) => createHash('sha256').update(Buffer.from(content)).digest('hex');

/** Everything of the import was left to what the files say. */
const recipe = {
  encoding: null,
  delimiter: null,
  decimalMark: null,
  headerLine: null,
  axis: null,
  timeUnit: null,
  distanceUnit: null,
  startUs: null,
  sampleRateMHz: null,
  axisVelocityMPerS: null,
  amplitudeUnit: null,
  fullScreen: null,
  zeroLevel: null,
  rectification: null,
  columns: { axis: null, amplitudes: null, captureId: null },
  uneven: 'refuse',
  dateOrder: null,
};

/** `files`: every file of the scenario by its path; the review lies in `folder` and names its files from there. */
export function reviewParts(files, folder, captures, manifests) {
  return {
    sources: captures.map((file) => ({ file, sha256: sha256(files[folder + file]), recipe, facts: [] })),
    manifests: manifests.map((file) => ({ file, sha256: sha256(files[folder + file]) })),
    conditioning: { baseline: 'linear', bandPass: null, padding: 'extend', peak: 'log-parabola' },
  };
}

export const window = (distanceMm, fromUs, toUs) => ({ distanceMm, toleranceMm: 0, fromUs, toUs, capture: null });
