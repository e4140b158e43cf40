import { type DistanceCalibration, pathFromTime, timeFromPath } from '../../core/calibration/distance.ts';
import { type Gate, gateProblems } from '../../core/gate/gate.ts';
import { figure } from '../../core/units/figure.ts';
import { type FigureStyle, type Measure, readFigure, toShown } from '../../core/units/figure-style.ts';
import { type Parsed, refused } from '../../core/units/parse-quantity.ts';

/** The fields of a gate's exact numbers: what a person reads in them, and the gate that comes of what is typed, or what is wrong with it. */
export type GateEnd = 'from' | 'to';

const decimals = 5;

/** A number as it stands in a field: all the digits it has, in the unit shown, without trailing zeros. */
export function fieldText(value: number, measure: Measure, style: FigureStyle): string {
  const text = figure(toShown(value, measure, style), decimals);
  return style.decimalMark === ',' ? text.replace('.', ',') : text;
}

export function measureOf({ span }: Gate): 'time' | 'length' {
  return span.axis === 'time' ? 'time' : 'length';
}

export function endOf({ span }: Gate, end: GateEnd): number {
  if (span.axis === 'time') return end === 'from' ? span.fromUs : span.toUs;
  return end === 'from' ? span.fromMm : span.toMm;
}

/**
 * The gate with one end read from a person's words. A bare number is in the unit shown; `20mm`, `0.8in`, `4us` say their own, and what is given along
 * the other axis is brought over by the calibration.
 */
export function withEndRead(
  gate: Gate,
  end: GateEnd,
  words: string,
  calibration: DistanceCalibration | null,
  style: FigureStyle,
): Parsed<Gate> {
  const value = readAlong(words, measureOf(gate), calibration, style);
  return value.ok ? sound(withEnd(pushed(gate, end, value.value), end, value.value)) : value;
}

/** An end that goes past the other one pushes it along: whoever gives a new place from its beginning on need not begin with its end. */
function pushed(gate: Gate, end: GateEnd, value: number): Gate {
  const [from, to] = [endOf(gate, 'from'), endOf(gate, 'to')];
  if (end === 'from' && value > to) return withEnd(gate, 'to', value + (to - from));
  const least = gate.span.axis === 'path' ? 0 : Number.NEGATIVE_INFINITY;
  if (end === 'to' && value < from) return withEnd(gate, 'from', Math.max(least, value - (to - from)));
  return gate;
}

function readAlong(
  words: string,
  measure: 'time' | 'length',
  calibration: DistanceCalibration | null,
  style: FigureStyle,
): Parsed<number> {
  const own = readFigure(words, measure, style);
  if (own.ok) return own;
  const across = readFigure(words, measure === 'time' ? 'length' : 'time', style);
  if (!across.ok) return own;
  if (calibration === null) return refused('a sound path needs a calibration to be placed by; give a time, as in 4us');
  return {
    ok: true,
    value:
      measure === 'time'
        ? timeFromPath(calibration, across.value)
        : pathFromTime(calibration, across.value, null).value,
  };
}

function withEnd(gate: Gate, end: GateEnd, value: number): Gate {
  const from = end === 'from' ? value : endOf(gate, 'from');
  const to = end === 'to' ? value : endOf(gate, 'to');
  return gate.span.axis === 'time'
    ? { ...gate, span: { axis: 'time', fromUs: from, toUs: to } }
    : { ...gate, span: { axis: 'path', fromMm: from, toMm: to } };
}

export function withThresholdRead(gate: Gate, words: string, style: FigureStyle): Parsed<Gate> {
  const value = readFigure(words, 'percent', style);
  return value.ok ? sound({ ...gate, thresholdPercent: value.value }) : value;
}

/** The gate by another name, which none of the others may have. */
export function withNameRead(gate: Gate, words: string, gates: readonly Gate[]): Parsed<Gate> {
  const name = words.trim();
  const isTaken = gates.some((other) => other.name !== gate.name && other.name.trim() === name);
  return isTaken ? refused('another gate has this name; give each its own') : sound({ ...gate, name });
}

/** The same stretch of the trace along the other axis. */
export function alongAxis(gate: Gate, axis: Gate['span']['axis'], calibration: DistanceCalibration): Gate {
  const { span } = gate;
  if (span.axis === axis) return gate;
  const rounded = (value: number) => Number(value.toFixed(decimals));
  return span.axis === 'time'
    ? {
        ...gate,
        span: {
          axis: 'path',
          fromMm: Math.max(0, rounded(pathFromTime(calibration, span.fromUs, null).value)),
          toMm: rounded(pathFromTime(calibration, span.toUs, null).value),
        },
      }
    : {
        ...gate,
        span: {
          axis: 'time',
          fromUs: rounded(timeFromPath(calibration, span.fromMm)),
          toUs: rounded(timeFromPath(calibration, span.toMm)),
        },
      };
}

/** The gate, or the first thing that the core finds wrong with it. */
function sound(gate: Gate): Parsed<Gate> {
  const fault = gateProblems([gate], 'gate')[0];
  return fault === undefined ? { ok: true, value: gate } : refused(fault.sentence.replace(/^gate ".*?": /, ''));
}
