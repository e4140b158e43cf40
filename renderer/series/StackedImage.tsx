import { useEffect, useRef } from 'react';
import type { Viewport } from '../trace/viewport.ts';
import type { PlotArea } from './Axis.tsx';
import { rampBytes, type Scheme } from './colour-map.ts';
import styles from './Plot.module.css';
import type { SeriesImage } from './series-image.ts';
import { paintedPixels, type Scale } from './shading.ts';

/** The shades. Painted once for each image; a change of the view only stretches it until the next one is there. */
export function StackedImage({
  area,
  image,
  columnOf,
  scale,
  scheme,
  view,
}: {
  readonly area: PlotArea;
  readonly image: SeriesImage | null;
  readonly columnOf: Int32Array;
  readonly scale: Scale;
  readonly scheme: Scheme;
  readonly view: Viewport;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const painted = canvas.current;
    const context = painted?.getContext('2d');
    if (painted == null || context == null) return;
    if (image === null) {
      painted.width = 1;
      return;
    }
    const { rows } = image.cells;
    painted.width = columnOf.length;
    painted.height = rows;
    const pixels = paintedPixels(image.cells, columnOf, scale, rampBytes(scheme));
    context.putImageData(new ImageData(pixels, columnOf.length, rows), 0, 0);
  }, [image, columnOf, scale, scheme]);

  const perUs = area.height / (view.toUs - view.fromUs);
  const inside =
    image === null
      ? { top: 0, height: area.height }
      : { top: (image.fromUs - view.fromUs) * perUs, height: (image.toUs - image.fromUs) * perUs };
  return (
    <div
      className={`${styles.image} ${styles.clip}`}
      style={{ left: area.left, top: area.top, width: area.width, height: area.height }}
    >
      <canvas ref={canvas} style={{ position: 'absolute', left: 0, width: area.width, ...inside }} />
    </div>
  );
}
