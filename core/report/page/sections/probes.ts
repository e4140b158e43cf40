import { figures, figureWithUncertainty, figureWords } from '../../../origin/figure.ts';
import { probeFigure } from '../../../origin/probe-figure.ts';
import { type ProbeFigure, probeFigureNames, probeFigures } from '../../../probe/figures.ts';
import { hindranceTexts } from '../../../probe/hindrance.ts';
import type { ProbeResult } from '../../../steps/probes.ts';
import { formatNumber, formatQuantity } from '../../../units/format-quantity.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { figure, given, name, notes, type Section, table, verdictMark, withMinus, words } from '../parts.ts';
import type { Report } from '../report-input.ts';

/** So many probes stand side by side in a table. */
const mostAbreast = 4;

/** Probes side by side, figure by figure, and what is stated of them. */
export function probesSection(report: Report): Section | null {
  const result = report.evaluation.probes;
  if (result === null) return null;
  const { probes, rule, reference, remarks, spectrum } = result;
  const batches = Array.from({ length: Math.ceil(probes.length / mostAbreast) }, (_, i) =>
    probes.slice(i * mostAbreast, (i + 1) * mostAbreast),
  );
  const stated = probes.flatMap((probe) => probe.stated.map((one) => ({ probe: probe.probe, ...one })));
  return {
    id: 'probes',
    title: 'Probes',
    body: html`<p>Spectra: ${spectrum}. ${reference !== null && html`Held against ${given(reference)}. `}Definitions of the figures stand in the results as a document. Uncertainties are standard ones (k = 1).</p>
${batches.map((some) => abreast(some, report))}${
  stated.length > 0 &&
  table(
    'Against what is stated',
    [name('Probe'), words('Figure'), figure('Stated'), figure('Deviation'), words('Verdict')],
    stated.map(({ probe, figure: what, stated: value, deviation, unit, verdict }) => [
      probe,
      probeFigures[what].title,
      figureWords(probeFigure(what, value, report.style), report.style),
      deviation === null ? '–' : `${formatQuantity(deviation, 1)} ${unit}`,
      verdict === null ? 'not judged' : verdictMark(verdict.outcome),
    ]),
  )
}${
  rule !== null &&
  html`<p>Rule <strong>${rule.title}</strong>, ${rule.edition}. <span class="soft">${rule.source}</span></p>
`
}${differences(probes, report)}${notes([...probes.flatMap(missing), ...remarks])}`,
  };
}

/** Figure by figure, how far each probe lies from the reference, and whether Welch’s test tells them apart. */
function differences(all: readonly ProbeResult[], { style }: Report): Markup | null {
  const compared = all.flatMap(({ probe, comparison }) => (comparison === null ? [] : [{ probe, ...comparison }]));
  return compared.length === 0
    ? null
    : table(
        `Differences from ${compared[0].reference}`,
        [name('Probe'), name('Figure'), figure('Difference'), words('Told apart')],
        compared.flatMap(({ probe, figures: each }) =>
          each
            .filter(({ difference }) => difference !== null)
            .map(({ figure: what, difference, differs }) => [
              probe,
              probeFigures[what].title,
              figureWithUncertainty(probeFigure(what, difference!, style), style),
              differs === null ? 'cannot be told' : differs ? 'yes: they differ' : 'no',
            ]),
        ),
      );
}

/** Why a figure of a probe was not measured, the figures of one reason together. */
function missing({ probe, figures: all }: ProbeResult): Markup[] {
  const byReason = new Map<string, string[]>();
  for (const what of probeFigureNames) {
    const { quantity, hindrances } = all[what];
    if (quantity !== null || hindrances.length === 0) continue;
    const reason = hindranceTexts[hindrances[0].hindrance];
    byReason.set(reason, [...(byReason.get(reason) ?? []), probeFigures[what].title]);
  }
  return [...byReason].map(
    ([reason, titles]) => html`${given(probe)}, not measurable: ${titles.join('; ')}. ${reason}`,
  );
}

function abreast(probes: readonly ProbeResult[], { style }: Report): Markup {
  const cell = (probe: ProbeResult, what: ProbeFigure): Shown => {
    const { quantity } = probe.figures[what];
    return quantity === null ? 'not measurable' : figureWithUncertainty(probeFigure(what, quantity, style), style);
  };
  const measured = probeFigureNames.filter((what) => probes.some((probe) => probe.figures[what].quantity !== null));
  return table(
    'Figures of each probe',
    [name('Figure'), ...probes.map(({ probe }) => figure(probe))],
    [
      ['Captures', ...probes.map(({ captureIds }) => String(captureIds.length))],
      ...measured.map((what) => [probeFigures[what].title, ...probes.map((probe) => cell(probe, what))]),
    ],
  );
}

/** Velocity and attenuation of a material, by its back wall. */
export function materialSection(report: Report): Section | null {
  const { material } = report.evaluation;
  if (material === null) return null;
  const { style } = report;
  const { thicknessMm, velocityMPerS, sample, captures, attenuation, remarks } = material;
  return {
    id: 'material',
    title: 'Material',
    body: html`<p>Thickness ${figureWords(figures.statedMm(thicknessMm, style), style)}; velocity ${velocityMPerS === null ? 'not measurable' : figureWithUncertainty(figures.velocityMPerS(velocityMPerS, style), style)}${sample !== null && sample.count > 1 && ` from ${sample.count} captures`}. Uncertainties are standard ones (k = 1).</p>
${table(
  'Captures of the back wall',
  [name('Capture'), figure('Echoes'), figure('Velocity'), words('What is missing')],
  captures.map(({ captureId, echoes, velocityMPerS: own, hindrances, withoutAttenuation }) => [
    captureId,
    String(echoes.length),
    own === null ? '–' : figureWithUncertainty(figures.velocityMPerS(own, style), style),
    [
      ...hindrances.map(({ multiple, hindrance }) => `echo ${multiple}: ${hindranceTexts[hindrance]}`),
      ...(withoutAttenuation === null ? [] : [`no attenuation: ${withoutAttenuation}`]),
    ].join(' '),
  ]),
)}${
  attenuation.length > 0 &&
  table(
    'Apparent attenuation per mm of travel',
    [figure('Frequency'), figure('Attenuation'), figure('Captures')],
    everyNth(attenuation, mostFrequencies).map(({ frequencyMHz, dbPerMm, captures: count }) => [
      `${formatNumber(frequencyMHz, 2)} MHz`,
      withMinus(`${formatQuantity(dbPerMm, 4)} dB`),
      String(count),
    ]),
  )
}${notes(remarks)}`,
  };
}

/** The whole spectrum stands in the results; the page shows so many of its lines. */
const mostFrequencies = 12;

function everyNth<Line>(lines: readonly Line[], most: number): Line[] {
  const step = Math.max(1, Math.ceil(lines.length / most));
  return lines.filter((_, i) => i % step === 0);
}
