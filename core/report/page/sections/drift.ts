import { limitsInWords } from '../../../check/limits-in-words.ts';
import { bareFigure, type Figure, figures, figureWithUncertainty, figureWords } from '../../../origin/figure.ts';
import { unitSign } from '../../../units/figure-style.ts';
import type { Quantity } from '../../../units/quantity.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import {
  figure,
  flagNames,
  flagNotes,
  given,
  name,
  notes,
  type Section,
  table,
  verdictMark,
  withMinus,
  words,
} from '../parts.ts';
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
  return html`<p><strong>${rule.title}</strong>, ${rule.edition}, ${rule.clause}. Allowed: ${limits.map(({ of, words: said }) => `${of} ${said}`).join('; ')}. ${
    decision === 'simple-acceptance'
      ? 'The value alone decides (simple acceptance, as chosen).'
      : 'A verdict is inconclusive where the limit lies within the expanded uncertainty, k = 2.'
  }</p>
<p class="soft">Source of the figures: ${rule.source}</p>
`;
}

function checksTable({ evaluation, style }: Report): Markup {
  const checks = evaluation.drift?.checks ?? [];
  const length = (known: Quantity | null) => bare(known && figures.lengthMm(known, style));
  const level = (known: Quantity | null) => bare(known && figures.levelDb(known, style));
  const bare = (known: Figure | null) =>
    known === null ? '–' : withMinus(figureWithUncertainty({ ...known, unit: '' }, style));
  const lines = (all: readonly string[]): Shown => all.map((one, i) => html`${i > 0 && html`<br>`}${one}`);
  const unit = unitSign('length', style);
  return table(
    'Checks in order of the time taken; uncertainties are standard ones (k = 1)',
    [
      figure('No.'),
      name('Capture'),
      figure(`Reflector (${unit})`),
      figure(`Distance error (${unit})`),
      figure('Amplitude change (dB)'),
      figure('Velocity change (%)'),
      figure('Zero offset change (µs)'),
      words('Verdict'),
    ],
    checks.map((check, i) => [
      String(i + 1),
      html`${check.captureId}${check.takenAt !== null && html`<br>${check.takenAt}`}`,
      lines(check.reflectors.map(({ distanceMm }) => bareFigure(figures.statedMm(distanceMm, style), style))),
      lines(check.reflectors.map(({ distanceErrorMm }) => length(distanceErrorMm))),
      lines(check.reflectors.map(({ amplitudeChangeDb }) => level(amplitudeChangeDb))),
      check.velocityChangePercent === null ? null : bare(figures.changePercent(check.velocityChangePercent, style)),
      check.zeroOffsetChangeUs === null ? null : bare(figures.timeUs(check.zeroOffsetChangeUs, style)),
      html`${check.verdict !== null && verdictMark(check.verdict)}${check.flags.length > 0 && html`<br>${flagNames(check.flags)}`}`,
    ]),
  );
}

/** What each check tells and asks for; checks of which the same is said stand together. */
function consequences({ evaluation }: Report): Markup | null {
  const said = new Map<string, number[]>();
  (evaluation.drift?.checks ?? []).forEach((check, i) => {
    const sentences = [
      ...(check.verdict === 'pass' || check.causeSentence === null ? [] : [check.causeSentence]),
      ...check.consequences,
      ...check.remarks,
    ].join(' ');
    if (sentences !== '') said.set(sentences, [...(said.get(sentences) ?? []), i + 1]);
  });
  return said.size === 0
    ? null
    : html`<h3>What follows</h3>
${notes([...said].map(([sentences, checks]) => html`<strong>${checks.length === 1 ? 'Check' : 'Checks'} ${checks.join(', ')}</strong>: ${sentences}`))}`;
}
