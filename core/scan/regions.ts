import type { CaptureId } from '../capture/capture.ts';
import type { Extent } from './extent.ts';
import type { ScanLine, Station } from './scan-lines.ts';

/** An echo above the level, at its place in the scan. */
export interface Cell {
  readonly captureId: CaptureId;
  readonly pathMm: number;
  /** Where it stands at a fifth of its height, taken as alike on both flanks. */
  readonly fromMm: number;
  readonly toMm: number;
  /** In dB over 1 % FSH, gain taken out where it is known. */
  readonly heightDb: number;
}

/** Echoes that hang together, with what they span. */
export interface Region extends Extent {
  readonly cells: readonly Cell[];
  readonly highest: Cell;
  /** Made of where its highest echo stands, so that it stays when other regions come or go, or this one grows. */
  readonly name: string;
}

/** So many usual steps apart two positions are no neighbours any more: a place was left out between them. */
const widestStep = 2.5;

/**
 * The connected regions of a scan: echoes of neighbouring positions whose paths overlap belong together.
 *
 *     path |    -- -- --            neighbours along a line are the next positions; across a raster, the next lines'
 *          |         -- --          nearest positions, no farther than half the usual step along
 *          |                 --
 *          +----------------------- position
 *
 * A capture that shows nothing between two that do parts a region: the person may merge. In order of their first position, then of path.
 * @param cells of captures that stand on the lines; others are left out
 */
export function connectedRegions(cells: readonly Cell[], lines: readonly ScanLine[], stepMm: number | null): Region[] {
  const byCapture = new Map<CaptureId, number[]>();
  for (const [i, { captureId }] of cells.entries()) add(byCapture, captureId, i);
  const parent = cells.map((_, i) => i);
  const rootOf = (i: number): number => {
    let root = i;
    while (parent[root] !== root) root = parent[root];
    for (let at = i; parent[at] !== root; ) [at, parent[at]] = [parent[at], root];
    return root;
  };
  const join = (a: CaptureId, b: CaptureId) => {
    for (const i of byCapture.get(a) ?? [])
      for (const j of byCapture.get(b) ?? [])
        if (cells[i].fromMm <= cells[j].toMm && cells[j].fromMm <= cells[i].toMm) parent[rootOf(i)] = rootOf(j);
  };
  for (const [a, b] of neighbours(lines, stepMm)) join(a.captureId, b.captureId);
  const stations = new Map(lines.flatMap((line) => line.stations.map((station) => [station.captureId, station])));
  const groups = new Map<number, Cell[]>();
  cells.forEach((cell, i) => {
    if (stations.has(cell.captureId)) add(groups, rootOf(i), cell);
  });
  const regions = [...groups.values()].map((group) => regionOf(group, lines, stations));
  regions.sort(
    (a, b) => stations.get(a.captures[0])!.positionMm - stations.get(b.captures[0])!.positionMm || a.fromMm - b.fromMm,
  );
  return withOwnNames(regions);
}

function add<Key, Value>(groups: Map<Key, Value[]>, key: Key, value: Value): void {
  const group = groups.get(key);
  if (group === undefined) groups.set(key, [value]);
  else group.push(value);
}

function neighbours(lines: readonly ScanLine[], stepMm: number | null): [Station, Station][] {
  const pairs: [Station, Station][] = [];
  const widest = stepMm === null ? Number.POSITIVE_INFINITY : widestStep * stepMm;
  for (const { stations } of lines)
    for (let i = 1; i < stations.length; i++)
      if (stations[i].positionMm - stations[i - 1].positionMm <= widest) pairs.push([stations[i - 1], stations[i]]);
  for (let l = 1; l < lines.length; l++)
    for (const station of lines[l].stations) {
      const other = nearest(lines[l - 1].stations, station.positionMm);
      const reach = (stepMm ?? 0) / 2 + 1e-9;
      if (Math.abs(other.positionMm - station.positionMm) <= reach) pairs.push([other, station]);
    }
  return pairs;
}

/** By bisection: thousands of positions stand on a line. */
function nearest(stations: readonly Station[], positionMm: number): Station {
  let [low, high] = [0, stations.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (stations[middle].positionMm <= positionMm) low = middle;
    else high = middle;
  }
  const closer = Math.abs(stations[high].positionMm - positionMm) < Math.abs(stations[low].positionMm - positionMm);
  return stations[closer ? high : low];
}

function regionOf(
  cells: readonly Cell[],
  lines: readonly ScanLine[],
  stations: ReadonlyMap<CaptureId, Station>,
): Region {
  const shown = new Set(cells.map(({ captureId }) => captureId));
  const highest = cells.reduce((best, cell) => (cell.heightDb > best.heightDb ? cell : best));
  return {
    captures: lines.flatMap((line) => line.stations.map(({ captureId }) => captureId).filter((id) => shown.has(id))),
    fromMm: Math.min(...cells.map(({ fromMm }) => fromMm)),
    toMm: Math.max(...cells.map(({ toMm }) => toMm)),
    cells,
    highest,
    name: placeName(stations.get(highest.captureId)!, highest.pathMm),
  };
}

const short = (mm: number): string => String(Number(mm.toFixed(1)));

/** `at 65 mm, path 30 mm`; the path in whole mm, since it is read with noise. */
function placeName({ positionMm, acrossMm }: Station, pathMm: number): string {
  const across = acrossMm === null ? '' : ` and ${short(acrossMm)} mm across`;
  return `at ${short(positionMm)} mm${across}, path ${Math.round(pathMm)} mm`;
}

function withOwnNames(regions: readonly Region[]): Region[] {
  const seen = new Map<string, number>();
  return regions.map((region) => {
    const before = seen.get(region.name) ?? 0;
    seen.set(region.name, before + 1);
    return before === 0 ? region : { ...region, name: `${region.name} (${before + 1})` };
  });
}
