import { type DistanceCalibration, pathFromTime } from '../../core/calibration/distance.ts';
import { type FigureStyle, toShown, unitSign } from '../../core/units/figure-style.ts';
import type { Viewport } from '../trace/viewport.ts';
import type { Places } from './places.ts';
import { clockTicks, labelsAcross, labelsDown, lengthTicks, roundTicks, type Tick } from './ticks.ts';

export interface AxisWords {
  readonly label: string;
  readonly shortLabel: string;
  readonly ticks: readonly Tick[];
}

export function acrossTicks({ across, from, to }: Places, widthPx: number, style: FigureStyle): Tick[] {
  if (across === 'time') return clockTicks(from, to, widthPx, labelsAcross);
  if (across === 'order')
    return roundTicks(from, to, widthPx, labelsAcross, style).filter(({ value }) => Number.isInteger(value));
  return lengthTicks(from, to, widthPx, labelsAcross, style);
}

/** Time, and sound path where there is a calibration: ticks in µs from the top, so that both share one scale. */
export function downAxes(
  view: Viewport,
  heightPx: number,
  calibration: DistanceCalibration | null,
  style: FigureStyle,
): { readonly left: AxisWords; readonly right: AxisWords | null } {
  const times = {
    label: 'Time (µs)',
    shortLabel: 'µs',
    ticks: roundTicks(view.fromUs, view.toUs, heightPx, labelsDown, style),
  };
  if (calibration === null) return { left: times, right: null };
  const pathAt = (timeUs: number) => toShown(pathFromTime(calibration, timeUs, null).value, 'length', style);
  const [from, to] = [pathAt(view.fromUs), pathAt(view.toUs)];
  const paths = {
    label: `Sound path (${unitSign('length', style)})`,
    shortLabel: unitSign('length', style),
    ticks: roundTicks(from, to, heightPx, labelsDown, style).map(({ value, label }) => ({
      value: view.fromUs + ((value - from) / (to - from)) * (view.toUs - view.fromUs),
      label,
    })),
  };
  return { left: paths, right: times };
}
