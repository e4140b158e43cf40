import { formulas } from '../../../formula.ts';
import type { Gate } from '../../../gate/gate.ts';
import { figures, figureWithUncertainty, figureWords } from '../../../origin/figure.ts';
import { isLowerBound, type ReadingColumn, type ReadingColumnId, readingColumns } from '../../readings-table.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { figure, flagNames, flagNotes, name, notes, type Section, table, words } from '../parts.ts';
import type { Report } from '../report-input.ts';

/** What stands in the table of the captures already, or says nothing to who reads the paper. */
const leftOut: ReadonlySet<ReadingColumnId> = new Set(['gain', 'taken', 'crossing']);

export function readingsSection(report: Report): Section | null {
  const { evaluation, review, style } = report;
  const result = evaluation.readings;
  if (result === null || review.readings === null) return null;
  const { beam, timing, gates } = review.readings;
  const flags = result.readings.flatMap((reading) => reading.flags);
  return {
    id: 'readings',
    title: 'Readings',
    body: html`${table(
      'Gates',
      [words('Gate'), words('From'), words('To'), figure('Threshold')],
      gates.map((gate) => [gate.name, ...spanWords(gate, report), `${gate.thresholdPercent} % FSH`]),
    )}<p>Timed by the ${timing}${
      beam !== null &&
      html`; beam at ${figureWords(figures.angleDeg(beam.angleDeg, style), style)}${beam.thicknessMm !== null && html`, thickness ${figureWords(figures.statedMm(beam.thicknessMm, style), style)}`}`
    }. Formula: ${formulas['sound-path'].text}. Uncertainties are standard ones (k = 1).</p>
${readings(report)}${series(report)}${flagNotes(flags)}`,
  };
}

function spanWords({ span }: Gate, { style }: Report): [string, string] {
  return span.axis === 'time'
    ? [`${span.fromUs} µs`, `${span.toUs} µs`]
    : [
        figureWords(figures.statedMm(span.fromMm, style), style),
        figureWords(figures.statedMm(span.toMm, style), style),
      ];
}

function readings({ evaluation, captures, style }: Report): Markup {
  const rows = evaluation.readings?.readings ?? [];
  const gates = new Set(rows.map((reading) => reading.gate));
  const columns = readingColumns(rows, captures, style).filter(
    ({ id }) => !leftOut.has(id) && (id !== 'gate' || gates.size > 1),
  );
  const files = new Set(rows.map((reading) => captures.get(reading.captureId)?.file));
  const [file] = files.size === 1 ? [...files] : [];
  const cell = (column: ReadingColumn, reading: (typeof rows)[number]): Shown => {
    const capture = captures.get(reading.captureId);
    if (column.id === 'capture') return file !== undefined && capture !== undefined ? capture.trace : reading.captureId;
    if (column.id === 'flags') return flagNames(reading.flags);
    if (column.unit === null) return String(column.order(reading, capture) ?? '');
    const known = column.figure(reading, capture);
    if (known === null) return column.id === 'position' ? null : '–';
    const text = figureWithUncertainty({ ...known, unit: '' }, style);
    return column.id === 'amplitude' && isLowerBound(reading) ? `≥ ${text}` : text;
  };
  return table(
    file === undefined ? 'Readings' : `Readings in ${file}, by trace`,
    columns.map(({ id, name: head, unit }) => {
      if (id === 'capture') return name(head);
      return unit === null ? words(head) : figure(unit === '' ? head : `${head} (${unit})`);
    }),
    rows.map((reading) => columns.map((column) => cell(column, reading))),
  );
}

function series({ evaluation, style }: Report): Markup | null {
  const all = evaluation.readings?.series ?? [];
  if (all.length === 0) return null;
  const doubts = all.flatMap(({ gate, doubts: found }) =>
    found.map((doubt) => html`Gate <bdi>${gate}</bdi>: ${doubt}`),
  );
  return html`${table(
    'Series: the captures of one reflector, held against their peak',
    [
      words('Gate'),
      figure('Captures'),
      figure('Peak'),
      figure('At position'),
      words('Peak from'),
      figure('Range of sound paths'),
    ],
    all.map(({ gate, captures, peak, pathRangeMm }) => [
      gate,
      String(captures.length),
      peak === null
        ? '–'
        : `${peak.isLowerBound ? '≥ ' : ''}${figureWords(figures.amplitudePercent(peak.amplitudePercent, style), style)}`,
      peak?.positionMm == null ? null : figureWords(figures.lengthMm(peak.positionMm, style), style),
      peak === null ? null : peak.method === 'parabola' ? 'parabola through the heights in dB' : 'highest reading',
      pathRangeMm === null ? null : figureWords(figures.lengthMm(pathRangeMm, style), style),
    ]),
  )}${notes(doubts)}`;
}
