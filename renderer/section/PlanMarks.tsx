import { memo, useMemo } from 'react';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { Axis, type PlotArea } from '../series/Axis.tsx';
import plot from '../series/Plot.module.css';
import { labelsAcross, labelsDown, lengthTicks } from '../series/ticks.ts';
import { type Box, overlapOf, placeLabels } from '../trace/place-labels.ts';
import { ItemShape } from './ItemShape.tsx';
import { type Along, type Down, type PlanEnd, type PlanItem, xOf, yOf } from './plan-layout.ts';
import styles from './Section.module.css';

interface PlanMarksProps {
  readonly area: PlotArea;
  readonly view: Along;
  readonly down: Down;
  readonly items: readonly PlanItem[];
  readonly stations: readonly { readonly positionMm: number }[];
  readonly weldAcrossMm: readonly [number, number] | null;
  readonly selected: string | null;
  /** Where the capture that is chosen was taken. */
  readonly selectedMm: number | null;
  readonly style: FigureStyle;
}

const mostNames = 24;
const letterPx = 6.6;
const linePx = 16;
/** Share of a name that may lie over something else. */
const mostCovered = 0.06;

/** Everything drawn in the plan. */
export const PlanMarks = memo(function PlanMarks(props: PlanMarksProps) {
  const { area, view, down, items, stations, weldAcrossMm, selected, selectedMm, style } = props;
  const { left, top, width, height } = area;
  const bottom = top + height;
  const x = (mm: number) => Math.min(left + width + 20, Math.max(left - 20, xOf(mm, view, area)));
  const acrossY = (mm: number) =>
    down.kind === 'across' ? top + ((mm - down.fromMm) / (down.toMm - down.fromMm)) * height : null;
  const names = useNames(props);
  const unit = unitSign('length', style);
  const weld = weldAcrossMm === null || down.kind === 'lanes' ? null : weldAcrossMm.map((mm) => acrossY(mm)!);
  const middle = acrossY(0);
  const inSight = stations.filter(({ positionMm }) => positionMm >= view.fromMm && positionMm <= view.toMm);
  const [first, last] = [stations.at(0), stations.at(-1)];
  return (
    <svg width="100%" height="100%" aria-hidden="true">
      <rect className={plot.ground} x={left} y={top} width={width} height={height} />
      {first !== undefined && last !== undefined && (
        <rect
          className={styles.scanned}
          x={Math.max(left, x(first.positionMm))}
          y={top}
          width={Math.max(1, Math.min(left + width, x(last.positionMm)) - Math.max(left, x(first.positionMm)))}
          height={height}
        />
      )}
      {weld !== null && (
        <rect className={styles.weldBand} x={left} y={weld[0]!} width={width} height={weld[1]! - weld[0]!} />
      )}
      {middle !== null && <path className={styles.middle} d={`M${left} ${middle}h${width}`} />}
      <path
        className={styles.stations}
        d={inSight.map(({ positionMm }) => `M${x(positionMm).toFixed(1)} ${top}v6`).join('')}
      />
      {selectedMm !== null && selectedMm >= view.fromMm && selectedMm <= view.toMm && (
        <path className={plot.chosenLine} d={`M${x(selectedMm)} ${top}V${bottom}`} />
      )}
      {items
        .toSorted((a, b) => Number(a.id === selected) - Number(b.id === selected))
        .map((item) => (
          <Bar key={item.id} item={item} y={yOf(item, down, area)} x={x} isSelected={item.id === selected} />
        ))}
      {names.map(({ key, words, x: at, y, isSelected }) => (
        <text key={key} className={styles.name} data-selected={isSelected} x={at} y={y}>
          {words}
        </text>
      ))}
      <rect className={plot.frame} x={left} y={top} width={width} height={height} />
      <Axis
        side="bottom"
        area={area}
        label={`Position along the weld (${unit})`}
        ticks={lengthTicks(view.fromMm, view.toMm, width, labelsAcross, style)}
        pixelOf={(mm) => xOf(mm, view, area) - left}
      />
      {down.kind === 'across' && (
        <Axis
          side="left"
          area={area}
          label={`Across (${unit})`}
          ticks={lengthTicks(down.fromMm, down.toMm, height, labelsDown, style)}
          pixelOf={(mm) => acrossY(mm)! - top}
        />
      )}
    </svg>
  );
});

function Bar({
  item,
  y,
  x,
  isSelected,
}: {
  readonly item: PlanItem;
  readonly y: number;
  readonly x: (mm: number) => number;
  readonly isSelected: boolean;
}) {
  const { ends, span, sign, peakMm } = item;
  const [from, to] = ends === null ? span : [ends[0].positionMm, ends[1].positionMm];
  return (
    <g data-selected={isSelected} className={styles.planItem}>
      <path className={styles.planRim} d={`M${x(from)} ${y}H${x(to)}`} />
      <path
        className={styles.bar}
        data-sign={sign}
        data-measured={ends !== null}
        d={`M${x(from)} ${y}H${Math.max(x(from) + 1, x(to))}`}
      />
      {ends !== null && <End end={ends[0]} outwards={-1} y={y} x={x} />}
      {ends !== null && <End end={ends[1]} outwards={1} y={y} x={x} />}
      {peakMm !== null && <ItemShape sign={sign} x={x(peakMm)} y={y} isSelected={isSelected} />}
    </g>
  );
}

/** A closed end has a bar across, an open one an arrow outwards; below it stands how far off it may be. */
function End({
  end,
  outwards,
  y,
  x,
}: {
  readonly end: PlanEnd;
  readonly outwards: 1 | -1;
  readonly y: number;
  readonly x: (mm: number) => number;
}) {
  const at = x(end.positionMm);
  const whisker =
    end.expandedMm === null || end.isOpen
      ? null
      : `M${x(end.positionMm - end.expandedMm)} ${y + 9}H${x(end.positionMm + end.expandedMm)}m0 -3v6M${x(end.positionMm - end.expandedMm)} ${y + 6}v6`;
  return (
    <>
      <path
        className={styles.planEnd}
        d={end.isOpen ? `M${at} ${y - 5}l${outwards * 6} 5l${-outwards * 6} 5` : `M${at} ${y - 6}v12`}
      />
      {whisker !== null && <path className={styles.whisker} d={whisker} />}
    </>
  );
}

function useNames({ area, view, down, items, selected }: PlanMarksProps) {
  return useMemo(() => {
    const named = items.filter(
      ({ id, span }) =>
        (items.length <= mostNames || id === selected) && span[1] >= view.fromMm && span[0] <= view.toMm,
    );
    const bars = items.map((item): Box => {
      const from = xOf(item.span[0], view, area);
      return { left: from, top: yOf(item, down, area) - 6, width: xOf(item.span[1], view, area) - from, height: 12 };
    });
    const boxes = placeLabels(
      named.map((item) => {
        const words = item.name.length * letterPx;
        const y = yOf(item, down, area);
        const [from, to] = [xOf(item.span[0], view, area), xOf(item.span[1], view, area)];
        const middle = (from + to - words) / 2;
        const box = (atX: number, atY: number): Box => ({ left: atX, top: atY, width: words, height: linePx });
        return [
          box(middle, y - 9 - linePx),
          box(middle, y + 14),
          box(to + 14, y - linePx / 2),
          box(from - 14 - words, y - linePx / 2),
          box(to + 14, y - 9 - linePx),
          box(from - 14 - words, y + 14),
        ];
      }),
      bars,
      area,
    );
    return named.flatMap(({ id, name }, i) => {
      const box = boxes[i]!;
      const covered = [...bars, ...boxes.slice(0, i)].reduce((sum, other) => sum + overlapOf(box, other), 0);
      // A name over a bar or another name cannot be read; it is told under the pointer, by keys and in the table.
      if (id !== selected && covered > mostCovered * box.width * box.height) return [];
      return [{ key: id, words: name, isSelected: id === selected, x: box.left, y: box.top + linePx - 4 }];
    });
  }, [area, view, down, items, selected]);
}
