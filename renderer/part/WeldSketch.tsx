import { useMemo, useRef } from 'react';
import { weldDrawing } from '../../core/drawing/section-drawing.ts';
import type { PlaceInSection, Shape } from '../../core/review/part-decision.ts';
import { fitted, pathThrough, pixelOf } from '../section/drawing-view.ts';
import section from '../section/Section.module.css';
import { useSize } from '../series/use-size.ts';
import { placeLabels } from '../trace/place-labels.ts';
import styles from './Part.module.css';

const heightPx = 150;
const linePx = 15;

/** The outline as it is told, its corners numbered. */
export function WeldSketch({ shape, outline }: { readonly shape: Shape; readonly outline: readonly PlaceInSection[] }) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const drawn = useMemo(() => weldDrawing({ shape }, outline), [shape, outline]);
  const area = useMemo(
    () => (size === null ? null : { left: 12, top: 12, width: Math.max(40, size.width - 24), height: heightPx - 24 }),
    [size],
  );
  const view = useMemo(() => (area === null || drawn === null ? null : fitted(drawn.whole, area)), [area, drawn]);
  const numbers = useMemo(() => {
    if (area === null || view === null || drawn === null) return [];
    const at = drawn.corners.map((corner) => pixelOf(corner, view, area));
    const dots = at.map(({ x, y }) => ({ left: x - 3, top: y - 3, width: 6, height: 6 }));
    const places = at.map(({ x, y }, i) => {
      const width = 7 * String(i + 1).length;
      const box = (left: number, top: number) => ({ left, top, width, height: linePx });
      return [
        box(x + 5, y - linePx),
        box(x - 5 - width, y - linePx),
        box(x + 6, y - 4),
        box(x - 6 - width, y - 4),
        box(x + 10, y - linePx - 4),
        box(x - 10 - width, y + 2),
      ];
    });
    return placeLabels(places, dots, { left: 0, top: 0, width: area.width + 24, height: heightPx });
  }, [area, view, drawn]);
  return (
    <div ref={frame} className={styles.sketch} role="img" aria-label={`Outline of the weld, ${outline.length} corners`}>
      {area !== null && drawn !== null && view !== null && (
        <svg width="100%" height={heightPx} aria-hidden="true">
          <path
            className={section.material}
            d={pathThrough([...drawn.scannedSurface, ...drawn.farSurface.toReversed()], view, area, true)}
          />
          <path
            className={section.surface}
            d={pathThrough(drawn.scannedSurface, view, area, false) + pathThrough(drawn.farSurface, view, area, false)}
          />
          <path className={styles.outline} d={pathThrough(drawn.outline, view, area, true)} />
          {drawn.corners.map((corner, i) => {
            const { x, y } = pixelOf(corner, view, area);
            return (
              // biome-ignore lint/suspicious/noArrayIndexKey: a corner is known by its place in the order alone
              <g key={i}>
                <circle className={styles.cornerDot} cx={x} cy={y} r={2.5} />
                <text className={section.name} x={numbers[i]!.left} y={numbers[i]!.top + linePx - 4}>
                  {i + 1}
                </text>
              </g>
            );
          })}
        </svg>
      )}
    </div>
  );
}
