import type { DampedEcho, DampingComparison } from '../../../compare/damping.ts';
import { figures, figureWithUncertainty, figureWords } from '../../../origin/figure.ts';
import type { ProbeCheckResult, ProbeFigure } from '../../../probe-check/probe-checks.ts';
import type { BeamInNumbers, Expectation, LocatedReading, LocationResult } from '../../../steps/locate.ts';
import { unitSign } from '../../../units/figure-style.ts';
import { formatNumber, formatQuantity } from '../../../units/format-quantity.ts';
import type { Quantity } from '../../../units/quantity.ts';
import { standingOf } from '../../location-table.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { figure, flagNotes, given, name, notes, type Section, table, verdictMark, withMinus, words } from '../parts.ts';
import type { Report } from '../report-input.ts';
import { sectionDrawings } from './section-drawings.ts';

/** Where the readings lie in the part, and what the part's own shape sends back. */
export function locationSection(report: Report): Section | null {
  const { evaluation, review } = report;
  const result = evaluation.location;
  if (result === null || review.part === null) return null;
  return {
    id: 'location',
    title: 'Location in the part',
    body: html`${result.beam !== null && beamWords(result.beam, report)}${sectionDrawings(report)}${readings(result, report)}${expectations(result, report)}${result.damping.map((comparison) => damping(comparison, report))}${result.checks !== null && probeChecks(result.checks, report)}${notes(
      result.warnings.map(({ place, sentence }) => html`${given(place.file)}: ${sentence}`),
    )}`,
  };
}

const length = (mm: Quantity | number, { style }: Report): string =>
  withMinus(figureWithUncertainty(figures.lengthMm(mm, style), style));
/** Under a head that has the unit. */
const bare = (mm: Quantity | null | undefined, { style }: Report): string =>
  mm == null ? '–' : figureWithUncertainty({ ...figures.lengthMm(mm, style), unit: '' }, style);
const degrees = (deg: Quantity | number, { style }: Report): string =>
  figureWithUncertainty(figures.measuredAngleDeg(deg, style), style);

function beamWords(beam: BeamInNumbers, report: Report): Markup {
  const { skips, edgesMinus6Db, edgesMinus20Db, nearField, incidenceDeg, velocityMPerS } = beam;
  const spread = (db: 6 | 20, edges: BeamInNumbers['edgesMinus6Db']) =>
    edges &&
    `−${db} dB edges (pulse-echo, round element) at ${degrees(edges.steepestDeg, report)} and ${degrees(edges.flattestDeg, report)}`;
  const parts = [
    `Beam at ${degrees(beam.angleDeg, report)}${velocityMPerS === null ? '' : `, ${figureWords(figures.velocityMPerS(velocityMPerS, report.style), report.style)} in the part`}`,
    incidenceDeg === null ? null : `${degrees(incidenceDeg, report)} in the wedge`,
    skips === null
      ? null
      : `leg ${length(skips.legMm, report)}, half skip ${length(skips.halfSkipMm, report)}, skip ${length(skips.skipMm, report)}, V-path ${length(skips.vPathMm, report)}`,
    spread(6, edgesMinus6Db),
    spread(20, edgesMinus20Db),
    nearField === null ? null : `near field ${length(nearField.lengthMm, report)}, counted from the element`,
  ].filter((part) => part !== null);
  return html`<p>${parts.join('; ')}. Uncertainties are standard ones (k = 1).</p>
`;
}

/** Readings that lie in the part; those without a place are told in a sentence, by reason. */
function readings({ readings: all }: LocationResult, report: Report): Markup {
  const placed = all.filter(({ place }) => place !== null);
  const reasons = new Map<string, number>();
  for (const { place, without } of all)
    if (place === null && without !== null) reasons.set(without, (reasons.get(without) ?? 0) + 1);
  const gates = new Set(all.map(({ gate }) => gate));
  const files = new Set(placed.map(({ captureId }) => report.captures.get(captureId)?.file));
  const [file] = files.size === 1 ? [...files] : [];
  const mm = unitSign('length', report.style);
  const remarks = new Set(
    placed.flatMap(({ place, geometry }) => [...(place?.remarks ?? []), ...geometry.map(({ sentence }) => sentence)]),
  );
  return html`${
    placed.length > 0 &&
    table(
      `Where the readings${file === undefined ? '' : ` of ${file}`} lie (${mm}); ‘across’ counts from the weld’s middle`,
      [
        name('Capture'),
        words('Gate'),
        figure('Along'),
        figure('Sound path'),
        figure('Leg'),
        figure('Depth'),
        figure('From the index'),
        figure('From the front'),
        figure('Across'),
        words('What it is'),
      ],
      placed.map((one) => locatedRow(one, file !== undefined, gates.size > 1, report)),
    )
  }${notes([...[...reasons].map(([reason, count]) => `${count} of ${all.length} readings ${count === 1 ? 'has' : 'have'} no place: ${reason}.`), ...remarks])}${flagNotes(
    placed.flatMap(({ flags }) => flags.filter((flag) => flag === 'geometry-expected')),
  )}`;
}

function locatedRow(one: LocatedReading, byTrace: boolean, withGate: boolean, report: Report): Shown[] {
  const { place } = one;
  return [
    byTrace ? (report.captures.get(one.captureId)?.trace ?? one.captureId) : one.captureId,
    withGate && one.gate,
    one.alongWeldMm === null ? null : bareStated(one.alongWeldMm, report),
    bare(one.soundPathMm, report),
    place === null ? null : String(place.leg),
    bare(place?.depthMm, report),
    bare(place?.surfaceDistanceMm, report),
    place?.fromFrontMm == null ? null : bare(place.fromFrontMm, report),
    place?.acrossMm == null ? null : bare(place.acrossMm, report),
    standingOf(one),
  ];
}

function bareStated(mm: number, { style }: Report): string {
  return figureWords({ ...figures.statedMm(mm, style), unit: '' }, style);
}

/** What the part's own shape should show, for each place of the probe. */
function expectations({ expected }: LocationResult, report: Report): Markup | null {
  const found = expected.filter(({ echoes }) => echoes.length > 0);
  return found.length === 0
    ? null
    : html`<h3>Geometry expected</h3>
<p>Echoes that the part’s own shape should send back within the beam’s −20 dB edges, on straight rays. How high they stand is not predicted, and a flaw there shows at the same path.</p>
${found.slice(0, mostExpectations).map((one) => expectationTable(one, report))}${
  found.length > mostExpectations &&
  html`<p>${found.length - mostExpectations} more places of the probe are not listed here; the results as a document hold them.</p>
`
}`;
}

/** A scan away from the weld has another place of the probe for each capture. */
const mostExpectations = 6;

function expectationTable({ captures, probe, echoes }: Expectation, report: Report): Markup {
  const more = captures.length > 1 ? ` and ${captures.length - 1} more` : '';
  const where =
    probe === null
      ? ''
      : `, index point ${length({ value: probe.offsetMm, standardUncertainty: probe.uOffsetMm }, report)} from the weld’s middle, on the ${probe.side}`;
  return table(
    `Seen from ${captures[0]}${more}${where}`,
    [words('Geometry'), figure('Leg'), figure('Sound path'), figure('Angle of the ray')],
    echoes.map((echo) => [echo.name, String(echo.leg), length(echo.pathMm, report), degrees(echo.angleDeg, report)]),
  );
}

const outcomeWords: Readonly<Record<DampedEcho['outcome'], string>> = {
  changed: 'changed',
  unchanged: 'unchanged',
  gone: 'gone',
  new: 'new',
  'not-known': 'not known',
};

function damping(
  { before, after, echoes, commonDb, commonShiftUs, remarks }: DampingComparison,
  report: Report,
): Markup {
  const { style } = report;
  const time = (echo: DampedEcho['before']) =>
    echo === null ? '–' : figureWords(figures.timeUs(echo.timeUs, style), style);
  const height = (echo: DampedEcho['before']) =>
    echo === null ? '–' : figureWords(figures.amplitudePercent(echo.amplitudePercent, style), style);
  return html`<h3>Damping test</h3>
<p>${given(before)}, then ${given(after)} with a surface damped: an echo that comes from there falls or moves, what lies inside stays (common practice).${commonDb !== null && ` All echoes share ${withMinus(formatNumber(commonDb, 2))} dB${commonShiftUs === null ? '' : ` and ${withMinus(formatNumber(commonShiftUs, 4))} µs`}, which are taken out.`}</p>
${table(
  'Echoes before and after; uncertainties are standard ones (k = 1)',
  [
    figure('Before'),
    figure('Height'),
    figure('After'),
    figure('Height'),
    figure('Change'),
    figure('Shift'),
    words('Outcome'),
    words('In words'),
  ],
  echoes.map((echo) => [
    time(echo.before),
    height(echo.before),
    time(echo.after),
    height(echo.after),
    echo.changeDb === null ? '–' : `${echo.outcome === 'gone' ? '≤ ' : ''}${formatQuantity(echo.changeDb, 1)} dB`,
    echo.shiftMm === null ? '–' : figureWithUncertainty(figures.residualMm(echo.shiftMm, style), style),
    outcomeWords[echo.outcome],
    echo.sentence,
  ]),
)}${notes(remarks)}`;
}

function probeChecks({ rule, indexToFrontMm, angleDeg, elsewhere, remarks }: ProbeCheckResult, report: Report): Markup {
  const row = (what: string, known: ProbeFigure | null, write: (value: Quantity | number) => string) =>
    known === null
      ? []
      : [
          [
            what,
            write(known.measured),
            known.stated === null ? '–' : write(known.stated),
            known.deviation === null ? '–' : write(known.deviation),
            known.limits === null ? '–' : `± ${write(known.limits.upper)}`,
            known.verdict === null ? 'not judged' : verdictMark(known.verdict.outcome),
          ] satisfies Shown[],
        ];
  const mm = (value: Quantity | number) => length(value, report);
  const deg = (value: Quantity | number) => degrees(value, report);
  return html`<h3>Checks of the probe</h3>
${table(
  'Measured on the block, against what is stated; uncertainties are standard ones (k = 1)',
  [words('Figure'), figure('Measured'), figure('Stated'), figure('Deviation'), figure('Limit'), words('Verdict')],
  [
    ...row('Index point behind the front of the wedge', indexToFrontMm, mm),
    ...row('Refracted angle', angleDeg, deg),
    ...row(
      'Angle expected elsewhere (Snell’s law)',
      elsewhere === null || elsewhere.kind === 'none' ? null : elsewhere.against,
      deg,
    ),
  ],
)}${
  rule !== null &&
  html`<p>Rule <strong>${rule.title}</strong>, ${rule.edition}, ${rule.clause}. <span class="soft">${rule.source}</span></p>
`
}${notes([...(elsewhere?.kind === 'none' ? [elsewhere.reason] : []), ...remarks])}`;
}
