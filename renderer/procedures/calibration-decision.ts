import { blockByName } from '../../core/block/block-by-name.ts';
import { isOwnBlock } from '../../core/block/own-block.ts';
import { publishedBlocks } from '../../core/block/published-blocks.ts';
import type { BlockSeries } from '../../core/block/reference-block.ts';
import { type EchoTaken, toleranceInBlock, windowsAround } from '../../core/calibration/reflector-windows.ts';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { Flag } from '../../core/flag.ts';
import type { CalibrationFit } from '../../core/review/review.ts';
import type { CalibrationResult } from '../../core/steps/calibrate.ts';
import type { Option } from '../parts/Choice.tsx';

/** A calibration on which nothing has been decided yet. */
export const nothingDecided: CalibrationFit = {
  kind: 'fit',
  captures: [],
  reflectors: { kind: 'windows', list: [] },
  timing: 'peak',
  thresholdPercent: 20,
  nominal: null,
};

export const ownBlock = 'own';
export const ownWindows = 'windows';

/** `iso-2400/…` stands under ISO 2400, `two-radius-…` under the blocks of two radii. */
function groupOf({ name }: BlockSeries): string {
  const standard = /^iso-(\d+)/.exec(name);
  if (standard !== null) return `ISO ${standard[1]}`;
  return name.startsWith('two-radius') ? 'Blocks of two radii' : 'Inch blocks';
}

/** The published blocks by their standard, then the ways of one's own. */
export const blockOptions: readonly Option<string>[] = [
  ...publishedBlocks.map((block) => ({
    id: block.name,
    label: block.title,
    description: null,
    group: groupOf(block),
  })),
  { id: ownBlock, label: 'A block of my own: steps, plate, distances', group: 'Without a standard' },
  { id: ownWindows, label: 'Distances, each with its window in time', group: 'Without a standard' },
];

/** Which of these options a decision stands for; `null` where nothing was chosen. */
export function chosenOption({ reflectors }: CalibrationFit): string | null {
  if (reflectors.kind === 'windows') return reflectors.list.length > 0 ? ownWindows : null;
  return isOwnBlock(reflectors.name) ? ownBlock : reflectors.name;
}

export function blockOf({ reflectors }: CalibrationFit): BlockSeries | null {
  return reflectors.kind === 'block' ? blockByName(reflectors.name) : null;
}

/** An echo of the calibration's captures, and the reflector it is taken for. */
export interface EchoRow {
  readonly captureId: CaptureId;
  readonly timeUs: number;
  readonly amplitudePercent: number | null;
  /** `null`: it belongs to no reflector. */
  readonly distanceMm: number | null;
  readonly residualMm: number | null;
  /** What it is, where it belongs to no reflector and its place tells. */
  readonly name: string | null;
  readonly flags: readonly Flag[];
}

/** Matched and unmatched echoes together, by capture in order of time. */
export function echoRows(result: CalibrationResult): readonly EchoRow[] {
  const residuals = new Map(result.calibration?.points.map((point) => [point.distanceMm, point.residualMm]));
  const matched = (result.calibration?.points ?? result.points).flatMap((point): EchoRow[] =>
    point.captureId === null
      ? []
      : [
          {
            captureId: point.captureId,
            timeUs: point.timeUs,
            amplitudePercent: point.amplitudePercent,
            distanceMm: point.distanceMm,
            residualMm: residuals.get(point.distanceMm) ?? null,
            name: null,
            flags: point.flags,
          },
        ],
  );
  const left = result.unmatchedEchoes.map(
    (echo): EchoRow => ({ ...echo, distanceMm: null, residualMm: null, flags: [] }),
  );
  const all = [...matched, ...left];
  const order = [...new Set(all.map((row) => row.captureId))];
  return all.sort((a, b) => order.indexOf(a.captureId) - order.indexOf(b.captureId) || a.timeUs - b.timeUs);
}

/** The distances that an echo may be taken for: those of the block, or those given. */
export function knownDistances(decision: CalibrationFit): readonly number[] {
  const { reflectors } = decision;
  if (reflectors.kind === 'windows') return reflectors.list.map((reflector) => reflector.distanceMm);
  return blockOf(decision)?.distancesMm ?? [];
}

/**
 * The decision in which one echo is taken for another reflector, or for none: from then on each echo has a window of its own, with the tolerance that its
 * distance had. A reflector has one echo: whoever had that distance loses it. The threshold comes down to half the lowest echo taken, for none is found below it.
 */
export function retaken(
  decision: CalibrationFit,
  rows: readonly EchoRow[],
  changed: EchoRow,
  distanceMm: number | null,
): CalibrationFit {
  const next = rows.map((row) => {
    if (row === changed) return { ...row, distanceMm };
    return distanceMm !== null && row.distanceMm === distanceMm ? { ...row, distanceMm: null } : row;
  });
  const taken = next.flatMap((row): EchoTaken[] =>
    row.distanceMm === null
      ? []
      : [
          {
            distanceMm: row.distanceMm,
            toleranceMm: toleranceOf(decision, row.distanceMm),
            timeUs: row.timeUs,
            captureId: row.captureId,
          },
        ],
  );
  const beside = next.filter((row) => row.distanceMm === null);
  const lowest = Math.min(...next.flatMap((row) => (row.distanceMm === null ? [] : (row.amplitudePercent ?? []))), 100);
  return {
    ...decision,
    thresholdPercent: Math.max(1, Math.min(decision.thresholdPercent, Math.floor(lowest / 2))),
    reflectors: { kind: 'windows', list: windowsAround(taken, beside) },
  };
}

function toleranceOf(decision: CalibrationFit, distanceMm: number): number {
  const block = blockOf(decision);
  if (block !== null) return toleranceInBlock(block, distanceMm);
  const { reflectors } = decision;
  if (reflectors.kind !== 'windows') return 0;
  return reflectors.list.find((reflector) => reflector.distanceMm === distanceMm)?.toleranceMm ?? 0;
}
