import {
  type KeyboardEvent,
  type PointerEvent,
  type ReactNode,
  useEffect,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { Toggle } from '../parts/Choice.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import type { PlotArea } from '../series/Axis.tsx';
import plot from '../series/Plot.module.css';
import { placeAfterKey } from '../series/select-by-key.ts';
import { type Size, useSize } from '../series/use-size.ts';
import { PlanMarks } from './PlanMarks.tsx';
import { type Along, downOf, movedAlong, type PlanItem, wholeAlong, xOf, yOf, zoomedAlong } from './plan-layout.ts';
import styles from './Section.module.css';

export interface PlanViewProps {
  /** Where captures of the scan were taken, in order. */
  readonly stations: readonly { readonly captureId: CaptureId; readonly positionMm: number }[];
  readonly items: readonly PlanItem[];
  /** What the weld covers across, at its widest; `null` where it is not known. */
  readonly weldAcrossMm: readonly [number, number] | null;
  readonly selected: string | null;
  readonly onSelect: (id: string) => void;
  readonly selectedCapture: CaptureId | null;
  readonly onSelectCapture: (captureId: CaptureId) => void;
  /** What stands in the head in place of the title: a switch to the other pictures, which says what this is. */
  readonly head?: ReactNode;
  /** Why there is nothing to show; `null` where there is. */
  readonly without: { readonly title: string; readonly sentences: readonly string[] } | null;
  readonly style: FigureStyle;
}

/** The weld from above: what was scanned, and where along it each indication begins and ends. */
export function PlanView(props: PlanViewProps) {
  const { stations, items, head = null, without } = props;
  const [form, setForm] = useState<'drawing' | 'table'>('drawing');
  const labelId = useId();
  const whole = useMemo(
    () =>
      wholeAlong(
        stations.map(({ positionMm }) => positionMm),
        items,
      ),
    [stations, items],
  );
  return (
    <section className={plot.panel} aria-labelledby={labelId}>
      <div className={plot.head}>
        {head}
        <h2 id={labelId} className={head === null ? undefined : styles.unseen}>
          Plan along the weld
        </h2>
        {whole !== null && without === null && (
          <Toggle
            label="Form"
            hideLabel
            options={[
              { id: 'drawing', label: 'Drawing' },
              { id: 'table', label: 'Table' },
            ]}
            chosen={form}
            onChoose={setForm}
          />
        )}
      </div>
      {without !== null || whole === null ? (
        <EmptyState title={without?.title ?? 'Nothing was scanned yet'}>
          {without?.sentences.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </EmptyState>
      ) : form === 'table' ? (
        <PlanTable {...props} />
      ) : (
        <PlanPlot {...props} whole={whole} />
      )}
    </section>
  );
}

function areaIn({ width, height }: Size): PlotArea {
  return { left: 60, top: 16, width: Math.max(40, width - 72), height: Math.max(40, height - 58) };
}

const zoomStep = 1.5;
const nearPx = 12;
const clickPx = 4;

function PlanPlot(props: PlanViewProps & { readonly whole: Along }) {
  const { stations, items, weldAcrossMm, selected, onSelect, selectedCapture, onSelectCapture, style, whole } = props;
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const area = useMemo(() => (size === null ? null : areaIn(size)), [size]);
  const base = useId();
  const [own, setOwn] = useState<{ readonly view: Along; readonly of: Along } | null>(null);
  const isOwn = own !== null && own.of.fromMm === whole.fromMm && own.of.toMm === whole.toMm;
  const view = isOwn ? own.view : whole;
  const setView = (next: Along) => setOwn({ view: next, of: whole });
  const [pointed, setPointed] = useState<{ readonly x: number; readonly y: number } | null>(null);
  const down = useMemo(() => downOf(items, weldAcrossMm), [items, weldAcrossMm]);
  const inOrder = useMemo(() => items.toSorted((a, b) => middleOf(a) - middleOf(b)), [items]);
  const chosen = inOrder.findIndex(({ id }) => id === selected);
  const hasItems = inOrder.length > 0;

  const latest = useRef({ view, area, whole, setView });
  latest.current = { view, area, whole, setView };
  useEffect(() => {
    const over = frame.current;
    if (over === null) return;
    const until = new AbortController();
    over.addEventListener(
      'wheel',
      (event) => {
        const now = latest.current;
        if (now.area === null) return;
        event.preventDefault();
        const x = event.clientX - over.getBoundingClientRect().left;
        const pixels = event.deltaY * ([1, 33, 400][event.deltaMode] ?? 1);
        now.setView(zoomedAlong(now.view, mmAt(x, now.view, now.area), 1.2 ** (pixels / 100), now.whole));
      },
      { signal: until.signal, passive: false },
    );
    return () => until.abort();
  }, []);

  function onKeyDown(event: KeyboardEvent) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const length = view.toMm - view.fromMm;
    const about = chosen < 0 ? (view.fromMm + view.toMm) / 2 : middleOf(inOrder[chosen]!);
    const towards = event.shiftKey ? { ArrowLeft: -0.2, ArrowRight: 0.2 }[event.key] : undefined;
    const keys = { back: 'ArrowLeft', on: 'ArrowRight', page: Math.max(2, Math.round(inOrder.length / 20)) };
    const next = event.shiftKey ? null : placeAfterKey(event.key, chosen < 0 ? null : chosen, inOrder.length, keys);
    if (towards !== undefined) setView(movedAlong(view, towards * length, whole));
    else if (next !== null && inOrder[next] !== undefined) onSelect(inOrder[next].id);
    else if (event.key === '+' || event.key === '=') setView(zoomedAlong(view, about, 1 / zoomStep, whole));
    else if (event.key === '-' || event.key === '−') setView(zoomedAlong(view, about, zoomStep, whole));
    else if (event.key === '0') setOwn(null);
    else return;
    event.preventDefault();
  }

  const placeOf = (event: PointerEvent) => {
    const within = frame.current!.getBoundingClientRect();
    return { x: event.clientX - within.left, y: event.clientY - within.top };
  };
  const drag = useRef<{ readonly x: number; readonly view: Along; moved: boolean } | null>(null);

  function under({ x, y }: { readonly x: number; readonly y: number }): PlanItem | null {
    if (area === null) return null;
    let best: PlanItem | null = null;
    let least = nearPx;
    for (const item of items) {
      const [from, to] = [xOf(item.span[0], view, area), xOf(item.span[1], view, area)];
      const aside = Math.max(0, from - x, x - to);
      const away = Math.hypot(aside, yOf(item, down, area) - y);
      if (away <= least) [best, least] = [item, away];
    }
    return best;
  }

  const meant = pointed === null ? null : under(pointed);
  const shown = meant ?? (chosen < 0 ? null : inOrder[chosen]!);
  const count = items.length === 1 ? '1 indication' : `${items.length} indications`;
  const name = `Plan along the weld: ${stations.length} positions, ${count}`;
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
              'aria-activedescendant': chosen >= 0 ? `${base}-${chosen}` : undefined,
            }
          : { role: 'img', 'aria-label': name })}
        aria-describedby={`${base}-hint`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: keys zoom and move it, whatever lies in it
        tabIndex={0}
        onKeyDown={onKeyDown}
        onPointerDown={(event) => {
          if (event.button !== 0) return;
          drag.current = { x: placeOf(event).x, view, moved: false };
          event.currentTarget.setPointerCapture(event.pointerId);
        }}
        onPointerMove={(event) => {
          const at = placeOf(event);
          const from = drag.current;
          if (from === null || area === null) return setPointed(at);
          if (!from.moved && Math.abs(at.x - from.x) < clickPx) return;
          from.moved = true;
          setPointed(null);
          const mmPerPx = (from.view.toMm - from.view.fromMm) / area.width;
          setView(movedAlong(from.view, (from.x - at.x) * mmPerPx, whole));
        }}
        onPointerUp={(event) => {
          const from = drag.current;
          drag.current = null;
          if (from === null || from.moved || area === null) return;
          const at = placeOf(event);
          const item = under(at);
          if (item !== null) return onSelect(item.id);
          const mm = mmAt(at.x, view, area);
          const nearest = stations.reduce<(typeof stations)[number] | null>(
            (best, station) =>
              best === null || Math.abs(station.positionMm - mm) < Math.abs(best.positionMm - mm) ? station : best,
            null,
          );
          if (nearest !== null) onSelectCapture(nearest.captureId);
        }}
        onPointerCancel={() => {
          drag.current = null;
        }}
        onPointerLeave={() => setPointed(null)}
        onDoubleClick={() => setOwn(null)}
      >
        {area !== null && (
          <PlanMarks
            {...{ area, view, down, items, stations, weldAcrossMm, selected, style }}
            selectedMm={stations.find(({ captureId }) => captureId === selectedCapture)?.positionMm ?? null}
          />
        )}
        {inOrder.map(({ id, words }, i) => (
          // biome-ignore lint/a11y/useFocusableInteractive: the list has the focus, and tells which of them is active
          <div
            key={id}
            id={`${base}-${i}`}
            role="option"
            aria-selected={id === selected}
            aria-label={words}
            className={styles.unseen}
          />
        ))}
      </div>
      <div className={plot.foot}>
        <p className={`${plot.readout} ${styles.readout}`}>
          {shown !== null ? (
            <>
              <b>{shown.name}</b>
              {shown.words.slice(shown.name.length)}
            </>
          ) : pointed !== null && area !== null ? (
            <>
              Along the weld <b>{figureWords(figures.lengthMm(mmAt(pointed.x, view, area), style), style)}</b>
            </>
          ) : (
            <span>
              {hasItems ? 'Click or Left and Right choose an indication, ' : ''}the wheel or + and − zoom, a drag moves
            </span>
          )}
          <span id={`${base}-hint`} hidden>
            Left and Right choose, + and − zoom, Shift with Left or Right moves, 0 shows all
          </span>
        </p>
        {hasItems && (
          <ul className={plot.key} aria-label="Marks">
            <li>
              <svg width="30" height="16" aria-hidden="true">
                <path className={styles.bar} d="M4 8H26" />
                <path className={styles.planEnd} d="M4 3v10M26 3v10" />
              </svg>
              from end to end
            </li>
            <li>
              <svg width="22" height="16" aria-hidden="true">
                <path className={styles.whisker} d="M3 8H19M3 5v6M19 5v6" />
              </svg>
              of an end, k = 2
            </li>
            {items.some(({ ends }) => ends?.some(({ isOpen }) => isOpen)) && (
              <li>
                <svg width="22" height="16" aria-hidden="true">
                  <path className={styles.planEnd} d="M8 3l6 5l-6 5" />
                </svg>
                at least to here
              </li>
            )}
          </ul>
        )}
      </div>
    </>
  );
}

function middleOf({ peakMm, span }: PlanItem): number {
  return peakMm ?? (span[0] + span[1]) / 2;
}

function mmAt(x: number, { fromMm, toMm }: Along, { left, width }: PlotArea): number {
  return fromMm + ((x - left) / width) * (toMm - fromMm);
}

function PlanTable({ items, selected, onSelect, style }: PlanViewProps) {
  const unit = unitSign('length', style);
  const mm = (value: number | null) => (value === null ? '–' : figureWords(figures.lengthMm(value, style), style));
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a long table must be scrolled by keys that reach it
    <section className={styles.tableFrame} tabIndex={0} aria-label="Plan as a table">
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Name</th>
            <th scope="col" className={styles.number}>
              From ({unit})
            </th>
            <th scope="col" className={styles.number}>
              To ({unit})
            </th>
            <th scope="col" className={styles.number}>
              Highest at ({unit})
            </th>
            <th scope="col" className={styles.number}>
              Across ({unit})
            </th>
          </tr>
        </thead>
        <tbody>
          {items.map(({ id, name, ends, span, peakMm, acrossMm }) => (
            <tr key={id} data-selected={id === selected}>
              <th scope="row">
                <button type="button" className={styles.rowButton} onClick={() => onSelect(id)}>
                  {name}
                </button>
              </th>
              {[0, 1].map((i) => {
                const end = ends?.[i as 0 | 1] ?? null;
                return (
                  <td key={i} className={styles.number}>
                    {end?.isOpen ? `${i === 0 ? 'before' : 'beyond'} ` : ''}
                    {mm(end?.positionMm ?? span[i as 0 | 1])}
                    {end?.expandedMm != null && <span className={styles.u}> ± {mm(end.expandedMm)} (k = 2)</span>}
                  </td>
                );
              })}
              <td className={styles.number}>{mm(peakMm)}</td>
              <td className={styles.number}>{mm(acrossMm)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {items.length === 0 && <p className={styles.none}>No indication stands above the level.</p>}
    </section>
  );
}
