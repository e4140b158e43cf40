import { figures, figureWithUncertainty, figureWords } from '../../../origin/figure.ts';
import { spreadingOf } from '../../../sensitivity/reflector-kind.ts';
import type { AttenuationResult, CurveResult } from '../../../steps/sensitivity.ts';
import { formatNumber, formatQuantity } from '../../../units/format-quantity.ts';
import type { Quantity } from '../../../units/quantity.ts';
import { html, type Markup } from '../markup.ts';
import { figure, flagNames, flagNotes, given, name, notes, type Section, table, withMinus, words } from '../parts.ts';
import { curvePlot } from '../plots/curve-plot.ts';
import type { Report } from '../report-input.ts';

export function sensitivitySection(report: Report): Section | null {
  const result = report.evaluation.sensitivity;
  if (result === null) return null;
  const { nearField, curve, attenuation, warnings } = result;
  return {
    id: 'sensitivity',
    title: 'Sensitivity',
    body: html`${
      nearField !== null &&
      html`<p>Near field ${length(nearField.lengthMm, report)} (wavelength ${length(nearField.wavelengthMm, report)}); the laws of spreading hold from ${length(nearField.lawsFromMm, report)} on.</p>
`
    }${curve !== null && curveWords(curve, report)}${attenuation !== null && attenuationWords(attenuation, report)}${notes(
      warnings.map(({ place, sentence }) => html`${given(place.file)}: ${sentence}`),
    )}`,
  };
}

const length = (mm: number | Quantity, { style }: Report) => figureWithUncertainty(figures.lengthMm(mm, style), style);
const level = (known: Quantity | null) => (known === null ? '–' : withMinus(`${formatQuantity(known, 1)} dB`));

function curveWords(result: CurveResult, report: Report): Markup {
  const { kind, straightIn, reference, points, curve, law, withoutLaw, levels, transferDb, readings, doubts, remarks } =
    result;
  return html`<h3>Reference level and distance-amplitude curve</h3>
<p>Reflectors: ${spreadingOf[kind].title}. ${
    reference !== null &&
    `Reference level ${reference.percent} % FSH at ${reference.gainDb === null ? 'a gain that is not stated' : `${formatNumber(reference.gainDb, 1)} dB`} (${reference.by === 'stated' ? 'as stated' : 'the highest point of the curve set to it'}). `
  }${curve === null ? 'There is no curve.' : `Between its points the curve is straight in ${straightIn === 'db' ? 'dB' : '% of full screen height'}; before the first and behind the last it says nothing.`} Transfer correction ${level(transferDb)}.</p>
${table(
  'Reflectors of the curve; uncertainties are standard ones (k = 1)',
  [
    figure('Distance'),
    figure('Height'),
    figure('Gain'),
    figure('Above the reference'),
    figure('At reference gain'),
    name('Capture'),
    words('Doubts'),
  ],
  points.map((point) => [
    figureWords(figures.statedMm(point.distanceMm, report.style), report.style),
    figureWords(figures.amplitudePercent(point.amplitudePercent, report.style), report.style),
    point.gainDb === null ? null : `${formatNumber(point.gainDb, 1)} dB`,
    level(point.levelDb),
    `${formatQuantity(point.heightPercent, 1)} % FSH`,
    point.captureId,
    flagNames(point.flags),
  ]),
)}${curvePlot(result, report.style)}${
  law === null
    ? withoutLaw !== null &&
      html`<p>No attenuation law: ${withoutLaw}</p>
`
    : html`<p>Attenuation law: level = ${level(law.levelAtFromDb)} − 20 · ${law.exponent} · log10(path / ${length(law.fromMm, report)}) − attenuation · travel, with an attenuation of ${perMm(law.attenuationDbPerMm)}${law.attenuationHalfWidth95DbPerMm !== null && ` (95 % interval ± ${formatNumber(law.attenuationHalfWidth95DbPerMm, 5)})`} per mm that the sound travels, there and back; residuals scatter by ${formatNumber(law.residualSdDb, 2)} dB with ${law.degreesOfFreedom} degrees of freedom.</p>
`
}${
  levels !== null &&
  html`<p>Evaluation levels by <strong>${levels.title}</strong>, ${levels.edition}, ${levels.clause}. <span class="soft">${levels.source}</span></p>
`
}${
  readings.length > 0 &&
  table(
    'Readings against the curve; uncertainties are standard ones (k = 1)',
    [
      name('Capture'),
      words('Gate'),
      figure('Sound path'),
      figure('Above the reference'),
      figure('To the curve'),
      figure('Of the curve'),
      words('Levels'),
      words('Remarks'),
    ],
    readings.map((reading) => [
      reading.captureId,
      reading.gate,
      reading.soundPathMm === null ? '–' : length(reading.soundPathMm, report),
      reading.levelDb === null ? '–' : `${reading.atLeast ? '≥ ' : ''}${level(reading.levelDb)}`,
      reading.toCurveDb === null ? '–' : `${reading.atLeast ? '≥ ' : ''}${level(reading.toCurveDb)}`,
      reading.percentOfCurve === null
        ? '–'
        : `${reading.atLeast ? '≥ ' : ''}${formatQuantity(reading.percentOfCurve, 0)} %`,
      reading.levels
        .map(({ name, outcome }) => `${name}: ${outcome === 'not-assessed' ? 'not assessed' : outcome}`)
        .join('; '),
      reading.remarks.join(' '),
    ]),
  )
}${notes([...doubts.map(({ flag, sentence }) => html`<strong>${flag}</strong>: ${sentence}`), ...remarks])}${flagNotes([
  ...points.flatMap(({ flags }) => flags),
  ...readings.flatMap(({ flags }) => flags),
])}`;
}

const perMm = (known: Quantity) => `${formatQuantity(known, 4)} dB`;

function attenuationWords(
  { near, far, dropDb, spreadingDb, travelMm, attenuationDbPerMm, doubts, remarks }: AttenuationResult,
  report: Report,
): Markup {
  const echo = (name: string, read: AttenuationResult['near']) => [
    name,
    figureWords(figures.statedMm(read.distanceMm, report.style), report.style),
    figureWords(figures.amplitudePercent(read.amplitudePercent, report.style), report.style),
    read.gainDb === null ? null : `${formatNumber(read.gainDb, 1)} dB`,
    read.captureId,
    flagNames(read.flags),
  ];
  return html`<h3>Apparent attenuation from two back-wall echoes</h3>
${table(
  'The two echoes',
  [words('Echo'), figure('Distance'), figure('Height'), figure('Gain'), name('Capture'), words('Doubts')],
  [echo('near', near), echo('far', far)],
)}<p>(${level(dropDb)} − ${formatNumber(spreadingDb, 3)} dB of spreading) / ${length(travelMm, report)} of further travel = ${perMm(attenuationDbPerMm)} per mm that the sound travels; per mm of thickness it is twice that. What the surfaces lose is in it.</p>
${notes([...doubts.map(({ flag, sentence }) => html`<strong>${flag}</strong>: ${sentence}`), ...remarks])}`;
}
