import type { DepthExtent } from '../../core/drawing/depth-extents.ts';
import type { DepthAcross, DepthScan } from '../../core/drawing/depth-scan.ts';
import type { PlaceInSection } from '../../core/review/part-decision.ts';
import type { PlotArea } from '../series/Axis.tsx';
import { type Box, overlapOf, placeLabels } from '../trace/place-labels.ts';
import { type DepthView, pixelAcross, pixelDown } from './depth-view.ts';

const linePx = 16;
const letterPx = 6.8;
const mostNames = 24;
/** Share of a name that may lie over another one. */
const mostCovered = 0.06;

/** A word in the picture, and where its line begins. */
export interface DepthName {
  readonly key: string;
  readonly words: string;
  readonly kind: 'part' | 'named' | 'chosen';
  readonly x: number;
  readonly y: number;
}

/** Seen along the weld, how far cap and root stand out of the part. */
export function weldLevels(outline: readonly PlaceInSection[], across: DepthAcross, thicknessMm: number) {
  if (across === 'reflecting-point' || outline.length === 0) return [];
  const depths = outline.map(({ depthMm }) => depthMm);
  const [cap, root] = [Math.min(...depths), Math.max(...depths)];
  return [
    ...(cap < 0 ? [{ name: 'cap', depthMm: cap }] : []),
    ...(root > thicknessMm ? [{ name: 'root', depthMm: root }] : []),
  ];
}

function middleOf(outline: readonly PlaceInSection[]): number {
  const places = outline.map(({ acrossMm }) => acrossMm);
  return (Math.min(...places) + Math.max(...places)) / 2;
}

/** The names of surfaces and weld where there is room for them, and of indications so that none lies over another; the chosen one always. */
export function depthNames({
  area,
  view,
  scan,
  across,
  outline,
  extents,
  indication,
}: {
  readonly area: PlotArea;
  readonly view: DepthView;
  readonly scan: DepthScan;
  readonly across: DepthAcross;
  readonly outline: readonly PlaceInSection[];
  readonly extents: readonly DepthExtent[];
  readonly indication: string | null;
}): DepthName[] {
  const x = (mm: number) => pixelAcross(mm, view, area);
  const y = (mm: number) => pixelDown(mm, view, area);
  const boxOf = (extent: DepthExtent): Box => {
    const { place, line } = extent;
    const isAlong = across === 'position';
    const across1 = isAlong ? extent.fromMm : (place?.acrossMm?.value ?? line?.[0]?.acrossMm ?? 0);
    const across2 = isAlong ? extent.toMm : across1;
    const [upper, lower] = isAlong
      ? [extent.depthFromMm, extent.depthToMm]
      : [place?.depthMm.value ?? extent.depthFromMm, place?.depthMm.value ?? extent.depthFromMm];
    const spare = isAlong ? 0 : Math.max(7, Math.abs(x(place?.ellipse?.semiMajorMm ?? 0) - x(0)));
    return {
      left: x(across1) - spare,
      top: y(upper) - spare,
      width: x(across2) - x(across1) + 2 * spare,
      height: y(lower) - y(upper) + 2 * spare,
    };
  };
  const inSight = (box: Box) =>
    box.left + box.width >= area.left &&
    box.left <= area.left + area.width &&
    box.top + box.height >= area.top &&
    box.top <= area.top + area.height;
  const lineBox = (at: number): Box => ({ left: area.left, top: at - 3, width: area.width, height: 6 });
  const known = across === 'position' ? extents : extents.filter(({ line }) => line !== null);
  const boxes = known.map(boxOf);
  const named = known
    .map((extent, i) => ({ name: extent.name, box: boxes[i]! }))
    .filter(({ name, box }) => inSight(box) && (known.length <= mostNames || name === indication));
  const wide = (words: string) => words.length * letterPx;
  const right = area.left + area.width - 8;
  const edges = weldLevels(outline, across, scan.thicknessMm);
  const depths = outline.map(({ depthMm }) => depthMm);
  const [cap, root] = [y(Math.min(0, ...depths)), y(Math.max(scan.thicknessMm, ...depths))];
  const [surface, far] = [y(0), y(scan.thicknessMm)];
  // Beside the part where there is room for a line of words, else within it.
  const isCapHigh = surface - Math.max(area.top, across === 'position' ? cap : area.top) >= linePx + 2;
  const isRootLow = Math.min(area.top + area.height, across === 'position' ? root : Infinity) - far >= linePx + 2;
  const partWords = [
    {
      words: 'scanned surface',
      left: right - wide('scanned surface'),
      at: isCapHigh ? surface - 4 : surface + linePx - 2,
    },
    { words: 'far surface', left: right - wide('far surface'), at: isRootLow ? far + linePx - 4 : far - 5 },
    ...edges
      .filter(({ name }) => (name === 'cap' ? surface - cap : root - far) >= linePx)
      .map(({ name, depthMm }) => ({
        words: `weld ${name}`,
        left: area.left + 8,
        at: y(depthMm) + (name === 'cap' ? linePx - 4 : -4),
      })),
    ...(across === 'reflecting-point' && outline.length > 2
      ? [{ words: 'weld', left: x(middleOf(outline)) - wide('weld') / 2, at: surface + linePx }]
      : []),
  ];
  const fixed = partWords.flatMap(({ words, left, at }) => {
    const box: Box = { left, top: at - linePx + 4, width: wide(words), height: linePx };
    const fits = box.top >= area.top - 2 && box.top + box.height <= area.top + area.height + 2 && inSight(box);
    return fits ? [{ key: words, words, box, kind: 'part' as const }] : [];
  });
  const shownFixed = fixed.filter(({ box }, i) => !fixed.slice(0, i).some((other) => overlapOf(other.box, box) > 0));
  const placed = placeLabels(
    named.map(({ name, box }) => {
      const width = wide(name);
      const at = (left: number, top: number): Box => ({ left, top, width, height: linePx });
      const middle = Math.min(
        area.left + area.width - width - 4,
        Math.max(area.left + 4, box.left + box.width / 2 - width / 2),
      );
      return [
        at(middle, box.top - linePx - 2),
        at(middle, box.top + box.height + 2),
        at(box.left + box.width + 6, box.top + box.height / 2 - linePx / 2),
        at(box.left - width - 6, box.top + box.height / 2 - linePx / 2),
      ];
    }),
    [...boxes, ...[surface, far, ...edges.map(({ depthMm }) => y(depthMm))].map(lineBox)],
    area,
    shownFixed.map(({ box }) => box),
  );
  const names = named.flatMap(({ name }, i) => {
    const box = placed[i]!;
    const others = [...shownFixed.map((one) => one.box), ...placed.slice(0, i)];
    const covered = others.reduce((sum, other) => sum + overlapOf(box, other), 0);
    if (name !== indication && covered > mostCovered * box.width * box.height) return [];
    return [
      {
        key: `indication ${name}`,
        words: name,
        box,
        kind: name === indication ? ('chosen' as const) : ('named' as const),
      },
    ];
  });
  return [...shownFixed, ...names].map(({ key, words, box, kind }) => ({
    key,
    words,
    kind,
    x: box.left,
    y: box.top + linePx - 4,
  }));
}
