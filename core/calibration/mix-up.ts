import { publishedBlocks } from '../block/published-blocks.ts';
import type { BlockSeries } from '../block/reference-block.ts';
import type { Nominal } from '../material/velocities.ts';
import { fitLine } from '../statistics/line-fit.ts';
import { figure } from '../units/figure.ts';
import type { DistanceCalibration } from './distance.ts';

/** Other distances for the same echoes, which give a velocity that the material has. */
export interface MixUp {
  readonly kind: 'series' | 'round-trip';
  readonly distancesMm: readonly number[];
  readonly velocityMPerS: number;
  readonly zeroOffsetUs: number;
  /** The block whose series holds those distances; `null` where distances there and back were taken for one-way ones. */
  readonly block: BlockSeries | null;
}

/** How near to nominal the other distances must bring the velocity. */
const nearNominal = 0.01;
const possibleOffsetUs = { from: -0.5, to: 40 };
/** Two distances are the same when they differ by less. */
const sameMm = 0.05;
/** How well other distances of three or more echoes must lie on a line. */
const onLineMm = 0.5;

/**
 * Looks for the mistake that explains a wrong velocity: echoes of one published series taken for others (4 and 9 in taken for
 * 4 and 8), keeping at least one of the distances stated; distances there and back taken for one-way ones.
 * The block's own series is looked at first, and the explanation that changes least is taken. `null` where none explains it.
 */
export function mixUpOf(
  calibration: DistanceCalibration,
  nominals: readonly Nominal[],
  block: BlockSeries | null,
): MixUp | null {
  const stated = calibration.points.map((p) => p.distanceMm);
  if (stated.length === 0) return null;
  const times = calibration.points.map((p) => p.timeUs);
  const others = publishedBlocks.filter((b) => b.name !== block?.name);
  const found: (MixUp & { readonly changed: number; readonly off: number })[] = [];
  const consider = (mixUp: Pick<MixUp, 'kind' | 'distancesMm' | 'block'>, wanted: readonly Nominal[]) => {
    const fit = fitLine(mixUp.distancesMm, times);
    if (!fit.ok || fit.value.residuals.some((r) => Math.abs(r / fit.value.slope) > onLineMm)) return;
    const velocityMPerS = 2000 / fit.value.slope;
    const zeroOffsetUs = fit.value.intercept;
    const off = Math.min(
      ...wanted.map((n) => Math.abs(velocityMPerS / n.velocityMPerS - 1) - n.toleranceMPerS / n.velocityMPerS),
    );
    if (off > nearNominal || zeroOffsetUs < possibleOffsetUs.from || zeroOffsetUs > possibleOffsetUs.to) return;
    const changed = mixUp.distancesMm.filter((d, i) => Math.abs(d - stated[i]) > sameMm).length;
    found.push({ ...mixUp, velocityMPerS, zeroOffsetUs, changed, off });
  };
  for (const candidate of block === null ? others : [block, ...others]) {
    const wanted = nominals.filter((n) => n.mode === candidate.nominal.mode);
    for (const distancesMm of choices(candidate.distancesMm, stated.length)) {
      const kept = distancesMm.some((d, i) => Math.abs(d - stated[i]) <= sameMm);
      if (kept && wanted.length > 0) consider({ kind: 'series', distancesMm, block: candidate }, wanted);
    }
  }
  if (found.length === 0) {
    consider({ kind: 'round-trip', distancesMm: stated.map((d) => d / 2), block: null }, nominals);
  }
  return found.sort((a, b) => a.changed - b.changed || a.off - b.off)[0] ?? null;
}

/** All ways to take so many distances out of a list, in order. */
function choices(distancesMm: readonly number[], count: number): number[][] {
  if (count === 0) return [[]];
  return distancesMm.flatMap((d, i) => choices(distancesMm.slice(i + 1), count - 1).map((rest) => [d, ...rest]));
}

export function mixUpInWords(mixUp: MixUp): string {
  const velocity = `${figure(mixUp.velocityMPerS, 0)} m/s`;
  const list = mixUp.distancesMm.map((d) => `${figure(d, 2)} mm${inInches(d)}`).join(', ');
  return mixUp.kind === 'series'
    ? `taken as ${list} (${mixUp.block?.title}) the same echoes give ${velocity} and a zero offset of ${figure(mixUp.zeroOffsetUs, 2)} µs: check which reflectors they are`
    : `with half the distances (${list}) the same echoes give ${velocity}: check that the distances are one way and the times there and back`;
}

function inInches(distanceMm: number): string {
  const inches = distanceMm / 25.4;
  return Math.abs(inches - Math.round(inches)) < 1e-9 ? ` (${Math.round(inches)} in)` : '';
}
