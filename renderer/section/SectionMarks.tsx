import { memo, useId, useMemo } from 'react';
import { drawnPlane } from '../../core/drawing/drawn-plane.ts';
import type { DrawnSection } from '../../core/drawing/section-drawing.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { Axis, type PlotArea } from '../series/Axis.tsx';
import plot from '../series/Plot.module.css';
import { labelsAcross, labelsDown, lengthTicks } from '../series/ticks.ts';
import { type Box, overlapOf, placeLabels } from '../trace/place-labels.ts';
import { type DrawingView, pathThrough, pixelOf, pointAt, scaleBar } from './drawing-view.ts';
import { ItemShape } from './ItemShape.tsx';
import styles from './Section.module.css';
import { type SectionItem, signOf } from './section-items.ts';

interface SectionMarksProps {
  readonly drawn: DrawnSection;
  readonly byId: ReadonlyMap<string, SectionItem>;
  readonly view: DrawingView;
  readonly area: PlotArea;
  readonly selected: string | null;
  readonly style: FigureStyle;
}

/** With more names than this the drawing would be hidden behind them; the chosen one's stands all the same. */
const mostNames = 12;
const letterPx = 6.6;
const linePx = 16;
/** Share of a name that may lie over something else. */
const mostCovered = 0.06;

/** All that is drawn, from the part to the names. */
export const SectionMarks = memo(function SectionMarks(props: SectionMarksProps) {
  const { drawn, byId, view, area, selected, style } = props;
  const base = useId();
  const line = (points: DrawnSection['farSurface'], closed = false) => pathThrough(points, view, area, closed);
  const at = (point: DrawnSection['farSurface'][number]) => pixelOf(point, view, area);
  const bar = scaleBar(view.mmPerPx, 110, style);
  const names = useNames(props);
  // The chosen one lies on top, indications over readings.
  const marks = useMemo(() => {
    const rank = (id: string) => (id === selected ? 2 : byId.get(id)?.kind === 'indication' ? 1 : 0);
    return drawn.marks.filter(({ id }) => byId.has(id)).toSorted((a, b) => rank(a.id) - rank(b.id));
  }, [drawn, byId, selected]);
  return (
    <svg width="100%" height="100%" aria-hidden="true">
      <clipPath id={`${base}-clip`}>
        <rect x={area.left} y={area.top} width={area.width} height={area.height} />
      </clipPath>
      <pattern id={`${base}-weld`} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <path className={styles.hatch} d="M0 0V6" />
      </pattern>
      <g clipPath={`url(#${base}-clip)`}>
        <path className={styles.material} d={line([...drawn.scannedSurface, ...drawn.farSurface.toReversed()], true)} />
        {drawn.weld !== null && (
          <>
            <path className={styles.weldGround} d={line(drawn.weld, true)} />
            <path fill={`url(#${base}-weld)`} className={styles.weld} d={line(drawn.weld, true)} />
          </>
        )}
        <path className={styles.surface} d={line(drawn.scannedSurface) + line(drawn.farSurface)} />
        {drawn.beam !== null && (
          <>
            <path className={styles.spread} d={drawn.beam.spread.map((leg) => line(leg, true)).join('')} />
            <path className={styles.axisRim} d={line(drawn.beam.axis)} />
            <path className={styles.axis} d={line(drawn.beam.axis)} />
          </>
        )}
        {marks.map(({ id, ellipse }) =>
          ellipse !== null && (byId.get(id)?.kind === 'indication' || id === selected) ? (
            <path key={id} className={styles.ellipse} data-selected={id === selected} d={line(ellipse, true)} />
          ) : null,
        )}
        {drawn.features.map(({ name, at: point }) => {
          const { x, y } = at(point);
          return <path key={name} className={styles.feature} d={`M${x - 5} ${y}h10m-5 -5v10`} />;
        })}
        {drawn.expected.map(({ name, leg, at: point }) => {
          const { x, y } = at(point);
          return <ItemShape key={`${name} ${leg}`} sign="expected" x={x} y={y} isSelected={false} />;
        })}
        {marks.map(({ id, at: point }) => {
          const { x, y } = at(point);
          return (
            <g key={id}>
              {id === selected && <circle className={plot.chosenRing} cx={x} cy={y} r={10} />}
              <ItemShape sign={signOf(byId.get(id)!)} x={x} y={y} isSelected={id === selected} />
            </g>
          );
        })}
        {drawn.probe !== null && <Probe probe={drawn.probe} at={at} />}
        {names.map(({ key, words, x, y, isSelected, isExpected }) => (
          <text key={key} className={styles.name} data-selected={isSelected} data-expected={isExpected} x={x} y={y}>
            {words}
          </text>
        ))}
        <g transform={`translate(${area.left + 12} ${area.top + area.height - 12})`}>
          <path className={styles.scaleRim} d={`M0 -5v5h${bar.px}v-5`} />
          <path className={styles.scale} d={`M0 -5v5h${bar.px}v-5`} />
          <text className={styles.scaleWords} x={bar.px / 2} y={-8} textAnchor="middle">
            {bar.words}
          </text>
        </g>
        {drawn.shape.kind === 'pipe' && <ArcTicks {...props} />}
      </g>
      <rect className={plot.frame} x={area.left} y={area.top} width={area.width} height={area.height} />
      {drawn.shape.kind === 'plate' && <Axes {...props} />}
      {drawn.shape.kind === 'pipe' && (
        <g className={plot.axis}>
          <text
            className={plot.name}
            x={area.left + area.width / 2}
            y={area.top + area.height + 26}
            textAnchor="middle"
          >
            Along the scanned surface {fromWhere(drawn)} ({unitSign('length', style)}), marked on it
          </text>
        </g>
      )}
    </svg>
  );
});

function fromWhere({ origin }: DrawnSection): string {
  return origin === 'weld-middle' ? 'from the weld’s middle' : 'from the index point';
}

function Axes({ drawn, view, area, style }: SectionMarksProps) {
  const from = pointAt(area.left, area.top, view, area);
  const to = pointAt(area.left + area.width, area.top + area.height, view, area);
  const unit = unitSign('length', style);
  return (
    <>
      <Axis
        side="bottom"
        area={area}
        label={`${drawn.origin === 'weld-middle' ? 'Across, ' : 'Along the surface, '}${fromWhere(drawn)} (${unit})`}
        ticks={lengthTicks(from.xMm, to.xMm, area.width, labelsAcross, style)}
        pixelOf={(xMm) => (xMm - from.xMm) / view.mmPerPx}
      />
      <Axis
        side="left"
        area={area}
        label={`Depth (${unit})`}
        ticks={lengthTicks(from.yMm, to.yMm, area.height, labelsDown, style)}
        pixelOf={(yMm) => (yMm - from.yMm) / view.mmPerPx}
      />
    </>
  );
}

/** In a pipe the way along the surface is an arc: its ticks stand on the surface itself. */
function ArcTicks({ drawn, view, area, style }: SectionMarksProps) {
  if (drawn.shape.kind !== 'pipe') return null;
  const plane = drawnPlane(drawn.shape);
  const half = (area.width / 2) * view.mmPerPx;
  const ticks = lengthTicks(view.middle.xMm - half, view.middle.xMm + half, area.width, labelsAcross, style);
  return (
    <g className={plot.axis}>
      {ticks.map(({ value, label }) => {
        const foot = pixelOf(plane({ acrossMm: value, depthMm: 0 }), view, area);
        const up = pixelOf(plane({ acrossMm: value, depthMm: 6 * view.mmPerPx }), view, area);
        const words = pixelOf(plane({ acrossMm: value, depthMm: 15 * view.mmPerPx }), view, area);
        return (
          <g key={value}>
            <line x1={foot.x} y1={foot.y} x2={up.x} y2={up.y} />
            <text x={words.x} y={words.y + 4} textAnchor="middle">
              {label}
            </text>
          </g>
        );
      })}
    </g>
  );
}

/** The index point, and how far the front of the wedge stands before it. */
function Probe({
  probe,
  at,
}: {
  readonly probe: NonNullable<DrawnSection['probe']>;
  readonly at: (point: DrawnSection['farSurface'][number]) => { readonly x: number; readonly y: number };
}) {
  const index = at(probe.index);
  const front = probe.front === null ? null : at(probe.front);
  const turn = (Math.atan2((front?.y ?? index.y) - index.y, Math.abs((front?.x ?? index.x) - index.x)) * 180) / Math.PI;
  const length = front === null ? 0 : Math.hypot(front.x - index.x, front.y - index.y);
  return (
    <g transform={`translate(${index.x} ${index.y}) scale(${probe.towards} 1) rotate(${turn})`}>
      {length > 0 && <path className={styles.wedge} d={`M0 -1v-16L${length} -9v8z`} />}
      {length > 0 && <path className={styles.front} d={`M${length} -14v14`} />}
      <path className={styles.index} d="M0 -1l-5 -9h10z" />
    </g>
  );
}

interface PlacedName {
  readonly key: string;
  readonly words: string;
  readonly x: number;
  readonly y: number;
  readonly isSelected: boolean;
  readonly isExpected: boolean;
}

/** Names beside their marks, where they cover least. */
function useNames({ drawn, byId, view, area, selected }: SectionMarksProps): readonly PlacedName[] {
  return useMemo(() => {
    const indications = drawn.marks.filter(({ id }) => byId.get(id)?.kind === 'indication');
    const named = drawn.marks.filter(({ id }) => {
      const item = byId.get(id);
      return id === selected || (item?.kind === 'indication' && indications.length <= mostNames);
    });
    const all = [
      ...named
        .toSorted((a, b) => Number(b.id === selected) - Number(a.id === selected))
        .map(({ id, at }) => ({ key: id, words: byId.get(id)?.name ?? '', at, isExpected: false })),
      ...(drawn.expected.length <= mostNames
        ? onceEach(drawn.expected).map(({ name, at }) => ({ key: name, words: name, at, isExpected: true }))
        : []),
    ];
    const inSight = all
      .map((one) => ({ ...one, ...pixelOf(one.at, view, area) }))
      .filter(({ x, y }) => x > area.left && x < area.left + area.width && y > area.top && y < area.top + area.height);
    const marks = [...drawn.marks, ...drawn.expected].map(({ at }) => boxAbout(pixelOf(at, view, area)));
    const kept: Box[] = [];
    // A surface through a name would strike it out.
    if (drawn.shape.kind === 'plate')
      for (const [first] of [drawn.scannedSurface, drawn.farSurface])
        if (first !== undefined)
          kept.push({ left: area.left, top: pixelOf(first, view, area).y - 2, width: area.width, height: 4 });
    if (drawn.probe !== null) {
      const index = pixelOf(drawn.probe.index, view, area);
      kept.push({ left: index.x - 20, top: index.y - 20, width: 40, height: 20 });
    }
    const boxes = placeLabels(
      inSight.map(({ x, y, words }) => placesBeside(x, y, words.length * letterPx)),
      marks,
      area,
      kept,
    );
    return inSight.flatMap(({ key, words, isExpected }, i) => {
      const box = boxes[i]!;
      const others = [...kept, ...marks, ...boxes.slice(0, i)];
      const covered = others.reduce((sum, other) => sum + overlapOf(box, other), 0);
      // A name over others cannot be read, and hides them: it is told under the pointer, by keys and in the table.
      if (key !== selected && covered > mostCovered * box.width * box.height) return [];
      return [{ key, words, isExpected, isSelected: key === selected, x: box.left, y: box.top + linePx - 4 }];
    });
  }, [drawn, byId, view, area, selected]);
}

/** A corner that shows on several legs is named once. */
function onceEach(expected: DrawnSection['expected']): DrawnSection['expected'] {
  return expected.filter(({ name }, i) => expected.findIndex((other) => other.name === name) === i);
}

function boxAbout({ x, y }: { readonly x: number; readonly y: number }): Box {
  return { left: x - 6, top: y - 6, width: 12, height: 12 };
}

function placesBeside(x: number, y: number, width: number): readonly Box[] {
  const box = (left: number, top: number): Box => ({ left, top, width, height: linePx });
  const away = 15;
  return [
    box(x + away, y - linePx / 2),
    box(x - away - width, y - linePx / 2),
    box(x - width / 2, y - away - linePx),
    box(x - width / 2, y + away),
    box(x + away, y - away - linePx),
    box(x + away, y + away),
    box(x - away - width, y - away - linePx),
    box(x - away - width, y + away),
  ];
}
