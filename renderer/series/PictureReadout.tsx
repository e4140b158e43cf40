import { type DistanceCalibration, pathFromTime } from '../../core/calibration/distance.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { dbFromRatio } from '../../core/units/decibel.ts';
import { type FigureStyle, figureWithUnit } from '../../core/units/figure-style.ts';
import { placeWords } from './place-words.ts';
import type { SeriesCapture } from './places.ts';
import { standingOf, standingWords } from './track.ts';

/** What lies under the pointer, or else how the chosen capture was read. */
export function PictureReadout({
  capture,
  number,
  count,
  timeUs,
  heightPercent,
  reading,
  calibration,
  style,
}: {
  readonly capture: SeriesCapture;
  readonly number: number;
  readonly count: number;
  /** Under the pointer; `null` where only a capture is chosen: its reading is told instead. */
  readonly timeUs: number | null;
  readonly heightPercent: number | null;
  readonly reading: Reading | null;
  readonly calibration: DistanceCalibration | null;
  readonly style: FigureStyle;
}) {
  const place = placeWords(capture, number, count, style);
  if (timeUs === null) {
    return (
      <>
        <b>{place}</b> · {capture.name}
        {reading !== null && ` · ${standingWords[standingOf(reading.flags)]}`}
        {reading?.amplitudePercent != null && ` · ${figureWithUnit(reading.amplitudePercent, 'percent', 1, style)} FSH`}
      </>
    );
  }
  const path = calibration === null ? null : pathFromTime(calibration, timeUs, null).value;
  return (
    <>
      <b>{place}</b> · {path !== null && `${figureWithUnit(path, 'length', 1, style)} · `}
      {figureWithUnit(timeUs, 'time', 2, style)}
      {heightPercent !== null && (
        <>
          {' · '}
          <b>{figureWithUnit(heightPercent, 'percent', 1, style)} FSH</b>
          {heightPercent > 0 && ` (${figureWithUnit(dbFromRatio(heightPercent / 100), 'level', 1, style)})`}
        </>
      )}{' '}
      · {capture.name}
    </>
  );
}

/** The chosen capture in words, for those who hear them. */
export function selectedWords(
  capture: SeriesCapture,
  number: number,
  count: number,
  reading: Reading | null,
  style: FigureStyle,
): string {
  const height =
    reading?.amplitudePercent == null ? null : `${figureWithUnit(reading.amplitudePercent, 'percent', 1, style)} FSH`;
  const standing = reading === null ? null : standingWords[standingOf(reading.flags)];
  return [placeWords(capture, number, count, style), capture.name, height, standing]
    .filter((part) => part !== null)
    .join(', ');
}
