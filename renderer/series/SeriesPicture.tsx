import { useMemo, useState } from 'react';
import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { Gate } from '../../core/gate/gate.ts';
import type { SeriesPeak } from '../../core/gate/off-peak.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Toggle } from '../parts/Choice.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import type { Viewport, ViewportLimits } from '../trace/viewport.ts';
import { AmplitudeLegend } from './AmplitudeLegend.tsx';
import styles from './Plot.module.css';
import { acrossWords } from './place-words.ts';
import { type Across, acrossChoices, placesAcross, type SeriesCapture } from './places.ts';
import { SeriesStack } from './SeriesStack.tsx';
import { ShadesToggle } from './ShadesToggle.tsx';
import type { ImageAsked, SeriesImage } from './series-image.ts';
import type { Scale } from './shading.ts';
import { useScheme } from './use-scheme.ts';

export interface SeriesPictureProps {
  /** In the order given. */
  readonly captures: readonly SeriesCapture[];
  readonly image: SeriesImage | null;
  /** The size of the plot or what runs across it has changed: an image of this make is needed, of the part shown. */
  onImage(asked: ImageAsked): void;
  /** In sentences: why some captures, or all, are not in the picture. */
  readonly problems: readonly string[];
  /** Of the gate whose echo is followed, one for each capture. */
  readonly readings: readonly Reading[];
  /** The captures are of one reflector, so that its echo has a way through them; otherwise each reading stands for itself. */
  readonly ofOneReflector: boolean;
  readonly peak: SeriesPeak | null;
  readonly gates: readonly Gate[];
  readonly selectedGate: string | null;
  readonly calibration: DistanceCalibration | null;
  /** The part of the time axis shown here and on the trace. */
  readonly view: Viewport;
  readonly limits: ViewportLimits;
  onView(view: Viewport): void;
  readonly selected: CaptureId | null;
  onSelect(captureId: CaptureId): void;
  readonly style: FigureStyle;
}

/** The captures of a series side by side, each a column of shades: where the echo runs through them can be seen at a glance. */
export function SeriesPicture(props: SeriesPictureProps) {
  const { captures, style } = props;
  const scheme = useScheme();
  const [scale, setScale] = useState<Scale>('percent');
  const choices = useMemo(() => acrossChoices(captures), [captures]);
  const [wanted, setWanted] = useState<Across | null>(null);
  const across = wanted !== null && choices.includes(wanted) ? wanted : choices[0]!;
  const places = useMemo(() => placesAcross(captures, across), [captures, across]);

  return (
    <section className={styles.panel} aria-label="Series">
      <div className={styles.head}>
        <h2>Series</h2>
        {choices.length > 1 && (
          <Toggle
            label="Across"
            hideLabel
            options={choices.map((id) => ({ id, label: acrossWords[id] }))}
            chosen={across}
            onChoose={setWanted}
          />
        )}
        {captures.length > 0 && <ShadesToggle chosen={scale} onChoose={setScale} />}
        {captures.length > 0 && (
          <div className={styles.tail}>
            <AmplitudeLegend scale={scale} scheme={scheme} style={style} />
          </div>
        )}
      </div>
      {captures.length === 0 ? (
        <EmptyState title="No series yet">
          The captures that are read together stand here side by side. Add captures of the part under Readings.
        </EmptyState>
      ) : (
        <SeriesStack {...props} places={places} scale={scale} scheme={scheme} />
      )}
    </section>
  );
}
