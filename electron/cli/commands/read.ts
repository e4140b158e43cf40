import { type Gate, gateProblems, type Timing } from '../../../core/gate/gate.ts';
import { defaultOffPeakDb } from '../../../core/gate/off-peak.ts';
import type { Reading } from '../../../core/gate/reading.ts';
import { type Problem, problem } from '../../../core/outcome.ts';
import { beamProblems } from '../../../core/part/sound-path.ts';
import { type CaptureLookup, captureLookup, echoesDocument, readingsDocument } from '../../../core/report/document.ts';
import type { ReadingDecision } from '../../../core/review/review.ts';
import { mixedTiming } from '../../../core/steps/mixed-timing.ts';
import { concludeReadings, planForReadings, type ReadingResult } from '../../../core/steps/read.ts';
import { formatNumber, formatQuantity, unknown } from '../../../core/units/format-quantity.ts';
import { type Answer, flagLegend, refuseUnless, trustworthy, warningLines } from '../answer.ts';
import { examineFiles } from '../examine-files.ts';
import { gather } from '../gather.ts';
import { type CommonOptions, conditioningFrom } from '../options.ts';
import { Refusal, refuseArgument } from '../refusal.ts';
import { left, printable, right, table } from '../table.ts';

export interface ReadOptions extends CommonOptions {
  calibration?: string;
  gate?: readonly Gate[];
  timing?: Timing;
  angle?: number;
  angleUncertainty?: number;
  thickness?: number;
  offPeak?: number;
  separate?: boolean;
  echoesAbove?: number;
}

/** Reads every gate in every capture, and holds the captures of one reflector against one another. */
export async function read(words: readonly string[], options: ReadOptions): Promise<Answer> {
  const opened =
    options.calibration === undefined
      ? null
      : (await import('../opened-calibration.ts')).openedCalibration(options.calibration);
  const given = opened?.given ?? null;
  const timing = options.timing ?? given?.timing ?? 'peak';
  const decision = decisionFrom(options, timing, given !== null);
  const gathered = await gather(words, options);
  const review = {
    conditioning: conditioningFrom(options),
    echoes:
      options.echoesAbove === undefined
        ? null
        : { captures: [], abovePercent: options.echoesAbove, fromUs: null, toUs: null },
  };
  const plan = planForReadings(review, decision, opened?.calibration ?? null);
  const examined = await examineFiles({ ...gathered, plan }, options.jobs ?? null);
  const problems = [...gathered.problems, ...examined.problems];
  refuseUnless(examined.examinations.length > 0, problems);

  const result = concludeReadings(decision, examined.examinations);
  const captures = captureLookup(examined.examinations.map((e) => e.capture));
  const warnings = [...gathered.warnings, ...mixedWith(given, timing), ...examined.warnings];
  const settings = {
    timing,
    gates: decision.gates,
    beam: decision.beam,
    series: decision.series,
    conditioning: review.conditioning,
  };
  return {
    document: {
      ...readingsDocument(result, captures),
      ...(review.echoes !== null && echoesDocument(examined.examinations)),
      settings,
      warnings: warningLines(warnings),
    },
    words: () => readingWords(result, captures) + flagLegend(result.readings.flatMap((reading) => reading.flags)),
    trusted: trustworthy(result.readings.flatMap((reading) => reading.flags)),
    problems,
    warnings,
  };
}

function mixedWith(given: { readonly file: string; readonly timing: Timing } | null, timing: Timing): Problem[] {
  const sentence = mixedTiming(given?.timing ?? null, timing);
  return given === null || sentence === null ? [] : [problem('mixed-timing', { file: given.file }, sentence)];
}

function decisionFrom(options: ReadOptions, timing: Timing, calibrated: boolean): ReadingDecision {
  const gates = options.gate ?? [];
  if (gates.length === 0) refuseArgument('--gate', 'give at least one gate, as in --gate weld=20mm..80mm@30');
  const faults = gateProblems(gates, '--gate');
  if (faults.length > 0) throw new Refusal(faults);
  const inPath = gates.find((gate) => gate.span.axis === 'path');
  if (inPath !== undefined && !calibrated) {
    refuseArgument(
      '--gate',
      `gate "${inPath.name}" is in sound path and there is no calibration; give --calibration CAL.json, or the gate in time`,
    );
  }
  if (options.thickness !== undefined && options.angle === undefined)
    refuseArgument('--thickness', 'a thickness needs the beam’s --angle');
  const beam = options.angle === undefined ? null : { angleDeg: options.angle, thicknessMm: options.thickness ?? null };
  const beamFaults = beam === null ? [] : beamProblems(beam, '--angle');
  if (beamFaults.length > 0) throw new Refusal(beamFaults);
  return {
    captures: [],
    gates: [...gates],
    timing,
    beam,
    uAngleDeg: options.angleUncertainty ?? null,
    series: options.separate === true ? null : { offPeakDb: options.offPeak ?? defaultOffPeakDb },
  };
}

export function readingWords(result: ReadingResult, captures: CaptureLookup): string {
  const inFile = new Map<string, number>();
  for (const { file } of captures.values()) inFile.set(file, (inFile.get(file) ?? 0) + 1);
  const row = (reading: Reading): string[] => {
    const capture = captures.get(reading.captureId);
    return [
      capture?.file ?? reading.captureId,
      capture !== undefined && (inFile.get(capture.file) ?? 0) > 1 ? capture.trace : '',
      formatNumber(capture?.positionMm ?? null, 2),
      reading.gate,
      formatNumber(reading.timeUs?.value ?? null, 3),
      formatQuantity(reading.soundPathMm, 2),
      `${reading.flags.includes('saturated') ? '≥ ' : ''}${formatNumber(reading.amplitudePercent, 1)}`,
      formatQuantity(reading.depthMm, 2),
      formatQuantity(reading.surfaceDistanceMm, 2),
      reading.leg === null ? unknown : String(reading.leg),
      formatNumber(reading.belowPeakDb, 1),
      reading.flags.join(', '),
    ];
  };
  const columns = [
    left('file'),
    left('trace'),
    right('position mm'),
    left('gate'),
    right('time µs'),
    right('sound path mm'),
    right('% FSH'),
    right('depth mm'),
    right('surface mm'),
    right('leg'),
    right('dB below peak'),
    left('flags'),
  ];
  const rows = inOrderOfPosition(result.readings, captures).map(row);
  const series = result.series.flatMap(seriesWords);
  return [table(columns, rows), ...(series.length > 0 ? ['', ...series] : [])].join('\n');
}

/** A series is read along the scan; without a position for every capture the order given stands. */
function inOrderOfPosition(readings: readonly Reading[], captures: CaptureLookup): readonly Reading[] {
  const positionOf = (reading: Reading): number | null => captures.get(reading.captureId)?.positionMm ?? null;
  if (readings.some((reading) => positionOf(reading) === null)) return readings;
  return readings.toSorted((a, b) => positionOf(a)! - positionOf(b)!);
}

function seriesWords({ gate, peak, doubts }: ReadingResult['series'][number]): string[] {
  const words = doubts.map((doubt) => printable(`Gate ${gate}: ${doubt}`));
  if (peak === null) return words;
  const gain = peak.referenceGainDb === null ? '' : ` at ${formatNumber(peak.referenceGainDb, 1)} dB`;
  const position = peak.positionMm === null ? '' : `, at position ${formatNumber(peak.positionMm, 2)} mm`;
  const what = peak.method === 'parabola' ? 'fitted peak' : 'highest reading';
  return [
    `Gate ${printable(gate)}: ${what} ${formatNumber(peak.amplitudePercent, 1)} % FSH${gain}${position}`,
    ...words,
  ];
}
