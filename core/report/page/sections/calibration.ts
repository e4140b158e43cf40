import { type Figure, figures, figureWithUncertainty, figureWords } from '../../../origin/figure.ts';
import { originOf } from '../../../origin.ts';
import { formatNumber, unknown } from '../../../units/format-quantity.ts';
import { html, type Markup } from '../markup.ts';
import {
  arithmeticLine,
  arithmeticLines,
  figure,
  flagNames,
  name,
  notes,
  type Section,
  table,
  words,
} from '../parts.ts';
import { residualPlot } from '../plots/residual-plot.ts';
import type { Report } from '../report-input.ts';

export function calibrationSection(report: Report): Section | null {
  const result = report.evaluation.calibration;
  if (result === null) return null;
  const { calibration } = result;
  return {
    id: 'distance-calibration',
    title: 'Distance calibration',
    body:
      calibration === null
        ? html`<p>No calibration could be made. ${result.problems.map((p) => p.sentence).join(' ')}</p>
`
        : html`${resultTable(report)}${points(report)}${calibration.points.length > 2 && residualPlot(calibration, report.style)}${
            calibration.points.length === 2 &&
            html`<p>Two points fix the line exactly, so there are no residuals to plot: no mistaken distance could show.</p>
`
          }${unmatched(report)}${
            result.doubts.length > 0 &&
            html`<h3>Doubts</h3>
${notes(result.doubts.map(({ flag, sentence }) => html`<strong>${flag}</strong>: ${sentence}`))}`
          }${arithmetic(report)}`,
  };
}

function resultTable({ evaluation, review, style }: Report): Markup | null {
  const calibration = evaluation.calibration?.calibration ?? null;
  if (calibration === null) return null;
  const { velocityMPerS, zeroOffsetUs, degreesOfFreedom, residualSdUs, covarianceUsUsPerMm } = calibration;
  const row = (name: string, figureOf: Figure, half: Figure | null) => [
    name,
    figureWithUncertainty(figureOf, style),
    half === null ? null : `± ${figureWords({ ...half, decimals: figureOf.decimals }, style)}`,
  ];
  const half = (value: number | null, of: (known: number, in_: typeof style) => Figure) =>
    value === null ? null : of(value, style);
  const plain = (name: string, value: string) => [name, value, null];
  return table(
    review.calibration?.kind === 'given'
      ? `Calibration taken over from ${review.calibration.file}`
      : `Fitted through ${calibration.points.length} reflectors, timed by the ${review.calibration?.timing ?? 'peak'}`,
    [words('Quantity'), figure('Value ± standard uncertainty (k = 1)'), figure('95 % interval')],
    [
      row(
        'Velocity',
        figures.velocityMPerS(velocityMPerS, style),
        half(calibration.velocityHalfWidth95MPerS, figures.velocityMPerS),
      ),
      row(
        'Zero offset',
        figures.timeUs(zeroOffsetUs, style),
        half(calibration.zeroOffsetHalfWidth95Us, figures.timeUs),
      ),
      ...(covarianceUsUsPerMm === null
        ? []
        : [
            plain(
              'Covariance of zero offset and slope',
              `${covarianceUsUsPerMm.toExponential(3).replaceAll('-', '−')} µs · µs/mm`,
            ),
          ]),
      ...(residualSdUs === null
        ? []
        : [plain('Standard deviation of the residuals', `${formatNumber(residualSdUs, 5, style)} µs`)]),
      plain('Degrees of freedom', String(degreesOfFreedom)),
    ],
  );
}

function points({ evaluation, captures, style }: Report): Markup | null {
  const calibration = evaluation.calibration?.calibration ?? null;
  if (calibration === null || calibration.points.length === 0) return null;
  return table(
    'Reflectors',
    [
      figure('Known distance'),
      figure('Time'),
      figure('Residual'),
      figure('Amplitude'),
      figure('Gain'),
      name('Capture'),
      words('Doubts'),
    ],
    calibration.points.map((point) => {
      const capture = point.captureId === null ? undefined : captures.get(point.captureId);
      const distance = figures.statedMm(point.distanceMm, style);
      return [
        point.uDistanceMm > 0
          ? `${figureWords(distance, style)}, u ${figureWords({ ...distance, value: figures.residualMm(point.uDistanceMm, style).value, decimals: 3 }, style)}`
          : figureWords(distance, style),
        figureWithUncertainty(
          figures.echoTimeUs({ value: point.timeUs, standardUncertainty: point.uTimeUs }, style),
          style,
        ),
        figureWords(figures.residualMm(point.residualMm, style), style),
        point.amplitudePercent === null
          ? unknown
          : figureWords(figures.amplitudePercent(point.amplitudePercent, style), style),
        capture?.gainDb == null ? null : figureWords(figures.levelDb(capture.gainDb, style), style),
        point.captureId,
        flagNames(point.flags),
      ];
    }),
  );
}

function unmatched({ evaluation, style }: Report): Markup | null {
  const echoes = evaluation.calibration?.unmatchedEchoes ?? [];
  if (echoes.length === 0) return null;
  return table(
    'Echoes that were taken for no reflector',
    [figure('Time'), figure('Amplitude'), words('What its place says'), name('Capture')],
    echoes.map((echo) => [
      figureWords(figures.timeUs(echo.timeUs, style), style),
      figureWords(figures.amplitudePercent(echo.amplitudePercent, style), style),
      echo.name,
      echo.captureId,
    ]),
  );
}

function arithmetic({ review, evaluation, style }: Report): Markup | null {
  const lines = (['velocity', 'zero-offset'] as const).flatMap((figureAsked) => {
    const origin = originOf({ kind: 'calibration', figure: figureAsked }, review, evaluation, style);
    return origin === null || origin.formula === null
      ? []
      : [arithmeticLine(html`<strong>${origin.title}</strong> (${origin.source})`, origin.formula)];
  });
  return lines.length === 0
    ? null
    : html`<h3>Arithmetic</h3>
${arithmeticLines(lines)}`;
}
