import { type KeyboardEvent, useId, useMemo, useRef, useState } from 'react';
import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import { type Gate, gateWindowUs } from '../../core/gate/gate.ts';
import { pan, wholeOf } from '../trace/viewport.ts';
import { viewportCommands } from '../trace/viewport-commands.ts';
import type { PlotArea } from './Axis.tsx';
import type { Scheme } from './colour-map.ts';
import { PictureDoubts } from './PictureDoubts.tsx';
import { type OutlinedGate, PictureMarks } from './PictureMarks.tsx';
import { PictureReadout, selectedWords } from './PictureReadout.tsx';
import styles from './Plot.module.css';
import { acrossTicks, downAxes } from './picture-axes.ts';
import { useDrag, useWheelZoom } from './picture-moves.ts';
import { acrossLabel } from './place-words.ts';
import { nearestPlace, type Places, type SeriesCapture } from './places.ts';
import type { SeriesPictureProps } from './SeriesPicture.tsx';
import { StackedImage } from './StackedImage.tsx';
import { placeAfterKey } from './select-by-key.ts';
import { cellAt, columnsUnder } from './series-image.ts';
import type { Scale } from './shading.ts';
import { useImageAsked } from './use-image-asked.ts';
import { type Size, useSize } from './use-size.ts';

interface StackProps extends SeriesPictureProps {
  readonly places: Places;
  readonly scale: Scale;
  readonly scheme: Scheme;
}

interface Pointed {
  readonly x: number;
  readonly place: number;
  readonly timeUs: number;
}

/** Room for the axes about the picture. */
function areaIn({ width, height }: Size, hasPath: boolean): PlotArea {
  const [left, right, top, bottom] = [60, hasPath ? 58 : 12, 16, 42];
  return { left, top, width: Math.max(40, width - left - right), height: Math.max(40, height - top - bottom) };
}

/** The picture itself with its axes and marks, what lies under the pointer, and what moves it. */
export function SeriesStack(props: StackProps) {
  const { captures, image, onImage, places, scale, scheme, calibration, view, limits, onView, style } = props;
  const { readings, ofOneReflector, peak, gates, selectedGate, selected, onSelect, problems } = props;
  const frame = useRef<HTMLDivElement>(null);
  const size = useSize(frame);
  const hintId = useId();
  const [pointed, setPointed] = useState<Pointed | null>(null);
  const hasPath = calibration !== null;
  const area = useMemo(() => (size === null ? null : areaIn(size, hasPath)), [size, hasPath]);
  const { columns, asked } = useImageAsked(places, area, onImage);
  const byCapture = useMemo(() => new Map(readings.map((reading) => [reading.captureId, reading])), [readings]);
  const outlined = useMemo(() => outlinedGates(gates, calibration, selectedGate), [gates, calibration, selectedGate]);
  const at = useMemo(() => new Map(places.placed.map(({ capture }, place) => [capture.captureId, place])), [places]);
  const chosen = selected === null ? null : (at.get(selected) ?? null);

  const ticks = useMemo(() => (area === null ? [] : acrossTicks(places, area.width, style)), [places, area, style]);
  const down = useMemo(() => downAxes(view, area?.height ?? 0, calibration, style), [view, area, calibration, style]);

  const latest = useRef({ view, limits, onView, area });
  latest.current = { view, limits, onView, area };
  useWheelZoom(frame, latest);

  const xOf = (value: number) => (area === null ? 0 : ((value - places.from) / (places.to - places.from)) * area.width);
  const select = (place: number | null) => {
    const wanted = place === null ? undefined : places.placed[place];
    if (wanted !== undefined) onSelect(wanted.capture.captureId);
  };

  function onKeyDown(event: KeyboardEvent) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const count = places.placed.length;
    const keys = { back: 'ArrowLeft', on: 'ArrowRight', page: Math.max(2, Math.round(count / 20)) };
    const place = placeAfterKey(event.key, chosen, count, keys);
    const move = downwards[event.key];
    const command = viewportCommands.find(
      (candidate) => candidate.keys.includes(event.key) && !event.key.startsWith('Arrow'),
    );
    if (place !== null) select(place);
    else if (move !== undefined) onView(pan(view, move * (view.toUs - view.fromUs), limits));
    else if (command !== undefined) onView(command.run(view, limits));
    else return;
    event.preventDefault();
  }

  function pointOf(event: { readonly clientX: number; readonly clientY: number }): Pointed | null {
    const within = frame.current?.getBoundingClientRect();
    if (within === undefined || area === null) return null;
    const x = event.clientX - within.left - area.left;
    const y = event.clientY - within.top - area.top;
    if (x < 0 || x > area.width || y < 0 || y > area.height) return null;
    const place = nearestPlace(places, places.from + (x / area.width) * (places.to - places.from));
    if (place === null) return null;
    return { x, place, timeUs: view.fromUs + (y / area.height) * (view.toUs - view.fromUs) };
  }

  const drag = useDrag(area, view, limits, onView, (event) => select(pointOf(event)?.place ?? null));
  const shown =
    pointed ?? (chosen === null ? null : { x: xOf(places.placed[chosen]!.at), place: chosen, timeUs: null });
  const stacked = image !== null && image.asked.places === places;
  const columnOf = stacked ? columnsUnder(image, columns) : columns.columnOf;
  const selectedPlace = chosen === null ? null : places.placed[chosen]!;

  return (
    <>
      <div
        className={`${styles.plot} ${styles.zoomable}`}
        ref={frame}
        role="slider"
        tabIndex={0}
        aria-label="Captures of the series, side by side"
        aria-valuemin={1}
        aria-valuemax={places.placed.length}
        aria-valuenow={chosen === null ? 1 : chosen + 1}
        aria-valuetext={
          selectedPlace === null
            ? 'no capture chosen'
            : selectedWords(
                selectedPlace.capture,
                chosen! + 1,
                captures.length,
                byCapture.get(selectedPlace.capture.captureId) ?? null,
                style,
              )
        }
        aria-describedby={hintId}
        onKeyDown={onKeyDown}
        onPointerDown={drag.down}
        onPointerMove={(event) => {
          drag.move(event);
          setPointed(pointOf(event));
        }}
        onPointerUp={drag.up}
        onPointerCancel={drag.cancel}
        onPointerLeave={() => setPointed(null)}
        onDoubleClick={() => onView(wholeOf(limits))}
      >
        {area !== null && (
          <>
            <StackedImage area={area} image={stacked ? image : null} {...{ columnOf, scale, scheme, view }} />
            <PictureMarks
              {...{ area, places, view, byCapture, ofOneReflector, peak, outlined }}
              across={acrossLabel(places.across, captures, style)}
              acrossTicks={ticks}
              down={down}
            />
            {selectedPlace !== null && <Chosen area={area} from={xOf(selectedPlace.from)} to={xOf(selectedPlace.to)} />}
            {pointed !== null && (
              <div
                className={styles.pointed}
                style={{ top: area.top, height: area.height, transform: `translateX(${area.left + pointed.x}px)` }}
              />
            )}
          </>
        )}
        {!stacked && problems.length === 0 && (
          <p className={styles.waiting} role="status">
            Stacking {captures.length} captures …
          </p>
        )}
      </div>
      <div className={styles.foot}>
        <p className={styles.readout}>
          {shown === null || area === null ? (
            <span id={hintId} className={styles.hint}>
              Click or Left and Right choose a capture, the wheel or + and − zoom
            </span>
          ) : (
            <>
              <PictureReadout
                capture={places.placed[shown.place]!.capture}
                number={shown.place + 1}
                count={captures.length}
                timeUs={shown.timeUs}
                heightPercent={
                  image === null || !stacked || shown.timeUs === null || asked === null
                    ? null
                    : cellAt(
                        image,
                        columnOf[Math.min(columnOf.length - 1, pixelUnder(shown.x, area, columnOf))]!,
                        shown.timeUs,
                      )
                }
                reading={byCapture.get(places.placed[shown.place]!.capture.captureId) ?? null}
                calibration={calibration}
                style={style}
              />
              <span id={hintId} hidden>
                Left and Right choose a capture, Up and Down move along the sound path, + and − zoom, 0 shows all
              </span>
            </>
          )}
        </p>
        {differentGains(captures) && <p>Shades are as captured: the gain, which differs, is not taken out.</p>}
        <PictureDoubts problems={problems} />
      </div>
    </>
  );
}

/** Shares of the shown time by which a key moves on. */
const downwards: Readonly<Record<string, number>> = { ArrowUp: -0.2, ArrowDown: 0.2 };

function pixelUnder(x: number, area: PlotArea, columnOf: Int32Array): number {
  return Math.floor((x / area.width) * columnOf.length);
}

function differentGains(captures: readonly SeriesCapture[]): boolean {
  return new Set(captures.map((capture) => capture.gainDb)).size > 1;
}

function outlinedGates(
  gates: readonly Gate[],
  calibration: DistanceCalibration | null,
  selectedGate: string | null,
): readonly OutlinedGate[] {
  return gates.flatMap((gate) => {
    const window = gateWindowUs(gate, calibration);
    return window === null ? [] : [{ name: gate.name, ...window, selected: gate.name === selectedGate }];
  });
}

/** The column of the chosen capture, or a line where the columns are too narrow for an outline. */
function Chosen({ area, from, to }: { readonly area: PlotArea; readonly from: number; readonly to: number }) {
  const thin = to - from < 8;
  const left = thin ? (from + to) / 2 - 1 : from;
  return (
    <div
      className={styles.chosen}
      data-thin={thin}
      style={{
        top: area.top,
        height: area.height + 8,
        width: thin ? 2 : to - from,
        transform: `translateX(${area.left + left}px)`,
      }}
    />
  );
}
