import type { DampingComparison } from '../../core/compare/damping.ts';
import { limitsShown, verdictFigure } from '../../core/origin/decision-in-numbers.ts';
import { figures, figureWithUncertainty } from '../../core/origin/figure.ts';
import { verdictWords } from '../../core/origin/verdict-words.ts';
import type { ProbeCheckResult, ProbeFigure } from '../../core/probe-check/probe-checks.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import type { BeamInNumbers, Expectation, LocatedReading, LocationResult } from '../../core/steps/locate.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import { formatNumber, formatQuantity, unknown } from '../../core/units/format-quantity.ts';
import { left, printable, right, table } from './table.ts';

/** Where each reading lies, what the part's own shape shows there, and what damping changed, as a person reads it. */
export function locationWords(result: LocationResult, captures: CaptureLookup): string {
  const parts = [
    ...(result.beam === null ? [] : [beamWords(result.beam)]),
    readingsTable(result.readings, captures),
    ...readingRemarks(result.readings, captures),
    ...result.expected.filter(({ echoes }) => echoes.length > 0).map((one) => expectedWords(one, captures)),
    ...result.damping.map((comparison) => dampingWords(comparison, captures)),
    ...(result.checks === null ? [] : [probeCheckWords(result.checks)]),
  ];
  return parts.join('\n\n');
}

function beamWords({ angleDeg, skips, edgesMinus6Db, edgesMinus20Db, nearField, incidenceDeg }: BeamInNumbers): string {
  const length = (mm: number) => `${formatNumber(mm, 2)} mm`;
  const lines = [
    `Beam at ${formatQuantity(angleDeg, 1)}°`,
    ...(incidenceDeg === null ? [] : [`in the wedge at ${formatNumber(incidenceDeg, 2)}°`]),
    ...(skips === null
      ? []
      : [
          `leg ${length(skips.legMm)}, half skip ${length(skips.halfSkipMm)}, skip ${length(skips.skipMm)}, V-path ${length(skips.vPathMm)}`,
        ]),
    ...(edgesMinus6Db === null
      ? []
      : [
          `−6 dB from ${formatNumber(edgesMinus6Db.steepestDeg, 1)}° to ${formatNumber(edgesMinus6Db.flattestDeg, 1)}°`,
        ]),
    ...(edgesMinus20Db === null
      ? []
      : [
          `−20 dB from ${formatNumber(edgesMinus20Db.steepestDeg, 1)}° to ${formatNumber(edgesMinus20Db.flattestDeg, 1)}°`,
        ]),
    ...(nearField === null ? [] : [`near field ${length(nearField.lengthMm)}`]),
  ];
  return lines.join('; ');
}

function nameOf(captureId: string, captures: CaptureLookup): [file: string, trace: string] {
  const capture = captures.get(captureId);
  if (capture === undefined) return [captureId, ''];
  const ofFile = [...captures.values()].filter(({ file }) => file === capture.file).length;
  return [capture.file, ofFile > 1 ? capture.trace : ''];
}

function readingsTable(readings: readonly LocatedReading[], captures: CaptureLookup): string {
  const columns = [
    left('file'),
    left('trace'),
    left('gate'),
    right('along mm'),
    right('sound path mm'),
    right('% FSH'),
    right('leg'),
    right('depth mm'),
    right('from index mm'),
    right('from front mm'),
    right('across mm'),
    right('ellipse mm (k = 2)'),
    left('geometry expected here'),
    left('flags'),
  ];
  const rows = readings.map(({ place, ...reading }) => [
    ...nameOf(reading.captureId, captures),
    reading.gate,
    formatNumber(reading.alongWeldMm, 1),
    formatQuantity(reading.soundPathMm, 2),
    formatNumber(reading.amplitudePercent, 1),
    place === null ? unknown : String(place.leg),
    formatQuantity(place?.depthMm ?? null, 2),
    formatQuantity(place?.surfaceDistanceMm ?? null, 2),
    formatQuantity(place?.fromFrontMm ?? null, 2),
    formatQuantity(place?.acrossMm ?? null, 2),
    place?.ellipse
      ? `${formatNumber(place.ellipse.semiMajorMm, 2)} × ${formatNumber(place.ellipse.semiMinorMm, 2)} at ${formatNumber(place.ellipse.tiltDeg, 0)}°`
      : unknown,
    `${reading.geometry[0]?.expected.name ?? ''}${reading.taken === null ? '' : ` (taken for ${reading.taken})`}`,
    reading.flags.filter((flag) => flag !== 'geometry-expected').join(', '),
  ]);
  return table(columns, rows);
}

/** What must be said of single readings; the same sentence of several is said once. */
function readingRemarks(readings: readonly LocatedReading[], captures: CaptureLookup): string[] {
  const said = new Map<string, string[]>();
  for (const { captureId, gate, place, without, geometry } of readings) {
    const where = [...nameOf(captureId, captures), gate].filter((word) => word !== '').join(' ');
    const sentences = [
      ...(without === null ? [] : [`Not placed: ${without}.`]),
      ...(place?.remarks ?? []),
      ...geometry.slice(0, 1).map(({ sentence }) => sentence),
    ];
    for (const sentence of sentences) said.set(sentence, [...(said.get(sentence) ?? []), where]);
  }
  if (said.size === 0) return [];
  const lines = [...said].map(([sentence, where]) =>
    printable(`  ${where[0]}${where.length > 1 ? ` and ${where.length - 1} more` : ''}: ${sentence}`),
  );
  return [`Remarks\n${lines.join('\n')}`];
}

function expectedWords({ captures: ids, probe, echoes }: Expectation, captures: CaptureLookup): string {
  const [first] = ids.map((id) =>
    nameOf(id, captures)
      .filter((word) => word !== '')
      .join(' '),
  );
  const more = ids.length > 1 ? ` and ${ids.length - 1} more` : '';
  const place =
    probe === null ? '' : `, index point ${formatNumber(probe.offsetMm, 1)} mm from the middle, on the ${probe.side}`;
  const rows = echoes.map(({ name, leg, pathMm, angleDeg }) => [
    name,
    String(leg),
    formatQuantity(pathMm, 2),
    formatNumber(angleDeg, 1),
  ]);
  const columns = [left('geometry expected'), right('leg'), right('sound path mm'), right('angle °')];
  return `${printable(`The part’s own shape, seen from ${first}${more}${place}`)}\n${table(columns, rows)}`;
}

function dampingWords(
  { before, after, commonDb, commonShiftUs, echoes, remarks }: DampingComparison,
  captures: CaptureLookup,
): string {
  const name = (id: string) =>
    nameOf(id, captures)
      .filter((word) => word !== '')
      .join(' ');
  const rows = echoes.map(({ before: was, after: is, changeDb, shiftMm, sentence }) => [
    formatNumber(was?.timeUs ?? null, 3),
    formatNumber(was?.amplitudePercent ?? null, 1),
    formatNumber(is?.timeUs ?? null, 3),
    formatNumber(is?.amplitudePercent ?? null, 1),
    formatQuantity(changeDb, 1),
    formatQuantity(shiftMm, 2),
    sentence,
  ]);
  const columns = [
    right('before µs'),
    right('% FSH'),
    right('after µs'),
    right('% FSH'),
    right('change dB'),
    right('shift mm'),
    left('what became of it'),
  ];
  const common =
    commonDb === null || commonShiftUs === null
      ? []
      : [`All echoes share ${formatNumber(commonDb, 2)} dB and ${formatNumber(commonShiftUs, 4)} µs, taken out.`];
  return [
    printable(`Damped: ${name(before)}, then ${name(after)}`),
    table(columns, rows),
    ...common,
    ...remarks.map(printable),
  ].join('\n');
}

/** Index point and angles of the probe against their rule. */
export function probeCheckWords({ rule, indexToFrontMm, angleDeg, elsewhere, remarks }: ProbeCheckResult): string {
  const row = (name: string, figure: ProbeFigure, unit: 'mm' | '°') => {
    const shown = (known: ProbeFigure['deviation']) =>
      figureWithUncertainty(known && verdictFigure({ measured: known, unit }, metricStyle), metricStyle);
    return [
      name,
      shown(figure.measured),
      figure.stated === null
        ? unknown
        : figureWithUncertainty(
            unit === 'mm' ? figures.statedMm(figure.stated, metricStyle) : figures.angleDeg(figure.stated, metricStyle),
            metricStyle,
          ),
      shown(figure.deviation),
      figure.limits === null ? unknown : limitsShown(figure.limits, unit, metricStyle),
      figure.verdict === null ? 'no verdict' : verdictWords[figure.verdict.outcome],
    ];
  };
  const rows = [
    ...(indexToFrontMm === null ? [] : [row('index point to front', indexToFrontMm, 'mm')]),
    ...(angleDeg === null ? [] : [row('angle', angleDeg, '°')]),
    ...(elsewhere?.against ? [row('expected angle', elsewhere.against, '°')] : []),
  ];
  const columns = [
    left('probe'),
    right('measured'),
    right('stated'),
    right('deviation'),
    left('allowed'),
    left('verdict'),
  ];
  const lines = [
    rule === null ? 'Checks of the probe, without a rule' : printable(`Checks of the probe: ${rule.title}`),
    ...(rows.length === 0 ? [] : [table(columns, rows)]),
    ...(elsewhere?.kind === 'none' ? [printable(`Expected angle: ${elsewhere.reason}.`)] : []),
    ...remarks.map(printable),
  ];
  return lines.join('\n');
}
