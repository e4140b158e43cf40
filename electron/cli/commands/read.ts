import { type Gate, gateProblems, type Timing } from '../../../core/gate/gate.ts';
import { defaultOffPeakDb } from '../../../core/gate/off-peak.ts';
import type { Reading } from '../../../core/gate/reading.ts';
import { type Problem, problem } from '../../../core/outcome.ts';
import { beamProblems } from '../../../core/part/sound-path.ts';
import {
  type CaptureLookup,
  captureLookup,
  echoesDocument,
  readingDocument,
  readingsDocument,
} from '../../../core/report/document.ts';
import type { ReadingDecision } from '../../../core/review/review.ts';
import type { Plan } from '../../../core/steps/examine.ts';
import { mixedTiming } from '../../../core/steps/mixed-timing.ts';
import { concludeReadings, planForReadings, type ReadingResult } from '../../../core/steps/read.ts';
import { formatNumber, formatQuantity, unknown } from '../../../core/units/format-quantity.ts';
import { trustworthy } from '../answer.ts';
import { eachInput, type InputWork } from '../each-input.ts';
import { examineFiles } from '../examine-files.ts';
import { gather } from '../gather.ts';
import { type LargeJobOptions, mannerFrom, writtenAs } from '../large-job.ts';
import { conditioningFrom } from '../options.ts';
import { Refusal, refuseArgument } from '../refusal.ts';
import { type Addition, type Ending, inPieces, type StreamedAnswer } from '../streamed-answer.ts';
import { left, printable, right, table } from '../table.ts';

export interface ReadOptions extends LargeJobOptions {
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
export async function read(words: readonly string[], options: ReadOptions): Promise<StreamedAnswer> {
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
  const work = { ...gathered, wanted: { kind: 'examinations', plan } } as const;
  const settings = {
    timing,
    gates: decision.gates,
    beam: decision.beam,
    series: decision.series,
    conditioning: review.conditioning,
  };
  // Readings that are not held against one another are told as they come; a table is put in order of position, so that it waits for all.
  const isApart = decision.series === null && review.echoes === null && writtenAs(options) !== 'words';
  const told = isApart ? apart(work, options) : await together({ ...work, plan }, options, decision);
  return {
    list: 'readings',
    element: 'reading',
    columns,
    noRows: '',
    problems: gathered.problems,
    warnings: [...gathered.warnings, ...mixedWith(given, timing)],
    additions: told.additions,
    end() {
      const { document, words: below, trusted } = told.end();
      return { document: { ...document, settings }, words: below, trusted, warnings: [], problems: [] };
    },
  };
}

interface Told {
  readonly additions: AsyncIterable<Addition>;
  readonly end: () => Pick<Ending, 'document' | 'words' | 'trusted'>;
}

/** Each capture for itself. */
function apart(work: InputWork, options: ReadOptions): Told {
  const all = eachInput(work, mannerFrom(options, work));
  let trusted = true;
  async function* additions(): AsyncGenerator<Addition> {
    for await (const { examinations, warnings, problems } of all) {
      const captures = captureLookup(examinations.map((e) => e.capture));
      const readings = examinations.flatMap((e) => e.readings);
      trusted &&= readings.every(({ flags }) => trustworthy(flags));
      yield {
        elements: readings.map((reading) => readingDocument(reading, captures)),
        rows: () => [],
        flags: [],
        warnings,
        problems,
        isUsable: examinations.length > 0,
      };
    }
  }
  return { additions: additions(), end: () => ({ document: { series: [] }, words: '', trusted }) };
}

/** All that was read is kept until the peak of the series is known. */
async function together(
  work: InputWork & { readonly plan: Plan },
  options: ReadOptions,
  decision: ReadingDecision,
): Promise<Told> {
  const { jobs, job } = mannerFrom(options, work);
  const { examinations, warnings, problems } = await examineFiles(work, jobs, job);
  const result = concludeReadings(decision, examinations);
  const captures = captureLookup(examinations.map((e) => e.capture));
  async function* additions(): AsyncGenerator<Addition> {
    yield { elements: [], rows: () => [], flags: [], warnings, problems, isUsable: examinations.length > 0 };
    const inOrder = writtenAs(options) === 'words' ? inOrderOfPosition(result.readings, captures) : result.readings;
    const rowOf = rowWriter(captures);
    for (const readings of inPieces(inOrder))
      yield {
        elements: readings.map((reading) => readingDocument(reading, captures)),
        rows: () => readings.map(rowOf),
        flags: readings.flatMap((reading) => reading.flags),
        warnings: [],
        problems: [],
        isUsable: true,
      };
  }
  const series = result.series.flatMap(seriesWords);
  return {
    additions: additions(),
    end: () => ({
      document: {
        series: readingsDocument({ ...result, readings: [] }, captures).series,
        ...(work.plan.echoes !== null && echoesDocument(examinations)),
      },
      words: series.length > 0 ? `\n\n${series.join('\n')}` : '',
      trusted: result.readings.every(({ flags }) => trustworthy(flags)),
    }),
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
  const rows = inOrderOfPosition(result.readings, captures).map(rowWriter(captures));
  const series = result.series.flatMap(seriesWords);
  return [table(columns, rows), ...(series.length > 0 ? ['', ...series] : [])].join('\n');
}

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

/** A reading as a row; the trace is named where its file has several. */
function rowWriter(captures: CaptureLookup): (reading: Reading) => string[] {
  const inFile = new Map<string, number>();
  for (const { file } of captures.values()) inFile.set(file, (inFile.get(file) ?? 0) + 1);
  return (reading) => {
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
