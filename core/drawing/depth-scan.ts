import { type DistanceCalibration, pathFromTime } from '../calibration/distance.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { type BeamInPart, locateInPart, type PlaceInPart, type ProbePlace } from '../part/locate-in-part.ts';
import { partProblems } from '../part/part-problems.ts';
import { legAt, placeOn, sectionOf } from '../part/section.ts';
import { type BeamInPlate, beamProblems } from '../part/sound-path.ts';
import type { PartDecision } from '../review/part-decision.ts';
import { type PlacedCapture, scanLines } from '../scan/scan-lines.ts';
import { alongWeld, beamUnder, placeOfProbe } from '../steps/part-under-capture.ts';
import { ratioFromDb } from '../units/decibel.ts';
import { mostLegs, type PictureAt, type SampledRay, sampledRay, sampleMm } from './depth-picture.ts';
import { type Stretch, stretchesOf } from './stretches.ts';

/** What the picture by true depth needs to know of a capture, beside its samples. */
export interface DepthCapture extends PlacedCapture {
  readonly gainDb: number | null;
  readonly startUs: number;
  readonly stepUs: number;
  readonly samples: number;
}

/** What runs across: where the probe stood along its scan, or where on the scanned surface the reflecting point lies, from the weld's middle. */
export type DepthAcross = 'position' | 'reflecting-point';

export interface DepthScanInput {
  readonly captures: readonly DepthCapture[];
  readonly calibration: DistanceCalibration | null;
  readonly part: PartDecision | null;
  /** The beam that readings take where no part is described. */
  readonly beam: BeamInPlate | null;
  readonly uAngleDeg: number | null;
  /** The sound paths looked at; `null`: all, as far as a few legs. */
  readonly paths: { readonly fromMm: number; readonly toMm: number } | null;
}

/** A capture at its place in the scan. */
export interface DepthMember {
  readonly capture: DepthCapture;
  readonly beam: BeamInPart;
  readonly probe: ProbePlace | null;
  /** What its heights are multiplied with, so that all stand at one gain. */
  readonly factor: number;
  /** What its position stands for. */
  readonly station: Stretch;
  /** The index point, and what its place stands for; `null` where it is not known. */
  readonly index: (Stretch & { readonly towards: 1 | -1 }) | null;
}

/** A scan as it can be drawn by true depth. */
export interface DepthScan {
  readonly members: readonly DepthMember[];
  readonly calibration: DistanceCalibration;
  readonly paths: DepthScanInput['paths'];
  /** All heights are told at this gain, the lowest of them; `null`: as captured. */
  readonly gainDb: number | null;
  /** What can run across, the more telling first. */
  readonly across: readonly DepthAcross[];
  /** Positions count along the weld; else it is not known what they count along. */
  readonly isAlongWeld: boolean;
  readonly ranges: Readonly<Record<DepthAcross, { readonly fromMm: number; readonly toMm: number }>>;
  /** Of the thickest place. */
  readonly thicknessMm: number;
  readonly legs: readonly number[];
  /** No cell may be smaller: the sound path between two samples. */
  readonly finestMm: number;
  /** The widest stretch that one capture stands for along the scan. */
  readonly stepMm: number;
  /** What is not in it, and why. */
  readonly problems: readonly Problem[];
  readonly remarks: readonly string[];
}

/** A beam drawn by itself is so wide, in mm, and no index point stands for more to either side than half of that, however far apart they are (ours). */
const rayMm = 2;

/**
 * Captures as members of a picture by true depth. A sentence for each thing that is missing, and where it is set; captures that cannot be placed are left out and
 * told (see `scanLines`).
 *
 * Problems: `depth-without-calibration`, `depth-without-angle`, `depth-without-thickness`, those of the part, of the beam, and of the scan's positions.
 */
export function depthScan(input: DepthScanInput): Outcome<DepthScan> {
  const { captures, calibration, part, paths } = input;
  const faults = faultsOf(input);
  if (faults.length > 0 || calibration === null) return failure(...faults);
  const { lines, problems } = scanLines(captures);
  const placed = new Set(lines.flatMap(({ stations }) => stations.map(({ captureId }) => captureId)));
  const known = captures.flatMap((capture) => {
    const beam = placed.has(capture.captureId) ? beamOf(capture, input) : null;
    return beam === null ? [] : [{ capture, beam, probe: part === null ? null : placeOfProbe(part, capture) }];
  });
  const withoutStep = captures.filter(({ captureId }) => placed.has(captureId)).length - known.length;
  const leftOut = [...problems, ...(withoutStep === 0 ? [] : [stepMissing(withoutStep)])];
  if (known.length === 0) return failure(...leftOut);
  const gains = gainsOf(known.map(({ capture }) => capture.gainDb));
  const station = lookup(known.map(({ capture }) => capture.positionMm!));
  const indexes = new Map(
    (['left', 'right'] as const).map((side) => {
      const ofSide = known.flatMap(({ probe }) => (probe?.side === side ? [indexAcross(probe)] : []));
      return [side, lookup(ofSide, rayMm / 2)];
    }),
  );
  const members = known.map(({ capture, beam, probe }, i): DepthMember => {
    const at = probe === null ? undefined : indexes.get(probe.side)!(indexAcross(probe));
    return {
      capture,
      beam,
      probe,
      factor: gains.factors[i],
      station: station(capture.positionMm!)!,
      index: at === undefined ? null : { ...at, towards: probe!.side === 'left' ? 1 : -1 },
    };
  });
  const ends = members.map((member) => endOf(member, calibration, paths));
  const isAway = known.every(({ capture }) => part !== null && positionsCount(part, capture) === 'away');
  const hasIndex = members.some(({ index }) => index !== null);
  const missing = members.filter(({ index }) => index === null).length;
  return success({
    members,
    calibration,
    paths,
    gainDb: gains.gainDb,
    across: !hasIndex ? ['position'] : isAway ? ['reflecting-point', 'position'] : ['position', 'reflecting-point'],
    isAlongWeld: part !== null && members.every(({ capture }) => alongWeld(part, capture) !== null),
    ranges: {
      position: rangeOf(members.map((member) => member.station)),
      'reflecting-point': rangeOf(
        members.flatMap(({ index }, i) => {
          if (index === null) return [];
          const reach = index.towards * ends[i].alongMm;
          return [index, { from: index.from + reach, to: index.to + reach }];
        }),
      ),
    },
    thicknessMm: greatest(members, ({ beam }) => beam.thicknessMm.value),
    legs: Array.from({ length: greatest(ends, ({ leg }) => leg) }, (_, i) => i + 1),
    finestMm: greatest(members, ({ capture }) => sampleMm(capture.stepUs, calibration)),
    stepMm: greatest(members, ({ station: { from, to } }) => to - from),
    problems: leftOut,
    remarks: [
      ...gains.remarks,
      ...(hasIndex && missing > 0
        ? [
            `Of ${missing} ${missing === 1 ? 'capture' : 'captures'} it is not known where the probe stood: by the reflecting point they are not drawn.`,
          ]
        : []),
    ],
  });
}

function faultsOf({ captures, calibration, part, beam }: DepthScanInput): Problem[] {
  const faults: Problem[] = [];
  const refuse = (code: string, sentence: string) => faults.push(problem(code, { file: 'scan' }, sentence));
  if (captures.length === 0)
    refuse('depth-without-captures', 'no capture is named; name those of the scan in Indications');
  if (calibration === null)
    refuse(
      'depth-without-calibration',
      'there is no distance calibration, and without it no sound path; make one in Calibration',
    );
  if (part !== null)
    return [
      ...faults,
      ...partProblems(part, 'part', part.probe.velocityMPerS ?? calibration?.velocityMPerS.value ?? null),
    ];
  if (beam === null)
    refuse('depth-without-angle', 'the beam’s angle is not known; describe part and probe in Part and probe');
  else if (beam.thicknessMm === null)
    refuse(
      'depth-without-thickness',
      'the plate’s thickness is not known, so that it cannot be told where the beam turns back; state it in Part and probe',
    );
  return beam === null ? faults : [...faults, ...beamProblems(beam, 'readings')];
}

function stepMissing(count: number): Problem {
  const who = count === 1 ? 'one capture' : `${count} captures`;
  return problem(
    'depth-without-step',
    { file: 'part' },
    `no step of the block is named for ${who}, left out; name the captures of each step in Part and probe`,
  );
}

function beamOf(capture: DepthCapture, { part, beam, uAngleDeg }: DepthScanInput): BeamInPart | null {
  if (part !== null) return beamUnder(part, capture);
  if (beam?.thicknessMm == null) return null;
  const { thicknessMm, uThicknessMm = 0 } = beam;
  return {
    angleDeg: { value: beam.angleDeg, standardUncertainty: uAngleDeg },
    thicknessMm: { value: thicknessMm, standardUncertainty: uThicknessMm },
    sectionWith: (mm) => sectionOf({ kind: 'plate', thicknessMm, uThicknessMm }, mm),
    indexToFrontMm: null,
    uIndexMm: 0,
  };
}

function positionsCount(part: PartDecision, capture: DepthCapture): 'along' | 'away' | null {
  if (placeOfProbe(part, capture) === null) return null;
  return alongWeld(part, capture) === null ? 'away' : 'along';
}

/** From the weld's middle, to the right positive. */
function indexAcross({ side, offsetMm }: ProbePlace): number {
  return side === 'left' ? -offsetMm : offsetMm;
}

/** The stretch of each of some places; those that are alike share one. */
function lookup(places: readonly number[], most?: number): (at: number) => Stretch | undefined {
  const stops = [...new Set(places)].sort((a, b) => a - b);
  const stretches = new Map(stretchesOf(stops, 1, most).map((stretch) => [stretch.at, stretch]));
  return (at) => stretches.get(at);
}

/** All to the lowest gain, at which nothing stands higher than its screen; as captured where some do not state theirs. */
function gainsOf(gains: readonly (number | null)[]) {
  const stated = gains.filter((gain) => gain !== null);
  if (stated.length < gains.length)
    return {
      gainDb: null,
      factors: gains.map(() => 1),
      remarks:
        stated.length > 0 || gains.length === 0
          ? ['Only some captures state their gain: heights are as captured, and compare only if it was one for all.']
          : [],
    };
  const gainDb = -greatest(stated, (gain) => -gain);
  return { gainDb, factors: stated.map((gain) => ratioFromDb(gainDb - gain)), remarks: [] };
}

/** Of thousands, too many for the arguments of one call. */
function greatest<One>(all: readonly One[], of: (one: One) => number): number {
  return all.reduce((most, one) => Math.max(most, of(one)), Number.NEGATIVE_INFINITY);
}

function rangeOf(stretches: readonly { readonly from: number; readonly to: number }[]) {
  let [fromMm, toMm] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { from, to } of stretches) {
    fromMm = Math.min(fromMm, from);
    toMm = Math.max(toMm, to);
  }
  return fromMm <= toMm ? { fromMm, toMm } : { fromMm: 0, toMm: 1 };
}

/** Where the last of a capture's samples that are followed lies. */
function endOf({ capture, beam }: DepthMember, calibration: DistanceCalibration, paths: DepthScanInput['paths']) {
  const section = beam.sectionWith(beam.thicknessMm.value);
  const angle = (beam.angleDeg.value * Math.PI) / 180;
  const shape = section.leg(angle);
  const recorded = pathFromTime(calibration, capture.startUs + (capture.samples - 1) * capture.stepUs, null).value;
  const farthest = shape === null ? recorded : mostLegs * shape.lengthMm;
  const pathMm = Math.max(0, Math.min(recorded, farthest, paths?.toMm ?? recorded));
  const leg = legAt(pathMm, shape?.lengthMm ?? null);
  return { leg, alongMm: placeOn(leg, pathMm, angle, section, shape).alongMm };
}

/** Places of samples, made once for captures that follow one another with the same time axis over the same thickness. */
export function raysOf({ calibration, paths }: DepthScan): (member: DepthMember) => SampledRay {
  let last: { readonly key: string; readonly ray: SampledRay } | null = null;
  return ({ capture, beam }) => {
    const key = [capture.startUs, capture.stepUs, capture.samples, beam.thicknessMm.value].join();
    if (last?.key !== key) last = { key, ray: sampledRay(capture, calibration, beam, paths) };
    return last.ray;
  };
}

/** Where a member's samples fall; `null` where that is not known. */
export function pictureAt({ station, index }: DepthMember, across: DepthAcross): PictureAt | null {
  if (across === 'position') return { kind: 'station', fromMm: station.from, toMm: station.to };
  if (index === null) return null;
  const { at, from, to, towards } = index;
  return { kind: 'reflecting', indexAtMm: at, towards, beforeMm: at - from, behindMm: to - at };
}

/** The place of one sample of a member, with its uncertainty by calibration, angle, thickness and the probe's place. `null`: before the sound entered. */
export function placeOfSample(member: DepthMember, sample: number, { calibration }: DepthScan): SamplePlace | null {
  const { capture, beam, probe } = member;
  const timeUs = capture.startUs + sample * capture.stepUs;
  const pathMm = pathFromTime(calibration, timeUs, 0);
  if (!(pathMm.value >= 0)) return null;
  return { timeUs, pathMm: pathMm.value, place: locateInPart(pathMm, beam, probe) };
}

export interface SamplePlace {
  readonly timeUs: number;
  readonly pathMm: number;
  readonly place: PlaceInPart;
}
