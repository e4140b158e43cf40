import { useMemo, useRef } from 'react';
import { weldDrawing } from '../../core/drawing/section-drawing.ts';
import type { PlaceInSection, Shape } from '../../core/review/part-decision.ts';
import { fitted, pathThrough, pixelOf } from '../section/drawing-view.ts';
import section from '../section/Section.module.css';
import { useSize } from '../series/use-size.ts';
import styles from './Part.module.css';

const heightPx = 150;

/** The outline as it is told, its corners numbered. */
export function WeldSketch({ shape, outline }: { readonly shape: Shape; readonly outline: readonly PlaceInSection[] }) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const drawn = useMemo(() => weldDrawing({ shape }, outline), [shape, outline]);
  const area =
    size === null ? null : { left: 12, top: 12, width: Math.max(40, size.width - 24), height: heightPx - 24 };
  const view = area === null || drawn === null ? null : fitted(drawn.whole, area);
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
                <text className={section.name} x={x + 5} y={y - 4}>
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
