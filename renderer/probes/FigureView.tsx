import { useEffect, useMemo, useRef } from 'react';
import type { NumberStyle } from '../../core/units/format-quantity.ts';
import type { Scheme } from '../series/colour-map.ts';
import { useScheme } from '../series/use-scheme.ts';
import { useSize } from '../series/use-size.ts';
import styles from './FigureView.module.css';
import { figureMarks, type Ink, type Look, legendHeight, type Mark } from './figure-marks.ts';
import type { PlotFigure } from './plot-figure.ts';
import type { Pixels } from './png.ts';
import { imagePixels, stripPixels } from './shades.ts';

/** On the page, in CSS pixels. */
const onPage = { font: 12, line: 1.6, thin: 1 } as const;
/** A plot narrower or lower than this shows nothing: plots go below one another, and their place scrolls. One row alone may be lower, so that its axis stays in sight. */
const narrowest = 140;
const leastRow = 140;
const leastOfOne = 80;

/** A figure as large as its place; higher where its plots need more than that, and its place scrolls. */
export function FigureView({ figure, style }: { readonly figure: PlotFigure; readonly style: NumberStyle }) {
  const place = useRef<HTMLDivElement>(null);
  const size = useSize(place);
  const scheme = useScheme();
  const { look, marks, isScrolled } = useMemo(() => {
    if (size === null) return { look: null, marks: [], isScrolled: false };
    const across = Math.max(1, Math.min(figure.across, Math.floor(size.width / narrowest)));
    const fitting = { ...figure, across };
    const rows = Math.ceil(figure.panels.length / across);
    const wide = { ...onPage, width: size.width, height: size.height - 1 };
    const needed = legendHeight(figure, wide) + (rows === 1 ? leastOfOne : rows * leastRow);
    const look: Look = { ...wide, height: Math.max(needed, wide.height) };
    return { look, marks: figureMarks(fitting, look, style), isScrolled: needed > wide.height };
  }, [figure, size, style]);
  return (
    // What is higher than its place is scrolled by keys that reach it.
    <div ref={place} className={styles.place} {...(isScrolled ? { tabIndex: 0 } : {})}>
      {look !== null && (
        <svg
          className={styles.figure}
          width={look.width}
          height={look.height}
          viewBox={`0 0 ${look.width} ${look.height}`}
          role="img"
          aria-label={figure.words}
        >
          {marks.map((mark, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: marks have no name but their place in the order of drawing
            <Drawn key={i} mark={mark} figure={figure} scheme={scheme} />
          ))}
        </svg>
      )}
    </div>
  );
}

const inkClass = (ink: Ink): string => styles[ink] ?? '';

function Drawn({
  mark,
  figure,
  scheme,
}: {
  readonly mark: Mark;
  readonly figure: PlotFigure;
  readonly scheme: Scheme;
}) {
  switch (mark.kind) {
    case 'line':
      return (
        <polyline
          className={`${styles.line} ${inkClass(mark.ink)}`}
          points={pointsOf(mark.points)}
          strokeWidth={mark.width}
          strokeDasharray={mark.dash.length === 0 ? undefined : mark.dash.join(' ')}
        />
      );
    case 'area':
      return <polygon className={`${styles.area} ${inkClass(mark.ink)}`} points={pointsOf(mark.points)} />;
    case 'text':
      return (
        <text
          className={`${styles.text} ${inkClass(mark.ink)}`}
          x={mark.x}
          y={mark.y}
          fontSize={mark.size}
          textAnchor={mark.anchor}
          fontWeight={mark.bold ? 600 : undefined}
          transform={mark.upright ? `rotate(-90 ${mark.x} ${mark.y})` : undefined}
        >
          {mark.text}
        </text>
      );
    case 'image':
    case 'shades':
      return <Shaded mark={mark} figure={figure} scheme={scheme} />;
  }
}

/** Pixels stand on a canvas within the drawing, stretched to their place. */
function Shaded({
  mark,
  figure,
  scheme,
}: {
  readonly mark: Extract<Mark, { panel: number }>;
  readonly figure: PlotFigure;
  readonly scheme: Scheme;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const image = figure.panels[mark.panel]?.image ?? null;
  const isStrip = mark.kind === 'shades';
  const pixels = useMemo(
    (): Pixels | null => (isStrip ? stripPixels(scheme) : image === null ? null : imagePixels(image, scheme)),
    [isStrip, image, scheme],
  );
  useEffect(() => {
    const painted = canvas.current;
    if (painted === null || pixels === null) return;
    painted.width = pixels.width;
    painted.height = pixels.height;
    const data = new ImageData(new Uint8ClampedArray(pixels.data), pixels.width, pixels.height);
    painted.getContext('2d')?.putImageData(data, 0, 0);
  }, [pixels]);
  return (
    <foreignObject x={mark.x} y={mark.y} width={mark.width} height={mark.height}>
      <canvas ref={canvas} className={styles.shades} />
    </foreignObject>
  );
}

function pointsOf(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(' ');
}
