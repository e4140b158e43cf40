import { fewestForLimits, movingRangeFactor } from '../../core/check/control-chart.ts';
import type { ChartSeries, DriftGroup, DriftOverTime } from '../../core/check/drift-over-time.ts';
import {
  intervalWords,
  jumpSentence,
  limitsSentence,
  notYetConfirmedSentence,
  pWords,
  reexaminationSentence,
  seriesName,
  slopeWords,
  takenWithWords,
  trendSentence,
} from '../../core/check/over-time-words.ts';
import type { ReadingInTime } from '../../core/check/reexamine.ts';
import { significantBelow } from '../../core/check/trend.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { formatNumber, unknown } from '../../core/units/format-quantity.ts';
import { left, printable, right, table } from './table.ts';

/** Checks over time, for a person: one paragraph, table and list for each instrument and probe. */
export function overTimeWords({ groups }: DriftOverTime, captures: CaptureLookup): string {
  return groups.map((group) => groupWords(group, captures)).join('\n\n');
}

function groupWords(group: DriftGroup, captures: CaptureLookup): string {
  const nameOf = (captureId: string) => captures.get(captureId)?.file ?? captureId;
  const { checks, unplaced, longestHoursBetweenChecks: longest, lastPassing } = group;
  const facts = [
    `${checks.length === 1 ? '1 check' : `${checks.length} checks`} with ${takenWithWords(group)}.`,
    ...(longest === null ? [] : [`Longest time between two: ${intervalWords(longest, metricStyle)}.`]),
    ...(lastPassing === null ? [] : [`Last passing: ${nameOf(lastPassing)}.`]),
    ...(unplaced.length === 0
      ? []
      : [`Without a usable time, and so on no chart: ${unplaced.map(nameOf).join(', ')}.`]),
  ];
  const sentences = group.series.flatMap((series) => {
    const said = [
      ...(series.chart.limits === null ? [limitsSentence(series, metricStyle)] : []),
      ...(series.trend?.significant ? [trendSentence(series, metricStyle)] : []),
      ...[jumpSentence(series, nameOf, metricStyle)].filter((sentence) => sentence !== null),
    ];
    return said.length === 0
      ? []
      : ['', printable(`${seriesName(series)} at ${formatNumber(series.distanceMm, 1)} mm: ${said.join(' ')}`)];
  });
  const confirmed = notYetConfirmedSentence(group);
  return [
    printable(facts.join(' ')),
    '',
    seriesTable(group.series),
    '',
    limitsRule,
    ...sentences,
    ...group.reexaminations.flatMap((found) => [
      '',
      printable(reexaminationSentence(found, nameOf)),
      ...files(found.readings, nameOf),
    ]),
    ...(confirmed === null ? [] : ['', printable(confirmed), ...files(group.notYetConfirmed, nameOf)]),
  ].join('\n');
}

const limitsRule = `Limits: centre ± ${movingRangeFactor} · mean moving range (chart of individuals), from ${fewestForLimits} checks on. They say what is usual, not what a rule allows. Significant: by chance in fewer than ${formatNumber(100 * significantBelow, 0)} of 100 such series; each row has its own.`;

/** Each file once, with how many of its captures are meant. */
function files(readings: readonly ReadingInTime[], nameOf: (captureId: string) => string): string[] {
  const counts = new Map<string, number>();
  for (const { captureId } of readings) counts.set(nameOf(captureId), (counts.get(nameOf(captureId)) ?? 0) + 1);
  return [...counts].map(([file, count]) => `  ${printable(file)}${count === 1 ? '' : ` (${count} captures)`}`);
}

function seriesTable(all: readonly ChartSeries[]): string {
  const columns = [
    left('figure'),
    right('at mm'),
    right('checks'),
    right('centre'),
    right('lower'),
    right('upper'),
    right('out of control'),
    left('trend'),
    left('p'),
    left('significant'),
  ];
  const rows = all.map((series) => {
    const { chart, trend, unit, points } = series;
    const figure = (value: number | null | undefined) =>
      value == null ? unknown : `${formatNumber(value, unit === 'mm' ? 3 : 2)} ${unit}`;
    return [
      seriesName(series),
      formatNumber(series.distanceMm, 1),
      String(chart.count),
      figure(chart.centre),
      figure(chart.limits?.lower),
      figure(chart.limits?.upper),
      chart.limits === null ? unknown : String(points.filter((point) => point.outside).length),
      trend === null ? unknown : slopeWords(trend, unit, metricStyle),
      trend === null ? unknown : pWords(trend.p, metricStyle),
      trend === null ? unknown : trend.significant ? 'yes' : 'no',
    ];
  });
  return table(columns, rows);
}
