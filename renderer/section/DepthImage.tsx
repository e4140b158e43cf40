import { useEffect, useRef } from 'react';
import type { PlotArea } from '../series/Axis.tsx';
import type { Scheme } from '../series/colour-map.ts';
import plot from '../series/Plot.module.css';
import type { Scale } from '../series/shading.ts';
import type { DepthShown } from './depth-image.ts';
import { paintedDepth } from './depth-shades.ts';
import { type DepthView, pixelAcross, pixelDown } from './depth-view.ts';

/** The shades. Painted once for each image; a change of the view only stretches it until the next one is there. */
export function DepthImage({
  area,
  view,
  shown,
  scale,
  scheme,
}: {
  readonly area: PlotArea;
  readonly view: DepthView;
  readonly shown: DepthShown | null;
  readonly scale: Scale;
  readonly scheme: Scheme;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const painted = canvas.current;
    const context = painted?.getContext('2d');
    if (painted == null || context == null) return;
    if (shown === null) {
      painted.width = 1;
      return;
    }
    const ratio = window.devicePixelRatio;
    const [width, height] = [Math.round(area.width * ratio), Math.round(area.height * ratio)];
    painted.width = width;
    painted.height = height;
    const pixels = paintedDepth(shown.picture, width, height, scale, scheme);
    context.putImageData(new ImageData(pixels, width, height), 0, 0);
  }, [shown, area, scale, scheme]);

  const of = shown?.asked.view ?? view;
  const [left, right] = [pixelAcross(of.fromMm, view, area), pixelAcross(of.toMm, view, area)];
  const [top, bottom] = [pixelDown(of.topMm, view, area), pixelDown(of.bottomMm, view, area)];
  return (
    <div
      className={`${plot.image} ${plot.clip}`}
      style={{ left: area.left, top: area.top, width: area.width, height: area.height }}
    >
      <canvas
        ref={canvas}
        style={{
          position: 'absolute',
          left: left - area.left,
          top: top - area.top,
          width: right - left,
          height: bottom - top,
        }}
      />
    </div>
  );
}
