import { differenceDb } from '../units/decibel.ts';
import { type DistanceCalibration, pathFromTime } from './distance.ts';

/** A place on a trace: its time, and the height there; `null` where none is known. */
export interface TracePlace {
  readonly timeUs: number;
  readonly percent: number | null;
}

/** From one place on a trace to another. */
export interface Between {
  readonly timeUs: number;
  /** One-way sound path; `null` without a calibration. Both places lie on it with the same zero offset, which drops out. */
  readonly pathMm: number | null;
  /** By how many dB the second stands above the first; `null` where a height is unknown or not above the base line. */
  readonly levelDb: number | null;
}

/** The difference of two places, second less first. Source: definitions (pulse-echo path; decibel of amplitudes). */
export function between(first: TracePlace, second: TracePlace, calibration: DistanceCalibration | null): Between {
  const pathAt = (place: TracePlace) =>
    calibration === null ? null : pathFromTime(calibration, place.timeUs, null).value;
  const [from, to] = [pathAt(first), pathAt(second)];
  return {
    timeUs: second.timeUs - first.timeUs,
    pathMm: from === null || to === null ? null : to - from,
    levelDb: hasLevel(first) && hasLevel(second) ? differenceDb(second.percent, first.percent) : null,
  };
}

function hasLevel(place: TracePlace): place is TracePlace & { readonly percent: number } {
  return place.percent !== null && place.percent > 0;
}
