import { type DistanceCalibration, timeFromPath } from '../calibration/distance.ts';
import type { Flag } from '../flag.ts';
import type { Gate } from '../gate/gate.ts';
import { type Problem, problem } from '../outcome.ts';
import { partProblems } from '../part/part-problems.ts';
import { type BeamInPlate, beamProblems } from '../part/sound-path.ts';
import { scanReferences } from '../rating/amplitude.ts';
import type { Review } from '../review/review.ts';
import type { ScanDecision } from '../review/scan-decision.ts';
import { windowsBeside } from '../scan/across-lines.ts';
import type { StationReading } from '../scan/echo-dynamic.ts';
import { connectedRegions } from '../scan/regions.ts';
import { type ScanLine, scanLines } from '../scan/scan-lines.ts';
import { type Examination, type Examined, type Plan, planFor } from './examine.ts';
import { concludeIndication, type Indication, type ScanContext } from './indication.ts';
import { beamInNumbers, type Expectation, expectedAt } from './locate.ts';
import { mixedTiming } from './mixed-timing.ts';
import { cellsOf, levelOf, listed, type Wanted, windowOn, withUsualWidth } from './scan-proposals.ts';
import type { SensitivityResult } from './sensitivity.ts';

export type { Indication };

export interface ScanResult {
  readonly lines: readonly ScanLine[];
  readonly stepMm: number | null;
  /** Decided ones first in their order, then the proposals that none of them covers, by position. */
  readonly indications: readonly Indication[];
  /** What the part's own shape should show where its captures were taken, whether anything stands there or not; empty without a part. */
  readonly expected: readonly Expectation[];
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
  readonly remarks: readonly string[];
}

export interface ScanInput {
  readonly calibration: DistanceCalibration | null;
  readonly sensitivity: SensitivityResult | null;
}

/** A gate that reads whatever stands in it. */
const anyHeightPercent = 1e-9;

/**
 * From the captures of a scan to its indications:
 *
 *     1  captures by their positions on lines                         -> what cannot be placed is left out, with a sentence
 *     2  echoes above the level, neighbours in position and path      -> proposals, by name
 *     3  the person's indications in place of the proposals they cover
 *     4  each indication's window read in every capture of its lines  -> echo-dynamic, peak, length
 *     5  place in the part, amplitude against reference and curve     -> rating
 *
 * @param ask examines captures by a plan; answers come back as `Examined`
 */
export function* scanStep<Asked>(
  review: Review,
  decision: ScanDecision,
  input: ScanInput,
  ask: (references: readonly string[], plan: Plan) => Generator<Asked, readonly Examination[], Examined>,
): Generator<Asked, ScanResult, Examined> {
  const curve = input.sensitivity?.curve ?? null;
  const level = levelOf(decision, curve);
  const faults = [
    ...decisionProblems(decision, review, input.calibration),
    ...('problem' in level ? [level.problem] : []),
  ];
  const { calibration } = input;
  if (faults.length > 0 || calibration === null || 'problem' in level) return nothing(faults);

  const mixed = mixedTiming(review.calibration?.timing ?? null, 'peak');
  const warnings = mixed === null ? [] : [problem('mixed-timing', { file: 'scan' }, mixed)];
  const whole: Gate = {
    name: 'scan',
    span: { axis: 'path', fromMm: decision.fromMm, toMm: decision.toMm },
    thresholdPercent: anyHeightPercent,
  };
  const first = yield* ask(
    decision.captures,
    planFor(review, {
      calibration,
      echoes: {
        abovePercent: level.percent,
        atGainDb: level.gainDb,
        fromUs: timeFromPath(calibration, decision.fromMm),
        toUs: timeFromPath(calibration, decision.toMm),
      },
      gates: [whole],
    }),
  );
  const { inside, problems } = insideRecord(first);
  const placed = scanLines(inside.map(({ capture }) => capture));
  problems.push(...placed.problems);
  const references = scanReferences(decision, curve, review.sensitivity);
  const cells = withUsualWidth(
    inside.flatMap((examination) => cellsOf(examination, decision, calibration, references)),
  );
  const regions = connectedRegions(cells, placed.lines, placed.stepMm);
  const wanted = placed.lines.length === 0 ? [] : listed(decision, regions, placed, inside, problems);

  const facts = new Map(inside.map(({ capture }) => [capture.captureId, capture]));
  const readings = new Map<Wanted, StationReading[]>(wanted.map((one) => [one, []]));
  const beside = new Map<Wanted, StationReading[]>(wanted.map((one) => [one, []]));
  const windows = wanted.map((one) => {
    const shown = new Map(
      placed.lines.flatMap((line, l) => {
        const window = windowOn(line, one, cells);
        return window === null ? [] : [[l, window] as const];
      }),
    );
    return { one, shown, foretold: windowsBeside(placed.lines, shown) };
  });
  for (const [l, line] of placed.lines.entries()) {
    const here = windows.flatMap(({ one, shown, foretold }) => {
      const [window, into] = [shown.get(l) ?? foretold.get(l), shown.has(l) ? readings : beside];
      return window === undefined ? [] : [{ one, window, into }];
    });
    if (here.length === 0) continue;
    const examinations = yield* ask(
      placed.lines.length === 1 ? decision.captures : line.stations.map(({ captureId }) => captureId),
      planFor(review, {
        calibration,
        gates: here.map(({ one, window }) => ({
          name: one.name,
          span: { axis: 'path', ...window },
          thresholdPercent: anyHeightPercent,
        })),
        beam: review.part === null ? beamOf(review) : null,
        uAngleDeg: review.readings?.uAngleDeg ?? null,
      }),
    );
    const byId = new Map(examinations.map((examination) => [examination.capture.captureId, examination]));
    for (const station of line.stations) {
      const examination = byId.get(station.captureId);
      if (examination === undefined) continue;
      here.forEach(({ one, into }, g) => {
        into.get(one)!.push({ station, reading: examination.readings[g], gainDb: examination.capture.gainDb });
      });
    }
  }
  const context = { review, decision, calibration, references, placed, facts };
  const indications = wanted.map((one) =>
    concludeIndication(one, { shown: readings.get(one)!, beside: beside.get(one)! }, context),
  );
  const pictures = planFor(review, {
    calibration,
    picture: {
      fromUs: timeFromPath(calibration, decision.fromMm),
      toUs: timeFromPath(calibration, decision.toMm),
      parts: partsOfPicture,
    },
  });
  return {
    lines: placed.lines,
    stepMm: placed.stepMm,
    indications: yield* withPictures(indications, pictures, ask),
    expected: expectedOn(placed.lines, context),
    problems,
    warnings,
    remarks: remarksAbout(decision, inside),
  };
}

/** Fine enough for a picture as wide as a column of a page. */
const partsOfPicture = 240;
/** So many indications have pictures of their traces; whoever looks at more looks at the traces themselves. */
const mostPictures = 100;

/** With the trace of the capture in which each stands highest, drawn small. */
function* withPictures<Asked>(
  indications: readonly Indication[],
  plan: Plan,
  ask: (references: readonly string[], plan: Plan) => Generator<Asked, readonly Examination[], Examined>,
): Generator<Asked, readonly Indication[], Examined> {
  const shown = indications.slice(0, mostPictures).flatMap(({ peak }) => (peak === null ? [] : [peak.captureId]));
  if (shown.length === 0) return indications;
  const examinations = yield* ask([...new Set(shown)], plan);
  const pictures = new Map(examinations.map(({ capture, picture }) => [capture.captureId, picture ?? null]));
  return indications.map((one, i) =>
    one.peak === null || i >= mostPictures ? one : { ...one, picture: pictures.get(one.peak.captureId) ?? null },
  );
}

function expectedOn(
  lines: readonly ScanLine[],
  { review, calibration, decision, facts }: ScanContext,
): readonly Expectation[] {
  const { part } = review;
  const velocity = part?.probe.velocityMPerS ?? calibration.velocityMPerS.value;
  if (part === null || partProblems(part, 'part', velocity).length > 0) return [];
  const captures = lines.flatMap(({ stations }) => stations.flatMap(({ captureId }) => facts.get(captureId) ?? []));
  return expectedAt(part, beamInNumbers(part, velocity), captures, decision.toMm);
}

function nothing(problems: readonly Problem[]): ScanResult {
  return { lines: [], stepMm: null, indications: [], expected: [], problems, warnings: [], remarks: [] };
}

function decisionProblems(
  { fromMm, toMm, indications }: ScanDecision,
  review: Review,
  calibration: DistanceCalibration | null,
): Problem[] {
  const problems: Problem[] = [];
  const refuse = (code: string, sentence: string) => problems.push(problem(code, { file: 'scan' }, sentence));
  if (calibration === null)
    refuse(
      'scan-without-calibration',
      'a scan needs a distance calibration to turn its times into sound paths; calibrate first',
    );
  if (!(fromMm >= 0)) refuse('scan-path-negative', `a sound path cannot begin at ${fromMm} mm; begin at 0 mm or later`);
  if (!(toMm > fromMm))
    refuse(
      'scan-window-reversed',
      `the sound paths looked at end (${toMm} mm) before they begin (${fromMm} mm); exchange them, or give them a width`,
    );
  const seen = new Set<string>();
  for (const { name, fromMm: from, toMm: to } of indications) {
    if (seen.has(name)) refuse('indication-twice', `the name "${name}" stands at two indications; give each its own`);
    seen.add(name);
    if (!(from >= 0 && to > from))
      refuse(
        'indication-window',
        `indication "${name}" lies from ${from} to ${to} mm of sound path; it must begin at 0 or later and end behind that`,
      );
  }
  const beam = review.part === null ? beamOf(review) : null;
  if (beam !== null) problems.push(...beamProblems(beam, 'scan'));
  return problems;
}

function beamOf({ readings }: Review): BeamInPlate | null {
  return readings?.beam ?? null;
}

/** Captures whose record holds none of the paths looked at give nothing; of those that hold a part of them a problem says so. */
function insideRecord(examinations: readonly Examination[]): { inside: readonly Examination[]; problems: Problem[] } {
  const problems: Problem[] = [];
  const outside = examinations.filter(({ readings }) => readings[0].from === null);
  const partly = examinations.filter(
    ({ readings }) => readings[0].from !== null && readings[0].flags.includes('outside-record'),
  );
  const say = (code: string, some: readonly Examination[], words: string) => {
    if (some.length === 0) return;
    const who = some.length === 1 ? 'this capture' : `this capture (and ${some.length - 1} more like it)`;
    problems.push(problem(code, { file: some[0].capture.captureId }, `${who} ${words}`));
  };
  say(
    'scan-outside-record',
    outside,
    'holds none of the sound paths looked at, and is left out; move the scan’s window into the recorded time, or capture a longer range',
  );
  say(
    'scan-partly-outside-record',
    partly,
    'holds only a part of the sound paths looked at: nothing can be said of the rest; move the scan’s window, or capture a longer range',
  );
  return { inside: examinations.filter((examination) => !outside.includes(examination)), problems };
}

function remarksAbout({ sizing, beamWidthMm, level }: ScanDecision, examinations: readonly Examination[]): string[] {
  const remarks: string[] = [];
  if (sizing.kind === 'drop-6-db' && beamWidthMm === null)
    remarks.push(
      'The beam’s width is not known: a reflector that is shorter than the beam is wide gives about the beam’s own width, and nothing here can say so.',
    );
  const gains = new Set(examinations.map(({ capture }) => capture.gainDb));
  if (level.kind === 'screen' && gains.size > 1)
    remarks.push(
      'The captures were taken at different gains: a level on the screen stands for different heights in them.',
    );
  return remarks;
}

/** Every flag that stands anywhere in the result. */
export function flagsOfScan({ indications }: ScanResult): Flag[] {
  return indications.flatMap(({ flags }) => flags);
}
