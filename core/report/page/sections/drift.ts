import type { DriftCheck } from '../../../check/drift.ts';
import { limitsInWords } from '../../../check/limits-in-words.ts';
import { figures, figureWithUncertainty, figureWords } from '../../../origin/figure.ts';
import type { Quantity } from '../../../units/quantity.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { figure, flagNames, flagNotes, given, notes, type Section, table, verdictMark, words } from '../parts.ts';
import { driftPlot } from '../plots/drift-plot.ts';
import type { Report } from '../report-input.ts';

export function driftSection(report: Report): Section | null {
  const { evaluation, style } = report;
  const result = evaluation.drift;
  if (result === null) return null;
  const flags = result.checks.flatMap((check) => [
    ...check.flags,
    ...check.reflectors.flatMap((reflector) => reflector.flags),
  ]);
  return {
    id: 'drift',
    title: 'Drift checks',
    body: html`${ruleWords(report)}${checksTable(report)}${driftPlot('distance', result, style)}${driftPlot('amplitude', result, style)}${consequences(report)}${
      result.warnings.length > 0 &&
      html`<h3>Taken for granted, and what hindered a figure</h3>
${notes(result.warnings.map((w) => html`${given(w.place.file)}: ${w.sentence}`))}`
    }${flagNotes(flags)}`,
  };
}

function ruleWords({ evaluation, style }: Report): Markup {
  const { rule, decision, rangeMm } = evaluation.drift ?? { rule: null, decision: null, rangeMm: null };
  if (rule === null)
    return html`<p>No rule was chosen: there are figures and no verdicts.</p>
`;
  const range = rangeMm === null ? null : figureWords(figures.statedMm(rangeMm, style), style);
  const limits = (['mm', 'dB'] as const)
    .map((unit) => ({ of: unit === 'mm' ? 'distance' : 'amplitude', words: limitsInWords(rule, unit, range) }))
    .filter(({ words: said }) => said !== '');
  return html`<p><strong>${rule.title}</strong>, ${rule.edition}, clause ${rule.clause}. Allowed: ${limits.map(({ of, words: said }) => `${of} ${said}`).join('; ')}. ${
    decision === 'simple-acceptance'
      ? 'The value alone decides (simple acceptance, as chosen).'
      : 'A verdict is inconclusive where the limit lies within the expanded uncertainty, k = 2.'
  }</p>
<p class="soft">Source of the figures: ${rule.source}</p>
`;
}

function checksTable({ evaluation, style }: Report): Markup {
  const checks = evaluation.drift?.checks ?? [];
  const length = (known: Quantity | null) =>
    known === null ? '–' : figureWithUncertainty(figures.lengthMm(known, style), style);
  const level = (known: Quantity | null) =>
    known === null ? '–' : figureWithUncertainty(figures.levelDb(known, style), style);
  const lines = (all: readonly Shown[]): Shown => all.map((one, i) => html`${i > 0 && html`<br>`}${one}`);
  const row = (check: DriftCheck, i: number): Shown[] => [
    String(i + 1),
    check.captureId,
    check.takenAt,
    lines(check.reflectors.map(({ distanceMm }) => figureWords(figures.statedMm(distanceMm, style), style))),
    lines(check.reflectors.map(({ distanceErrorMm }) => length(distanceErrorMm))),
    lines(check.reflectors.map(({ amplitudeChangeDb }) => level(amplitudeChangeDb))),
    check.velocityChangePercent === null
      ? null
      : figureWithUncertainty(figures.changePercent(check.velocityChangePercent, style), style),
    check.zeroOffsetChangeUs === null
      ? null
      : figureWithUncertainty(figures.timeUs(check.zeroOffsetChangeUs, style), style),
    flagNames(check.flags),
    check.verdict === null ? null : verdictMark(check.verdict),
  ];
  return table(
    'Checks in order of the time taken; uncertainties are standard ones (k = 1)',
    [
      figure('No.'),
      words('Capture'),
      words('Taken'),
      figure('Reflector'),
      figure('Distance error'),
      figure('Amplitude change'),
      figure('Velocity change'),
      figure('Zero offset change'),
      words('Doubts'),
      words('Verdict'),
    ],
    checks.map(row),
  );
}

function consequences({ evaluation }: Report): Markup | null {
  const checks = evaluation.drift?.checks ?? [];
  const said = checks.flatMap((check, i) => {
    const sentences = [
      ...(check.verdict === 'pass' || check.causeSentence === null ? [] : [check.causeSentence]),
      ...check.consequences,
      ...check.remarks,
    ];
    return sentences.length === 0
      ? []
      : [html`<strong>Check ${i + 1}</strong> (${given(check.captureId)}): ${sentences.join(' ')}`];
  });
  return said.length === 0
    ? null
    : html`<h3>What follows</h3>
${notes(said)}`;
}
