import { coverageFactor } from '../../../check/verdict.ts';
import { type Flag, flagTexts } from '../../../flag.ts';
import { figures, figureWithUncertainty, figureWords } from '../../../origin/figure.ts';
import { ratingLines } from '../../../rating/arithmetic.ts';
import { ratingCaution, ratingClause } from '../../../rating/aws-d1.1.ts';
import { lengthArithmetic } from '../../../sizing/arithmetic.ts';
import { lengthMethods } from '../../../sizing/formulas.ts';
import type { Indication } from '../../../steps/indication.ts';
import type { FigureStyle } from '../../../units/figure-style.ts';
import { formatNumber } from '../../../units/format-quantity.ts';
import type { Quantity } from '../../../units/quantity.ts';
import { boundSign, type FigureColumn } from '../../figure-table.ts';
import { indicationColumns } from '../../indications-table.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import {
  arithmeticLine,
  arithmeticLines,
  figure,
  given,
  name,
  notes,
  type Section,
  table,
  withMinus,
  words,
} from '../parts.ts';
import { dynamicPlot, tracePlot } from '../plots/indication-plots.ts';
import { planPlot } from '../plots/plan-plot.ts';
import { sidePlot } from '../plots/side-plot.ts';
import type { Report } from '../report-input.ts';

/** What stands with each indication below the table, or in the captures' table. */
const leftOut: ReadonlySet<string> = new Set([
  'from',
  'to',
  'surface-distance',
  'gain',
  'attenuation-factor',
  'notes',
  'doubts',
]);
/** A sheet of paper is not as wide as all columns: places and heights have a table each, both with the names. */
const heights: ReadonlySet<string> = new Set(['amplitude', 'level', 'to-curve', 'rating']);
const isPlace = (id: string): boolean => !heights.has(id);
const isHeight = (id: string): boolean => id === 'name' || heights.has(id);

/** So many indications are told one by one; the table has all. */
const mostTold = 100;

/** What the scan shows: plan and side view along the weld, all indications as a table, and each with its pictures and its arithmetic. */
export function indicationsSection(report: Report): Section | null {
  const { evaluation, review, style } = report;
  const { scan } = evaluation;
  if (scan === null || review.scan === null) return null;
  const { indications, lines, stepMm, remarks, warnings } = scan;
  const positions = lines.reduce((sum, { stations }) => sum + stations.length, 0);
  const outline = review.part?.weld?.outline.map(({ acrossMm }) => acrossMm) ?? null;
  const ofWeld = outline === null ? null : ([Math.min(...outline), Math.max(...outline)] as const);
  return {
    id: 'indications',
    title: 'Indications',
    body: html`<p>${positions} positions on ${lines.length} ${lines.length === 1 ? 'line' : 'lines'}${stepMm !== null && `, usually ${figureWords(figures.lengthMm(stepMm, style), style)} apart`}. Length: ${lengthMethods[review.scan.sizing.kind]}. ${referenceWords(report)}</p>
${planPlot(scan, ofWeld, style)}${sidePlot(scan, thicknessOf(review), style)}${indications.length > 0 ? html`${tableOf('Where the indications are', indications, isPlace, style)}${tableOf('How high they stand', indications, isHeight, style)}` : html`<p>There is no indication.</p>\n`}${notes(
  [...remarks, ...warnings.map(({ place, sentence }) => html`${given(place.file)}: ${sentence}`)],
)}${
  indications.some(({ rating }) => rating !== null) &&
  html`<p><strong>Rating.</strong> ${ratingCaution} Clause to look up: ${ratingClause}.</p>
`
}${indications.slice(0, mostTold).map((indication, i) => told(indication, i + 1, report))}${
  indications.length > mostTold &&
  html`<p>${indications.length - mostTold} more indications stand in the table alone.</p>
`
}`,
  };
}

/** Of a part of one thickness; `null` for another, and where none is known. */
function thicknessOf({ part, readings }: Report['review']): number | null {
  if (part === null) return readings?.beam?.thicknessMm ?? null;
  return part.shape.kind === 'step-block' ? null : part.shape.thicknessMm;
}

function referenceWords({ evaluation, review }: Report): string {
  const stated = review.scan?.reference ?? null;
  if (stated !== null)
    return `Reference level as stated: ${stated.percent} % FSH at ${formatNumber(stated.gainDb, 1)} dB.`;
  return evaluation.sensitivity?.curve?.reference == null
    ? 'There is no reference level: amplitudes are unreferenced and have no rating.'
    : 'Reference level: that of the reflectors under ‘Sensitivity’.';
}

function tableOf(
  caption: string,
  indications: readonly Indication[],
  holds: (id: string) => boolean,
  style: FigureStyle,
): Markup {
  const columns = indicationColumns(indications, style).filter(({ id }) => !leftOut.has(id) && holds(id));
  return table(
    `${caption}; uncertainties are standard ones (k = 1)`,
    [
      figure('No.'),
      ...columns.map(({ id, name: head, unit }) => {
        if (unit === null) return id === 'name' ? name(head) : words(head);
        return figure(unit === '' ? head : `${head} (${unit})`);
      }),
    ],
    indications.map((indication, i) => [String(i + 1), ...columns.map((column) => cell(column, indication, style))]),
  );
}

function cell(column: FigureColumn<Indication>, indication: Indication, style: FigureStyle): Shown {
  if (column.unit === null) return column.words(indication);
  const known = column.figure(indication);
  if (known === null) return column.words(indication) ?? '–';
  return `${boundSign(column.bound(indication))}${figureWithUncertainty({ ...known, unit: '' }, style)}`;
}

/** One indication with its figures, expanded uncertainties, the pictures it was told from, and its arithmetic. */
function told(indication: Indication, number: number, report: Report): Markup {
  const { style } = report;
  const { rating, length } = indication;
  const arithmetic = [
    ...[lengthArithmetic(length, style)].flatMap((line) => (line === null ? [] : [arithmeticLine('Length', line)])),
    ...(rating === null
      ? []
      : ratingLines(rating, style).map((line, i) => arithmeticLine(i === 0 ? 'Attenuation factor' : 'Rating', line))),
  ];
  const geometry = (indication.location?.geometry ?? []).map(({ sentence }) => sentence);
  // What is expected there is told with its path and name.
  const isToldByGeometry = (flag: Flag) => flag === 'geometry-expected' && geometry.length > 0;
  const sentences = new Set<Shown>([
    ...indication.flags
      .filter((flag) => !isToldByGeometry(flag))
      .map((flag) => `${flagTexts[flag].sentence} ${flagTexts[flag].advice}`),
    ...indication.remarks,
    ...geometry,
  ]);
  return html`<div class="indication"><h3><span class="number">${number}</span> ${given(indication.name)}</h3>
<dl class="facts">${factsOf(indication, style).map(([label, value]) => html`<dt>${label}</dt><dd>${value}</dd>\n`)}</dl>
<div class="pair">${pictures(indication, report)}</div></div>
${arithmeticLines(arithmetic)}${notes([...sentences])}`;
}

function pictures(indication: Indication, { evaluation, style }: Report): Markup {
  const calibration = evaluation.calibration?.calibration ?? null;
  const trace = calibration === null ? null : tracePlot(indication, calibration, style);
  const missing =
    indication.peak === null
      ? 'No picture of a trace: no capture shows this indication.'
      : 'No picture of a trace: these results do not hold it.';
  return html`${trace ?? html`<p class="soft">${missing}</p>`}${dynamicPlot(indication, style) ?? html`<p class="soft">No echo-dynamic: nothing was read.</p>`}`;
}

const decisions = { reflector: 'taken for a reflector', geometry: 'taken for geometry' } as const;

function factsOf(indication: Indication, style: FigureStyle): [label: string, value: Shown][] {
  const { peak, length, lengthAcross, amplitude, toCurve, rating, location, decided, taken } = indication;
  const mm = (known: Quantity | null | undefined) => (known == null ? '–' : expanded(known, style, 'length'));
  const db = (known: Quantity) => expanded(known, style, 'level');
  const bound = indication.peakIsLowerBound ? '≥ ' : '';
  const lengthBound = boundSign(length.atLeast ? 'at-least' : length.atMost ? 'at-most' : null);
  const place = location?.place ?? null;
  return [
    [
      'Decision',
      taken !== null
        ? decisions[taken]
        : decided
          ? 'taken up; not decided what it is'
          : 'proposed by its height; nobody decided',
    ],
    [
      'Along the weld',
      peak === null
        ? '–'
        : `highest at ${figureWords(figures.lengthMm(peak.positionMm, style), style)}; ${ends(indication, style)}`,
    ],
    ['Length', length.lengthMm === null ? `none: ${length.withoutLength}` : `${lengthBound}${mm(length.lengthMm)}`],
    [
      'Length across',
      lengthAcross.lengthMm === null
        ? `none: ${lengthAcross.withoutLength}`
        : `${boundSign(lengthAcross.atLeast ? 'at-least' : lengthAcross.atMost ? 'at-most' : null)}${mm(lengthAcross.lengthMm)}`,
    ],
    ['Sound path', `${mm(indication.soundPathMm)}${indication.leg === null ? '' : `, leg ${indication.leg}`}`],
    ['Depth', mm(indication.depthMm)],
    ['From the index', mm(indication.surfaceDistanceMm)],
    ...(place?.acrossMm == null ? [] : ([['Across', mm(place.acrossMm)]] as [string, Shown][])),
    [
      'Amplitude',
      peak?.amplitudePercent == null
        ? '–'
        : `${bound}${figureWords(figures.amplitudePercent(peak.amplitudePercent, style), style)} FSH${peak.gainDb === null ? ', gain not stated' : ` at ${formatNumber(peak.gainDb, 1)} dB`}`,
    ],
    [
      'To the reference',
      amplitude.held?.levelDb == null
        ? html`<strong>unreferenced</strong>: ${amplitude.unreferenced}`
        : `${bound}${db(amplitude.held.levelDb)}`,
    ],
    ...(toCurve === null
      ? []
      : ([
          [
            'To the curve',
            toCurve.held?.toCurveDb == null
              ? html`<strong>unreferenced</strong>: ${toCurve.unreferenced ?? toCurve.held?.remarks[0] ?? 'the curve says nothing at this path.'}`
              : `${bound}${db(toCurve.held.toCurveDb)}`,
          ],
        ] as [string, Shown][])),
    ...(rating === null
      ? indication.withoutRating === null
        ? []
        : ([['Rating', `none: ${indication.withoutRating}`]] as [string, Shown][])
      : ([['Rating (aid)', `${rating.atMost ? '≤ ' : ''}${db(rating.ratingDb)}`]] as [string, Shown][])),
    ['Shown by', peak === null ? '–' : given(peak.captureId)],
    ...(indication.notes === '' ? [] : ([['Notes', given(indication.notes)]] as [string, Shown][])),
  ];
}

function ends({ length: { low, high } }: Indication, style: FigureStyle): string {
  if (low === null || high === null) return 'its ends are not known';
  const [from, to] = [low, high].map(({ positionMm }) => figureWords(figures.lengthMm(positionMm, style), style));
  const open = [low.state !== 'crossed' && 'low end', high.state !== 'crossed' && 'high end'].filter(Boolean);
  return `from ${from} to ${to}${open.length === 0 ? '' : `; its ${open.join(' and its ')} ${open.length === 1 ? 'lies' : 'lie'} there or farther out`}`;
}

/** With the expanded uncertainty in words, so that it is not taken for a standard one. */
function expanded(known: Quantity, style: FigureStyle, kind: 'length' | 'level'): string {
  const write = kind === 'length' ? figures.lengthMm : figures.levelDb;
  const standard = write(known, style);
  const u = standard.standardUncertainty;
  const wide = { ...standard, standardUncertainty: u === null ? null : coverageFactor * u };
  return withMinus(`${figureWithUncertainty(wide, style)}${u === null ? '' : ' (k = 2)'}`);
}
