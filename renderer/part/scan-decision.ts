import type { ScanDecision, Sizing } from '../../core/review/scan-decision.ts';

/** A scan as it begins. */
export function newScan(
  captures: readonly string[],
  fromMm: number,
  toMm: number,
  percent: number,
  sizing: Sizing,
): ScanDecision {
  return {
    captures: [...captures],
    fromMm,
    toMm,
    level: { kind: 'screen', percent },
    scanningGainDb: null,
    sizing,
    beamWidthMm: null,
    uBeamWidthMm: 0,
    uPositionMm: 0,
    reference: null,
    rating: null,
    indications: [],
  };
}

export const sizingOptions: readonly { readonly id: Sizing['kind']; readonly label: string }[] = [
  { id: 'drop-6-db', label: '6 dB drop: to half of its peak' },
  { id: 'drop-20-db', label: '20 dB drop: to a tenth, less the beam' },
  { id: 'fixed-level', label: 'To a fixed height on the screen' },
  { id: 'half-of-curve', label: 'To half of the distance-amplitude curve' },
];

/** Problems of the scan that stand at its window and level; the others stand with the table. */
export const windowCodes: ReadonlySet<string> = new Set([
  'scan-without-calibration',
  'scan-path-negative',
  'scan-window-reversed',
  'level-without-curve',
  'scan-outside-record',
  'scan-partly-outside-record',
]);
