import type { PlaceInPart } from '../part/locate-in-part.ts';
import { legAt, placeOn } from '../part/section.ts';
import type { PlaceInSection } from '../review/part-decision.ts';
import type { End } from '../sizing/ends.ts';
import type { Indication } from '../steps/indication.ts';
import type { DepthMember, DepthScan } from './depth-scan.ts';

/** What an indication covers in a picture by true depth. */
export interface DepthExtent {
  readonly name: string;
  readonly taken: Indication['taken'];
  /** Along the scan, by its length where there is one, else by the captures that show it. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Whether it may go on farther out. */
  readonly isOpenLow: boolean;
  readonly isOpenHigh: boolean;
  /** Down, by the sound paths between which it lies. */
  readonly depthFromMm: number;
  readonly depthToMm: number;
  /** Where the beam runs between those paths, seen from where the echo stood highest; `null` where the place of the probe is not known. */
  readonly line: readonly PlaceInSection[] | null;
  /** With its uncertainty; `null` without a part. */
  readonly place: PlaceInPart | null;
  readonly peakMm: number;
}

/** The extents of those indications that stand highest in a capture of the picture, in their order. */
export function depthExtents(scan: DepthScan, indications: readonly Indication[]): DepthExtent[] {
  const members = new Map(scan.members.map((member) => [member.capture.captureId, member]));
  return indications.flatMap((indication): DepthExtent[] => {
    const { name, taken, peak, length, location, captures } = indication;
    const member = peak === null ? undefined : members.get(peak.captureId);
    if (peak === null || member === undefined) return [];
    const line = lineBetween(indication.fromMm, indication.toMm, member);
    const depths = line.map(({ depthMm }) => depthMm);
    const positions = captures.flatMap((id) => members.get(id)?.station.at ?? []);
    const isKnown = length.low !== null && length.high !== null;
    return [
      {
        name,
        taken,
        fromMm: isKnown ? length.low.positionMm.value : Math.min(...positions),
        toMm: isKnown ? length.high.positionMm.value : Math.max(...positions),
        isOpenLow: isOpen(length.low),
        isOpenHigh: isOpen(length.high),
        depthFromMm: Math.min(...depths),
        depthToMm: Math.max(...depths),
        line: member.index === null ? null : line,
        place: location?.place ?? null,
        peakMm: peak.positionMm,
      },
    ];
  });
}

function isOpen(end: End | null): boolean {
  return end !== null && end.state !== 'crossed';
}

/** The beam's axis between two paths, with the surfaces that it meets in between. Without a place of the probe `acrossMm` counts from the index point. */
export function lineBetween(fromMm: number, toMm: number, { beam, index }: DepthMember): PlaceInSection[] {
  const section = beam.sectionWith(beam.thicknessMm.value);
  const angle = (beam.angleDeg.value * Math.PI) / 180;
  const shape = section.leg(angle);
  const at = (pathMm: number, leg: number): PlaceInSection => {
    const { depthMm, alongMm } = placeOn(leg, pathMm, angle, section, shape);
    return { acrossMm: index === null ? alongMm : index.at + index.towards * alongMm, depthMm };
  };
  const [from, to] = [Math.max(0, fromMm), Math.max(0, toMm)];
  const [first, last] = [from, to].map((pathMm) => legAt(pathMm, shape?.lengthMm ?? null));
  const turns = Array.from({ length: last - first }, (_, i) => at((first + i) * shape!.lengthMm, first + i));
  return [at(from, first), ...turns, at(to, last)];
}
