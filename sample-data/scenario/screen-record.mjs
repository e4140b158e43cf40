// How the instruments on the bench save what their screen shows: the detected trace, ten bits over 100 % FSH.
import { decimal, lines, numberSign, preamble } from './text.mjs';

export const sampleRateMHz = 50;
export const percentStep = 0.1;
export const screenNoise = { whitePercent: 0.12, grain: null };

/** µs with two digits after the point. */
export function timesWritten({ startUs, sampleRateMHz, count }) {
  const hundredths = Math.round(100 * startUs);
  return Array.from({ length: count }, (_, i) => decimal(hundredths + i * Math.round(100 / sampleRateMHz), 1, 2));
}

export function record(head, axis, steps) {
  const times = timesWritten(axis);
  const rows = Array.from(steps, (step, i) => `${times[i]},${decimal(step, 1, 1)}`);
  return lines([...preamble({ ...head, rectification: 'envelope' }, numberSign), 'time_us,amplitude_pct', ...rows]);
}
