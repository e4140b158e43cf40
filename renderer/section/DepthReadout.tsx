import type { MeasuredCell } from '../../core/drawing/depth-picture.ts';
import { type DepthAcross, type DepthMember, type DepthScan, placeOfSample } from '../../core/drawing/depth-scan.ts';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import { dbFromRatio } from '../../core/units/decibel.ts';
import { type FigureStyle, figureWithUnit } from '../../core/units/figure-style.ts';
import type { PointedPlace } from './depth-view.ts';

/** What lies at a place of the picture: where, on which leg, how high, and in which capture. */
export function DepthReadout({
  at,
  cell,
  scan,
  across,
  nameOf,
  style,
}: {
  readonly at: PointedPlace;
  /** `null`: nothing was measured there. */
  readonly cell: MeasuredCell | null;
  readonly scan: DepthScan;
  readonly across: DepthAcross;
  readonly nameOf: (member: DepthMember) => string;
  readonly style: FigureStyle;
}) {
  const member = cell === null ? undefined : scan.members[cell.capture];
  const placed = cell === null || member === undefined ? null : placeOfSample(member, cell.sample, scan);
  if (cell === null || member === undefined || placed === null)
    return (
      <>
        {across === 'position' ? 'Position' : 'Across'} <b>{plain(at.acrossMm, style)}</b> · depth{' '}
        <b>{plain(at.depthMm, style)}</b> · {isBeside(at, scan) ? 'outside the part' : 'not measured here'}
      </>
    );
  const { place, pathMm } = placed;
  const known = across === 'position' ? null : place.acrossMm;
  const { percent } = cell;
  return (
    <>
      {known === null ? (
        <>
          Position <b>{plain(member.capture.positionMm!, style)}</b>
        </>
      ) : (
        <>
          Across <b>{figureWithUncertainty(figures.lengthMm(known, style), style)}</b>
        </>
      )}{' '}
      · depth <b>{figureWithUncertainty(figures.lengthMm(place.depthMm, style), style)}</b> · leg <b>{place.leg}</b> ·
      path {plain(pathMm, style)} · <b>{figureWithUnit(percent, 'percent', 1, style)} FSH</b>
      {scan.gainDb !== null && ` at ${figureWithUnit(scan.gainDb, 'level', 1, style)}`}
      {percent > 0 && ` (${figureWithUnit(dbFromRatio(percent / 100), 'level', 1, style)})`} · {nameOf(member)}
    </>
  );
}

function isBeside({ depthMm }: PointedPlace, { thicknessMm }: DepthScan): boolean {
  return depthMm < 0 || depthMm > thicknessMm;
}

function plain(mm: number, style: FigureStyle): string {
  return figureWords(figures.lengthMm(mm, style), style);
}
