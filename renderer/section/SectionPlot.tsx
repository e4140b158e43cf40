import { type KeyboardEvent, type PointerEvent, useEffect, useId, useMemo, useRef, useState } from 'react';
import { placeAtPoint } from '../../core/drawing/drawn-plane.ts';
import type { DrawnSection } from '../../core/drawing/section-drawing.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { PlotArea } from '../series/Axis.tsx';
import plot from '../series/Plot.module.css';
import { type Size, useSize } from '../series/use-size.ts';
import { type DrawingView, fitted, moved, pixelOf, pointAt, sameGround, zoomed } from './drawing-view.ts';
import styles from './Section.module.css';
import { SectionKey } from './SectionKey.tsx';
import { SectionMarks } from './SectionMarks.tsx';
import { itemWords, placeFigures, type SectionItem, whatItIs } from './section-items.ts';

interface SectionPlotProps {
  readonly drawn: DrawnSection;
  readonly items: readonly SectionItem[];
  readonly selected: string | null;
  readonly onSelect: (id: string) => void;
  readonly style: FigureStyle;
  readonly fit: 'whole' | 'close' | null;
  readonly onFit: (fit: 'whole' | 'close' | null) => void;
}

function areaIn({ width, height }: Size): PlotArea {
  return { left: 60, top: 8, width: Math.max(40, width - 72), height: Math.max(40, height - 48) };
}

const zoomStep = 1.5;
const moveStepPx = 60;
/** A pointer this near to a mark means it, in pixels. */
const nearPx = 12;
/** A pointer that moves less than this has clicked. */
const clickPx = 4;

/** The drawing itself: what moves it, what is chosen in it, and what lies under the pointer. */
export function SectionPlot({ drawn, items, selected, onSelect, style, fit, onFit }: SectionPlotProps) {
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const area = useMemo(() => (size === null ? null : areaIn(size)), [size]);
  const base = useId();
  const [own, setOwn] = useState<{ readonly view: DrawingView; readonly of: DrawnSection } | null>(null);
  const view = useMemo(() => {
    if (area === null) return null;
    if (fit === null && own !== null && sameGround(own.of, drawn)) return own.view;
    return fitted((fit === 'close' ? drawn.close : null) ?? drawn.whole, area);
  }, [area, fit, own, drawn]);
  const setView = (next: DrawingView) => {
    setOwn({ view: next, of: drawn });
    onFit(null);
  };
  const [pointed, setPointed] = useState<{ readonly x: number; readonly y: number } | null>(null);

  const byId = useMemo(() => new Map(items.map((item) => [item.id, item])), [items]);
  /** In order across, for the keys. */
  const inOrder = useMemo(
    () => drawn.marks.filter(({ id }) => byId.has(id)).toSorted((a, b) => a.at.xMm - b.at.xMm || a.at.yMm - b.at.yMm),
    [drawn, byId],
  );
  const chosen = inOrder.findIndex(({ id }) => id === selected);

  const latest = useRef({ view, area, drawn, setView });
  latest.current = { view, area, drawn, setView };
  useEffect(() => {
    const over = frame.current;
    if (over === null) return;
    const until = new AbortController();
    over.addEventListener(
      'wheel',
      (event) => {
        const now = latest.current;
        if (now.view === null || now.area === null) return;
        event.preventDefault();
        const within = over.getBoundingClientRect();
        const about = pointAt(event.clientX - within.left, event.clientY - within.top, now.view, now.area);
        const pixels = event.deltaY * ([1, 33, 400][event.deltaMode] ?? 1);
        now.setView(zoomed(now.view, about, 1.2 ** (pixels / 100), now.drawn.whole, now.area));
      },
      { signal: until.signal, passive: false },
    );
    return () => until.abort();
  }, []);

  function onKeyDown(event: KeyboardEvent) {
    if (event.ctrlKey || event.metaKey || event.altKey || view === null || area === null) return;
    const step = event.shiftKey ? moves[event.key] : undefined;
    const next = event.shiftKey ? null : chosenAfter(event.key, chosen, inOrder.length);
    if (step !== undefined) setView(moved(view, step[0] * moveStepPx, step[1] * moveStepPx, drawn.whole));
    else if (next !== null) onSelect(inOrder[next]!.id);
    else if (event.key === '+' || event.key === '=')
      setView(zoomed(view, inOrder[chosen]?.at ?? view.middle, 1 / zoomStep, drawn.whole, area));
    else if (event.key === '-' || event.key === '−')
      setView(zoomed(view, inOrder[chosen]?.at ?? view.middle, zoomStep, drawn.whole, area));
    else if (event.key === '0') onFit('whole');
    else return;
    event.preventDefault();
  }

  const drag = useRef<{ readonly x: number; readonly y: number; readonly view: DrawingView; moved: boolean } | null>(
    null,
  );
  const placeOf = (event: PointerEvent) => {
    const within = frame.current!.getBoundingClientRect();
    return { x: event.clientX - within.left, y: event.clientY - within.top };
  };
  const under = pointed === null || view === null || area === null ? null : nearest(pointed, drawn, view, area);
  const shown = (under === null ? null : byId.get(under)) ?? (selected === null ? null : (byId.get(selected) ?? null));
  const option = (id: string) => `${base}-${inOrder.findIndex((mark) => mark.id === id)}`;
  const hasItems = inOrder.length > 0;
  const name = nameOf(drawn, items, style);

  return (
    <>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: it is a list box, or a picture where there is nothing to choose */}
      <div
        ref={frame}
        className={`${plot.plot} ${plot.zoomable} ${styles.plot}`}
        {...(hasItems
          ? {
              role: 'listbox',
              'aria-label': name,
              'aria-activedescendant': chosen >= 0 ? option(selected!) : undefined,
            }
          : { role: 'img', 'aria-label': name })}
        aria-describedby={`${base}-hint`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: keys zoom and move it, whatever lies in it
        tabIndex={0}
        onKeyDown={onKeyDown}
        onPointerDown={(event) => {
          if (view === null || event.button !== 0) return;
          drag.current = { ...placeOf(event), view, moved: false };
          event.currentTarget.setPointerCapture(event.pointerId);
        }}
        onPointerMove={(event) => {
          const at = placeOf(event);
          const from = drag.current;
          if (from === null) return setPointed(at);
          if (!from.moved && Math.hypot(at.x - from.x, at.y - from.y) < clickPx) return;
          from.moved = true;
          setPointed(null);
          setView(moved(from.view, from.x - at.x, from.y - at.y, drawn.whole));
        }}
        onPointerUp={(event) => {
          const from = drag.current;
          drag.current = null;
          if (from === null || from.moved || view === null || area === null) return;
          const meant = nearest(placeOf(event), drawn, view, area);
          if (meant !== null) onSelect(meant);
        }}
        onPointerCancel={() => {
          drag.current = null;
        }}
        onPointerLeave={() => setPointed(null)}
        onDoubleClick={() => onFit('whole')}
      >
        {area !== null && view !== null && (
          <SectionMarks drawn={drawn} byId={byId} view={view} area={area} selected={selected} style={style} />
        )}
        {hasItems &&
          inOrder.map(({ id }, i) => (
            // biome-ignore lint/a11y/useFocusableInteractive: the list has the focus, and tells which of them is active
            <div
              key={id}
              id={`${base}-${i}`}
              role="option"
              aria-selected={id === selected}
              aria-label={itemWords(byId.get(id)!, drawn.origin, style)}
              className={styles.unseen}
            />
          ))}
      </div>
      <div className={plot.foot}>
        <p className={`${plot.readout} ${styles.readout}`}>
          {shown !== null ? (
            <>
              <b>{shown.name}</b> · {whatItIs(shown)}
              {placeFigures(shown, drawn.origin, style).map(({ name: what, text }) => (
                <span key={what}>
                  {' '}
                  · {what.toLowerCase()} <b>{text}</b>
                </span>
              ))}
            </>
          ) : pointed !== null && view !== null && area !== null ? (
            <PointWords drawn={drawn} {...pointAt(pointed.x, pointed.y, view, area)} style={style} />
          ) : (
            <span>
              {hasItems ? 'Click or Left and Right choose what lies there, ' : ''}the wheel or + and − zoom, a drag
              moves
            </span>
          )}
          <span id={`${base}-hint`} hidden>
            Left and Right choose, + and − zoom, Shift with an arrow moves, 0 shows all
          </span>
        </p>
        <SectionKey drawn={drawn} items={items} />
      </div>
    </>
  );
}

const moves: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** The place in the order that a key chooses; `null` where it chooses nothing. */
function chosenAfter(key: string, chosen: number, count: number): number | null {
  if (count === 0) return null;
  switch (key) {
    case 'ArrowRight':
    case 'ArrowDown':
      return Math.min(count - 1, chosen + 1);
    case 'ArrowLeft':
    case 'ArrowUp':
      return chosen < 0 ? count - 1 : Math.max(0, chosen - 1);
    case 'Home':
      return 0;
    case 'End':
      return count - 1;
    default:
      return null;
  }
}

function nearest(
  { x, y }: { readonly x: number; readonly y: number },
  drawn: DrawnSection,
  view: DrawingView,
  area: PlotArea,
): string | null {
  let best: string | null = null;
  let least = nearPx;
  for (const { id, at } of drawn.marks) {
    const there = pixelOf(at, view, area);
    const away = Math.hypot(there.x - x, there.y - y);
    if (away <= least) [best, least] = [id, away];
  }
  return best;
}

function PointWords({
  drawn,
  xMm,
  yMm,
  style,
}: {
  readonly drawn: DrawnSection;
  readonly xMm: number;
  readonly yMm: number;
  readonly style: FigureStyle;
}) {
  const { acrossMm, depthMm } = placeAtPoint({ xMm, yMm }, drawn.shape);
  return (
    <>
      {drawn.origin === 'weld-middle' ? 'Across' : 'From the index'}{' '}
      <b>{figureWords(figures.lengthMm(acrossMm, style), style)}</b> · depth{' '}
      <b>{figureWords(figures.lengthMm(depthMm, style), style)}</b>
    </>
  );
}

/** What the drawing is of, for those who do not see it. */
function nameOf({ shape, weld, probe }: DrawnSection, items: readonly SectionItem[], style: FigureStyle): string {
  const thickness = figureWords(figures.statedMm(shape.thicknessMm, style), style);
  const of = shape.kind === 'plate' ? `a plate ${thickness} thick` : `a pipe with a wall of ${thickness}`;
  const count = items.length === 1 ? '1 place' : `${items.length} places`;
  return `Section of ${of}${weld === null ? '' : ' with its weld'}${probe === null ? '' : ', the probe and its beam'}; ${count}`;
}
