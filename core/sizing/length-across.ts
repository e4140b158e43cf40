import type { CaptureId } from '../capture/capture.ts';
import { cos } from '../elementary/trigonometric.ts';
import { type DynamicPoint, echoDynamic, peakEnvelope, type StationReading } from '../scan/echo-dynamic.ts';
import { type LengthResult, lengthOf, noLength, type SizingBy } from './length.ts';

/** An indication as the lines of a raster show it. */
export interface OverLines {
  /** On the lines that show it, */
  readonly shown: readonly StationReading[];
  /** and where it would lie on those beside them. */
  readonly beside: readonly StationReading[];
  readonly own: readonly CaptureId[];
  /** Of the scan, and how many of them show it. */
  readonly lines: number;
  readonly linesShown: number;
  /** To the nearest line that does not show it; `null` where all do. */
  readonly nextLineMm: number | null;
  /** Of the beam to the normal; `null`: not known. */
  readonly angleDeg: number | null;
}

/**
 * The length of a reflector across the lines of a raster, as the probe moved, by the same drop as along them: from each line the highest height within the indication's own
 * positions along the scan.
 *
 * A beam that leans to one side passes a reflector more slowly when the probe moves to that side than its width is: width / cos angle of travel. The width that is stated, across
 * the beam's axis, is turned into that; without the angle none is used. Source: plane geometry (derived).
 *
 * @param withinMm how far beyond its own first and last position a height still belongs to it
 */
export function lengthAcross(over: OverLines, by: SizingBy, withinMm: number): LengthResult {
  const { shown, beside, lines, linesShown, nextLineMm, angleDeg } = over;
  const without = (sentence: string) => noLength(by.sizing, sentence);
  if (lines < 2) return without('The scan has one line: nothing was scanned across it.');
  if (linesShown < 2) {
    const next = nextLineMm === null ? '' : ` (the next is ${Number(nextLineMm.toFixed(2))} mm away)`;
    return without(
      `It stands on one line of the raster alone${next}: where it ends across the lines cannot be told. Scan with lines closer than the beam is wide.`,
    );
  }
  const own = new Set(over.own);
  const positions = shown.filter(({ station }) => own.has(station.captureId)).map(({ station }) => station.positionMm);
  const [from, to] = [Math.min(...positions) - withinMm, Math.max(...positions) + withinMm];
  const isWithin = ({ station }: StationReading) => station.positionMm >= from && station.positionMm <= to;
  const { points } = echoDynamic([...shown, ...beside].filter(isWithin));
  const envelope = peakEnvelope(points, 'across', 1e-6).map(
    (point): DynamicPoint => ({ ...point, positionMm: point.acrossMm ?? 0 }),
  );
  const ownLines = new Set(
    shown.filter(({ station }) => own.has(station.captureId)).map(({ station }) => station.acrossMm),
  );
  const inside = envelope.flatMap(({ acrossMm }, i) => (ownLines.has(acrossMm) ? [i] : []));
  const leans = angleDeg === null ? null : cos((angleDeg * Math.PI) / 180);
  return lengthOf(
    envelope,
    { first: inside[0] ?? 0, last: inside.at(-1) ?? -1 },
    {
      ...by,
      beamWidthMm: by.beamWidthMm === null || leans === null ? null : by.beamWidthMm / leans,
      uBeamWidthMm: leans === null ? 0 : by.uBeamWidthMm / leans,
    },
  );
}
