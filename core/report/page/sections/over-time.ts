import type { DriftGroup } from '../../../check/drift-over-time.ts';
import {
  intervalWords,
  jumpSentence,
  notYetConfirmedSentence,
  reexaminationSentence,
  seriesName,
  takenWithWords,
  trendSentence,
} from '../../../check/over-time-words.ts';
import { figures, figureWords } from '../../../origin/figure.ts';
import { html, type Markup } from '../markup.ts';
import { given, notes, type Section, withMinus } from '../parts.ts';
import { controlChartPlot } from '../plots/control-chart-plot.ts';
import type { Report } from '../report-input.ts';

/** The same checks over time, by instrument and probe: control charts, trends, intervals, and what must be looked at again. */
export function overTimeSection(report: Report): Section | null {
  const overTime = report.evaluation.driftOverTime;
  if (overTime === null || overTime.groups.length === 0) return null;
  return {
    id: 'over-time',
    title: 'Drift over time',
    body: html`<p>Control limits say what the instrument’s own variation leads one to expect; they judge no rule. A trend describes what was measured, and no reading is corrected by it.</p>
${overTime.groups.map((group) => groupWords(group, report))}${notes(overTime.warnings.map(({ place, sentence }) => html`${given(place.file)}: ${sentence}`))}`,
  };
}

function groupWords(group: DriftGroup, { style }: Report): Markup {
  const nameOf = (captureId: string) => captureId;
  const { longestHoursBetweenChecks, lastPassing, reexaminations } = group;
  const unconfirmed = notYetConfirmedSentence(group);
  return html`<h3>${takenWithWords(group)}</h3>
<p>${group.checks.length === 1 ? '1 check' : `${group.checks.length} checks`}${longestHoursBetweenChecks !== null && `, at most ${intervalWords(longestHoursBetweenChecks, style)} apart`}${lastPassing !== null && html`; the last that passes is ${given(lastPassing)}`}.</p>
${notes([...reexaminations.map((found) => reexaminationSentence(found, nameOf)), unconfirmed].filter((said) => said !== null))}${group.series.map(
  (series) =>
    html`${controlChartPlot(series, style)}${notes(
      [
        html`<strong>${seriesName(series)} at ${figureWords(figures.statedMm(series.distanceMm, style), style)}</strong>: ${withMinus(trendSentence(series, style))}`,
        jumpSentence(series, nameOf, style),
      ].filter((said) => said !== null),
    )}`,
)}`;
}
