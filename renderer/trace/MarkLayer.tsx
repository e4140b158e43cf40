import type { SampleRange } from '../../core/capture/waveform.ts';
import { type FigureStyle, figureWithUnit } from '../../core/units/figure-style.ts';
import styles from './MarkLayer.module.css';
import type { Box } from './place-labels.ts';
import { type Plane, xOf } from './plane.ts';
import { lengthText, timeText } from './readout.ts';
import type { ShownReflector } from './trace-props.ts';

/** Where the calibration looks for its reflectors: a bracket that stands on the time axis, with the distance. */
export function ReflectorMarks({
  reflectors,
  plane,
  style,
}: {
  readonly reflectors: readonly ShownReflector[];
  readonly plane: Plane;
  readonly style: FigureStyle;
}) {
  if (reflectors.length === 0) return null;
  return (
    <ul
      className={styles.layer}
      aria-label={reflectors.some(({ name }) => name !== undefined) ? 'Windows' : 'Reflectors of the calibration'}
    >
      {reflectors.map(({ distanceMm, name: called, fromUs, toUs }) => {
        const [left, right] = [xOf(plane, fromUs), xOf(plane, toUs)];
        if (right < 0 || left > plane.widthPx) return null;
        const name = nameOf({ distanceMm, name: called }, style);
        const words = `${called === undefined ? `Reflector at ${name}` : name}, looked for from ${timeText(fromUs, plane.view, style)} to ${timeText(toUs, plane.view, style)}`;
        return (
          <li
            key={`${name} ${fromUs}`}
            className={styles.reflector}
            style={{ left, width: Math.max(2, right - left) }}
            title={words}
          >
            <span className={styles.distance} aria-label={words} role="img">
              {name}
            </span>
          </li>
        );
      })}
    </ul>
  );
}

function nameOf({ distanceMm, name }: Pick<ShownReflector, 'distanceMm' | 'name'>, style: FigureStyle): string {
  return name ?? lengthText(distanceMm, 10 * distanceMm, style);
}

/** What the distances cover, roughly, so that other words keep clear of them. */
export function distanceWordsBoxes(
  reflectors: readonly ShownReflector[],
  plane: Plane,
  style: FigureStyle,
): readonly Box[] {
  return reflectors.map(({ fromUs, toUs, ...known }) => {
    const width = nameOf(known, style).length * 7 + 8;
    const middle = (xOf(plane, fromUs) + xOf(plane, toUs)) / 2;
    return { left: middle - width / 2, top: plane.heightPx - 27, width, height: 27 };
  });
}

/** The samples that a figure was made from, of a record with these times. */
export interface Stretch {
  readonly range: SampleRange;
  readonly record: { readonly startUs: number; readonly stepUs: number };
}

/** Where a stretch begins and ends on the plot; `null` where it is out of sight. */
function edgesOf({ range, record }: Stretch, plane: Plane): { readonly left: number; readonly right: number } | null {
  const at = (sample: number) => xOf(plane, record.startUs + sample * record.stepUs);
  const [left, right] = [at(range.first), at(range.last)];
  return right < 0 || left > plane.widthPx ? null : { left, right };
}

const wordsTopPx = 24;
const wordsHeightPx = 22;
const wordsHalfPx = 145;

/** What the words about a stretch cover, roughly, so that other words keep clear of them. */
export function stretchWordsBox(stretch: Stretch, plane: Plane): Box | null {
  const edges = edgesOf(stretch, plane);
  if (edges === null) return null;
  const middle = Math.min(plane.widthPx, Math.max(0, (edges.left + edges.right) / 2));
  const left = Math.min(plane.widthPx - 2 * wordsHalfPx, Math.max(0, middle - wordsHalfPx));
  return { left, top: wordsTopPx, width: 2 * wordsHalfPx, height: wordsHeightPx };
}

/** A stretch of samples, and in words which it is. */
export function HighlightMark({
  range,
  record,
  plane,
  style,
}: Stretch & { readonly plane: Plane; readonly style: FigureStyle }) {
  const timeOf = (sample: number) => record.startUs + sample * record.stepUs;
  const edges = edgesOf({ range, record }, plane);
  if (edges === null) return null;
  const { left, right } = edges;
  const middle = Math.min(plane.widthPx, Math.max(0, (left + right) / 2));
  return (
    <div className={styles.layer}>
      {/* A new key for every stretch, so that each draws the eye anew. */}
      <div
        key={`${range.first} ${range.last}`}
        className={styles.highlight}
        style={{ left, width: Math.max(2, right - left) }}
      />
      <p
        className={styles.stretch}
        role="status"
        style={{ left: middle, top: wordsTopPx, lineHeight: `${wordsHeightPx}px` }}
        data-edge={middle < wordsHalfPx ? 'left' : middle > plane.widthPx - wordsHalfPx ? 'right' : undefined}
      >
        {range.first === range.last ? `Sample ${range.first}` : `Samples ${range.first} to ${range.last}`},{' '}
        {figureWithUnit(timeOf(range.first), 'time', 3, style)}
        {range.first === range.last ? '' : ` to ${figureWithUnit(timeOf(range.last), 'time', 3, style)}`}
      </p>
    </div>
  );
}
