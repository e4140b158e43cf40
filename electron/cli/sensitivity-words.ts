import type { CaptureLookup } from '../../core/report/document.ts';
import { levelsInDb } from '../../core/sensitivity/evaluation-levels.ts';
import type { HeldReading, LevelOutcome } from '../../core/sensitivity/hold-against-curve.ts';
import type { NearField } from '../../core/sensitivity/near-field.ts';
import { heightAtReference } from '../../core/sensitivity/reference-level.ts';
import { spreadingOf } from '../../core/sensitivity/reflector-kind.ts';
import type { AttenuationResult, CurveResult, SensitivityResult } from '../../core/steps/sensitivity.ts';
import { decimalsFor, formatNumber, formatQuantity, unknown } from '../../core/units/format-quantity.ts';
import type { Quantity } from '../../core/units/quantity.ts';
import { left, printable, right, table } from './table.ts';

/** Reference level, curve, gain over distance, law, readings and attenuation as a person reads them. */
export function sensitivityWords(result: SensitivityResult, captures: CaptureLookup): string {
  const { nearField, curve, attenuation } = result;
  return [
    ...(nearField === null ? [] : [nearFieldWords(nearField)]),
    ...(curve === null ? [] : curveWords(curve, captures)),
    ...(attenuation === null ? [] : [attenuationWords(attenuation, captures)]),
  ].join('\n\n');
}

function nearFieldWords({ lengthMm, exactMm, lawsFromMm, wavelengthMm }: NearField): string {
  return `Near field ${formatNumber(lengthMm, 1)} mm (last maximum on the axis ${formatNumber(exactMm, 1)} mm; wavelength ${formatNumber(wavelengthMm, 3)} mm); laws of spreading hold from ${formatNumber(lawsFromMm, 1)} mm on`;
}

const fileOf = (captureId: string, captures: CaptureLookup): string => captures.get(captureId)?.file ?? captureId;

function curveWords(result: CurveResult, captures: CaptureLookup): string[] {
  const { reference, points, levels, remarks, doubts } = result;
  return [
    ...(reference === null ? [] : [referenceWords(result)]),
    ...(points.length === 0 ? [] : [`Points (${spreadingOf[result.kind].title})\n${pointsTable(result, captures)}`]),
    ...(result.curve === null
      ? []
      : [
          `Gain over distance, straight in ${straightWords[result.straightIn]} between the points\n${gainTable(result)}`,
        ]),
    lawWords(result),
    ...(levels === null ? [] : [levelWords(result)]),
    ...(result.readings.length === 0
      ? []
      : [`Readings against the curve${transferWords(result)}\n${readingsTable(result, captures)}`]),
    ...listed(
      'Doubts',
      doubts.map(({ sentence }) => sentence),
    ),
    ...listed('To be known', remarks),
  ];
}

const straightWords = { db: 'dB', percent: '% of full screen height' } as const;

function listed(title: string, sentences: readonly string[]): string[] {
  return sentences.length === 0 ? [] : [[title, ...sentences.map((sentence) => `  ${printable(sentence)}`)].join('\n')];
}

function referenceWords({ reference }: CurveResult): string {
  const { percent, gainDb, by } = reference!;
  const gain = gainDb === null ? 'at a gain that no capture states' : `at ${formatNumber(gainDb, 1)} dB`;
  const why = by === 'stated' ? 'as given' : 'where the highest point of the curve stands at that height';
  return `Reference level ${formatNumber(percent, 1)} % FSH ${gain}, ${why}`;
}

function pointsTable({ points }: CurveResult, captures: CaptureLookup): string {
  const columns = [
    right('distance mm'),
    right('gain dB'),
    right('% FSH'),
    right('level dB'),
    right('% at reference'),
    right('sound path mm'),
    left('near field'),
    left('capture'),
    right('others, dB below'),
    left('flags'),
  ];
  const rows = points.map((point) => [
    formatNumber(point.distanceMm, 2),
    formatNumber(point.gainDb, 1),
    formatNumber(point.amplitudePercent, 1),
    formatQuantity(point.levelDb, 2),
    formatQuantity(point.heightPercent, 1),
    formatQuantity(point.soundPathMm, 2),
    point.inNearField === true ? 'inside 3 N' : '',
    fileOf(point.captureId, captures),
    point.others.map(({ belowDb }) => formatNumber(belowDb, 1)).join(', '),
    point.flags.join(', '),
  ]);
  return table(columns, rows);
}

function gainTable({ timeCorrectedGain, reference }: CurveResult): string {
  const rows = timeCorrectedGain.map((row) => [
    formatNumber(row.distanceMm, 2),
    formatQuantity(row.curveLevelDb, 2),
    formatQuantity(heightAtReference(row.curveLevelDb, reference!), 1),
    formatQuantity(row.addedGainDb, 2),
    row.isPoint ? 'point' : '',
  ]);
  return table(
    [right('distance mm'), right('curve dB'), right('% at reference'), right('gain to add dB'), left('')],
    rows,
  );
}

/** dB per metre of travel, to its uncertainty's digits. */
function perMetre(dbPerMm: Quantity): string {
  const u = dbPerMm.standardUncertainty;
  return formatQuantity({ value: 1000 * dbPerMm.value, standardUncertainty: u === null ? null : 1000 * u }, 1);
}

function conventions(dbPerMm: Quantity): string {
  const u = dbPerMm.standardUncertainty;
  const decimals = decimalsFor(u, 4);
  return `${formatNumber(dbPerMm.value, decimals)} dB per mm that the sound travels, ${formatNumber(2 * dbPerMm.value, decimals)} dB per mm of one-way distance`;
}

function lawWords({ law, withoutLaw }: CurveResult): string {
  if (law === null) return `No attenuation law: ${withoutLaw}`;
  const half = law.attenuationHalfWidth95DbPerMm;
  const interval = half === null ? '' : `, 95 % interval ± ${formatNumber(1000 * half, decimalsFor(1000 * half, 1))}`;
  return [
    `Attenuation ${perMetre(law.attenuationDbPerMm)} dB/m of travel${interval}: ${conventions(law.attenuationDbPerMm)}`,
    `  spreading 1/path^${law.exponent} taken out, from ${formatNumber(law.fromMm, 2)} to ${formatNumber(law.toMm, 2)} mm; residuals ${law.points.map(({ residualDb }) => formatNumber(residualDb, 2)).join(', ')} dB (${law.degreesOfFreedom} degree${law.degreesOfFreedom === 1 ? '' : 's'} of freedom)`,
  ].join('\n');
}

function levelWords({ levels, decision }: CurveResult): string {
  const { title, clause, source } = levels!;
  const list = levelsInDb(levels!).map(({ name, db }) => `${name} ${formatNumber(db, 1)} dB`);
  const where = clause === 'none' ? '' : `, ${clause}`;
  const how = decision === 'simple-acceptance' ? ' (by the value alone, without its uncertainty)' : '';
  return `${printable(`Levels: ${title}${where}${how}: ${list.join('; ')}`)}\n  ${printable(source)}`;
}

function transferWords({ transferDb }: CurveResult): string {
  const { value, standardUncertainty } = transferDb;
  if (value === 0 && standardUncertainty === 0) return '';
  const words = standardUncertainty === 0 ? formatNumber(value, 1) : formatQuantity(transferDb, 1);
  return `, transfer correction ${words} dB added`;
}

const outcomeWords: Readonly<Record<LevelOutcome, string>> = {
  above: 'above',
  below: 'below',
  inconclusive: 'inconclusive',
  'not-assessed': 'not assessed',
};

function readingsTable({ readings, levels }: CurveResult, captures: CaptureLookup): string {
  const names = levels === null ? [] : levelsInDb(levels);
  const columns = [
    left('file'),
    left('trace'),
    left('gate'),
    right('sound path mm'),
    right('% FSH'),
    right('gain dB'),
    right('level dB'),
    right('dB to curve'),
    right('% of curve'),
    ...names.map(({ name }) => left(name)),
    left('flags'),
  ];
  const inFile = new Map<string, number>();
  for (const { file } of captures.values()) inFile.set(file, (inFile.get(file) ?? 0) + 1);
  const traceOf = (captureId: string): string => {
    const capture = captures.get(captureId);
    return capture !== undefined && (inFile.get(capture.file) ?? 0) > 1 ? capture.trace : '';
  };
  const rows = readings.map((reading) => [
    fileOf(reading.captureId, captures),
    traceOf(reading.captureId),
    reading.gate,
    formatQuantity(reading.soundPathMm, 2),
    bounded(reading, formatNumber(reading.amplitudePercent, 1)),
    formatNumber(reading.gainDb, 1),
    bounded(reading, formatQuantity(reading.levelDb, 1)),
    bounded(reading, formatQuantity(reading.toCurveDb, 1)),
    bounded(reading, formatQuantity(reading.percentOfCurve, 0)),
    ...reading.levels.map(({ outcome }) => outcomeWords[outcome]),
    reading.flags.join(', '),
  ]);
  const why = [...new Set(readings.flatMap((reading) => reading.remarks))].map((remark) => `  ${printable(remark)}`);
  return [table(columns, rows), ...why].join('\n');
}

function bounded({ atLeast }: HeldReading, text: string): string {
  return atLeast && text !== unknown ? `≥ ${text}` : text;
}

export function attenuationWords(result: AttenuationResult, captures: CaptureLookup): string {
  const { near, far, dropDb, spreadingDb, travelMm, attenuationDbPerMm, doubts, remarks } = result;
  const rows = [near, far].map((echo) => [
    formatNumber(echo.distanceMm, 2),
    formatNumber(echo.gainDb, 1),
    formatNumber(echo.amplitudePercent, 1),
    formatNumber(echo.timeUs, 3),
    fileOf(echo.captureId, captures),
    echo.flags.join(', '),
  ]);
  return [
    `Apparent attenuation ${perMetre(attenuationDbPerMm)} dB/m of travel: ${conventions(attenuationDbPerMm)}`,
    `  the far echo stands ${formatQuantity(dropDb, 2)} dB lower, ${formatNumber(spreadingDb, 2)} dB of it by spreading, over ${formatNumber(travelMm, 2)} mm further travel; losses at the surfaces are in it`,
    table(
      [right('distance mm'), right('gain dB'), right('% FSH'), right('time µs'), left('capture'), left('flags')],
      rows,
    ),
    ...listed(
      'Doubts',
      doubts.map(({ sentence }) => sentence),
    ),
    ...listed('To be known', remarks),
  ].join('\n');
}
