import { type FigureStyle, fromShown, toShown } from '../../core/units/figure-style.ts';
import { formatNumber, type NumberStyle } from '../../core/units/format-quantity.ts';

export interface Tick {
  readonly value: number;
  readonly label: string;
}

/** How many pixels a label takes along its axis, with the room that keeps it apart from the next. */
export type LabelRoom = (label: string) => number;

/** About as wide as a figure of the typeface at the axis's size, generously. */
const figurePx = 7;
export const labelsAcross: LabelRoom = (label) => label.length * figurePx + 14;
export const labelsDown: LabelRoom = () => 26;

/**
 * Round values between two ends whose labels have room beside one another on so many pixels: steps of 1, 2 or 5 and their tenfolds, as fine as fits.
 * `from` may be larger than `to`. Empty where the axis is too short for one label.
 */
export function roundTicks(from: number, to: number, lengthPx: number, room: LabelRoom, style: NumberStyle): Tick[] {
  const [low, high] = from < to ? [from, to] : [to, from];
  if (!(high > low) || lengthPx < room('0')) return [];
  const most = lengthPx / room('0') + 1;
  for (let exponent = Math.floor(Math.log10((high - low) / lengthPx)); ; exponent++) {
    for (const factor of [1, 2, 5]) {
      const step = factor * 10 ** exponent;
      if ((high - low) / step > most) continue;
      const ticks = ticksAt(low, high, step, Math.max(0, -exponent), style);
      const gapPx = (step * lengthPx) / (high - low);
      if (ticks.every(({ label }) => room(label) <= gapPx)) return ticks;
    }
  }
}

function ticksAt(low: number, high: number, step: number, decimals: number, style: NumberStyle): Tick[] {
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => {
    const value = Number(((first + i) * step).toFixed(decimals));
    return { value, label: formatNumber(value, decimals, style) };
  });
}

/** Round lengths in the person's own unit, at their places in mm. */
export function lengthTicks(
  fromMm: number,
  toMm: number,
  lengthPx: number,
  room: LabelRoom,
  style: FigureStyle,
): Tick[] {
  const [from, to] = [toShown(fromMm, 'length', style), toShown(toMm, 'length', style)];
  return roundTicks(from, to, lengthPx, room, style).map(({ value, label }) => ({
    value: fromShown(value, 'length', style),
    label,
  }));
}

const minute = 60;
const hour = 60 * minute;
const day = 24 * hour;
const clockSteps = [1, 2, 5, 10, 20, 30, minute, 2 * minute, 5 * minute, 10 * minute, 20 * minute, 30 * minute]
  .concat([hour, 2 * hour, 3 * hour, 6 * hour, 12 * hour])
  .concat([1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000].map((days) => days * day));

/** The same for times of day in seconds since 1970: `06:05`, with seconds where minutes do not tell them apart, the date alone over several days. */
export function clockTicks(from: number, to: number, lengthPx: number, room: LabelRoom): Tick[] {
  if (!(to > from)) return [];
  for (const step of clockSteps) {
    // Over more than a day a time alone would stand for several.
    if (to - from > 1.5 * day && step < day) continue;
    const gapPx = (step * lengthPx) / (to - from);
    if (gapPx < room('00:00')) continue;
    const first = Math.ceil(from / step - 1e-9);
    const ticks = Array.from({ length: Math.floor(to / step + 1e-9) - first + 1 }, (_, i) => {
      const value = (first + i) * step;
      return { value, label: clockText(value, step) };
    });
    if (ticks.every(({ label }) => room(label) <= gapPx)) return ticks;
  }
  return [];
}

/** A time as its step needs it written. */
export function clockText(seconds: number, step: number): string {
  const [date, time] = new Date(seconds * 1000).toISOString().split('T') as [string, string];
  if (step >= day) return date;
  return time.slice(0, step >= minute ? 5 : 8);
}
