import type { CaptureId } from '../capture/capture.ts';
import { log10 } from '../elementary/exponential.ts';
import { type FigureStyle, quantityText } from '../units/figure-style.ts';
import { formatNumber } from '../units/format-quantity.ts';
import type { Quantity } from '../units/quantity.ts';
import { largestRangeFactor, movingRangeFactor, withoutLimitsTexts } from './control-chart.ts';
import type { ChartSeries, DriftGroup } from './drift-over-time.ts';
import type { Reexamination } from './reexamine.ts';
import { significantBelow, type Trend } from './trend.ts';

/** What charts, trends and lists say, in sentences: the same on screen, on the command line and in the report. */

export function seriesName({ figure }: Pick<ChartSeries, 'figure'>): string {
  return figure === 'distance-error' ? 'distance error' : 'amplitude change';
}

/** `flaw detector 4, straight probe 5`; what is not stated is said to be so. */
export function takenWithWords({ takenWith: { instrument, probe } }: Pick<DriftGroup, 'takenWith'>): string {
  return `${instrument ?? 'instrument not stated'}, ${probe ?? 'probe not stated'}`;
}

/** A length or a level with its unit, its uncertainty where it has one. */
export function chartFigure(known: Quantity | number | null, unit: ChartSeries['unit'], style: FigureStyle): string {
  const quantity = typeof known === 'number' ? { value: known, standardUncertainty: null } : known;
  return unit === 'mm' ? quantityText(quantity, 'length', 3, style) : quantityText(quantity, 'level', 2, style);
}

/** Where the limits come from, or why there are none. */
export function limitsSentence({ chart, unit }: ChartSeries, style: FigureStyle): string {
  if (chart.limits === null || chart.centre === null || chart.meanMovingRange === null)
    return chart.withoutLimits === null
      ? 'No figure to chart.'
      : `No control limits: ${withoutLimitsTexts[chart.withoutLimits]}.`;
  const figure = (value: number) => chartFigure(value, unit, style);
  return `Control limits ${figure(chart.limits.lower)} to ${figure(chart.limits.upper)}: centre ${figure(chart.centre)} ± ${movingRangeFactor} · mean moving range ${figure(chart.meanMovingRange)}, from ${chart.count} checks.`;
}

const hoursShown = 48;

/** The slope per day, or per hour where the checks cover less than two days: `-0.031 ± 0.003 dB per day`. */
export function slopeWords(trend: Trend, unit: ChartSeries['unit'], style: FigureStyle): string {
  const perHour = trend.days * 24 < hoursShown;
  const share = perHour ? 1 / 24 : 1;
  const { value, standardUncertainty } = trend.perDay;
  const slope = {
    value: value * share,
    standardUncertainty: standardUncertainty === null ? null : standardUncertainty * share,
  };
  const words = unit === 'mm' ? quantityText(slope, 'length', 1, style) : quantityText(slope, 'level', 1, style);
  return `${words} per ${perHour ? 'hour' : 'day'}`;
}

/** `p = 0.031`, `p < 0.0001`. */
export function pWords(p: number, style: FigureStyle): string {
  return p < 0.0001
    ? `p < ${formatNumber(0.0001, 4, style)}`
    : `p = ${formatNumber(p, Math.max(2, 1 - Math.floor(log10(p))), style)}`;
}

/** Whether there is a trend, how sure that is, and what speaks against the test. */
export function trendSentence({ trend, unit }: ChartSeries, style: FigureStyle): string {
  if (trend === null) return 'No trend: it takes three checks at different times.';
  const numbers = `${slopeWords(trend, unit, style)}, t = ${formatNumber(trend.t, 2, style)} with ${trend.degreesOfFreedom} degrees of freedom, ${pWords(trend.p, style)}`;
  const said = trend.significant
    ? `A trend of ${numbers}: ${chartFigure(trend.overAll.value, unit, style)} from the first to the last.`
    : `No significant trend: ${numbers}; chance alone gives as much in more than ${formatNumber(100 * significantBelow, 0, style)} of 100 such series.`;
  const together =
    trend.seriallyCorrelated && trend.serialCorrelation !== null
      ? ` Successive checks go together (correlation ${formatNumber(trend.serialCorrelation, 2, style)}), as with a slow swing: p is then too small.`
      : '';
  return `${said}${together}`;
}

/** Where a figure leaves the one before by more than one step is expected to; `null` where it does not. @param nameOf how a capture is called */
export function jumpSentence(
  { points, chart, unit }: ChartSeries,
  nameOf: (captureId: CaptureId) => string,
  style: FigureStyle,
): string | null {
  const jumps = points.filter((point) => point.jump);
  if (jumps.length === 0 || chart.largestStep === null) return null;
  const step = chartFigure(chart.largestStep, unit, style);
  return `It jumps at ${jumps.map((point) => nameOf(point.captureId)).join(', ')}, by more than the ${step} that one step is expected to be at most (${largestRangeFactor} · mean moving range), which chance alone seldom does: look whether something was changed there. A straight line is no good picture of a jump.`;
}

/** `14.5 h`, `3.1 days`. */
export function intervalWords(hours: number, style: FigureStyle): string {
  return hours < hoursShown ? `${formatNumber(hours, 1, style)} h` : `${formatNumber(hours / 24, 1, style)} days`;
}

/** What is in doubt and since when; the readings follow in a list. @param nameOf how a capture is called */
export function reexaminationSentence(found: Reexamination, nameOf: (captureId: CaptureId) => string): string {
  const { because, checks, after, before, readings } = found;
  const [first, ...more] = checks;
  const which = `${nameOf(first)}${more.length === 0 ? '' : ` and ${more.length} more up to ${nameOf(more[more.length - 1])}`}`;
  const plural = checks.length > 1;
  const does = because === 'fail' ? (plural ? 'do not pass' : 'fails') : plural ? 'are not decided' : 'is not decided';
  const from = after === null ? 'since the calibration' : `since the last good check ${nameOf(after)}`;
  const to =
    before === null ? 'and no good check has come after' : `up to the first good check after, ${nameOf(before)}`;
  const unplaced = readings.filter(({ placing }) => placing === 'cannot-be-placed').length;
  const counted = readings.length === 1 ? '1 capture was read' : `${readings.length} captures were read`;
  const what =
    readings.length === 0
      ? 'no capture of this review was read in that time'
      : `${counted}, to be looked at again${unplaced === 0 ? '' : ` (${unplaced} of them cannot be placed in time and may belong here)`}`;
  return `${which} ${does}: ${from}, ${to}, ${what}.`;
}

/** Readings after the last check. */
export function notYetConfirmedSentence({ notYetConfirmed }: DriftGroup): string | null {
  const count = notYetConfirmed.length;
  if (count === 0) return null;
  return `${count === 1 ? '1 capture was' : `${count} captures were`} read later than the last check: a check after ${count === 1 ? 'it' : 'them'} is still to come.`;
}
