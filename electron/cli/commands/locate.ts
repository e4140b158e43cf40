import { type Gate, gateProblems, type Timing } from '../../../core/gate/gate.ts';
import { type Problem, problem } from '../../../core/outcome.ts';
import { plateEdge } from '../../../core/part/expected-echoes.ts';
import { partProblems } from '../../../core/part/part-problems.ts';
import type { WeldPreparation } from '../../../core/part/weld-preparation.ts';
import { captureLookup } from '../../../core/report/document.ts';
import { locationDocument } from '../../../core/report/location-document.ts';
import type { Feature, PartDecision, Placement, Shape } from '../../../core/review/part-decision.ts';
import type { ReadingDecision } from '../../../core/review/review.ts';
import type { Examination } from '../../../core/steps/examine.ts';
import { concludeLocation, gateEndsMm, planForDamping } from '../../../core/steps/locate.ts';
import { mixedTiming } from '../../../core/steps/mixed-timing.ts';
import { concludeReadings, planForReadings } from '../../../core/steps/read.ts';
import { type Answer, flagLegend, refuseUnless, trustworthy, warningLines } from '../answer.ts';
import { examineFiles } from '../examine-files.ts';
import { gather } from '../gather.ts';
import { weldFrom } from '../location-arguments.ts';
import { locationWords } from '../location-words.ts';
import { openedCalibration } from '../opened-calibration.ts';
import { type CommonOptions, conditioningFrom } from '../options.ts';
import { Refusal, refuseArgument } from '../refusal.ts';

export interface LocateOptions extends CommonOptions {
  calibration?: string;
  gate?: readonly Gate[];
  timing?: Timing;
  angle?: number;
  angleUncertainty?: number;
  mode?: PartDecision['probe']['mode'];
  thickness?: number;
  thicknessUncertainty?: number;
  outsideRadius?: number;
  from?: 'outside' | 'inside';
  indexToFront?: number;
  indexUncertainty?: number;
  wedgeVelocity?: number;
  velocity?: number;
  probe?: { elementMm: number; frequencyMHz: number };
  side?: Placement['side'];
  offset?: number;
  offsetUncertainty?: number;
  position?: Placement['position'];
  weld?: WeldPreparation;
  edge?: number;
  feature?: readonly Omit<Feature, 'toleranceMm'>[];
  tolerance?: number;
  damped?: string;
  above?: number;
  coupling?: number;
}

/** Reads every gate in every capture and says where in the part each echo lies, and which may be the part's own. */
export async function locate(words: readonly string[], options: LocateOptions): Promise<Answer> {
  const opened = options.calibration === undefined ? null : openedCalibration(options.calibration);
  if (opened === null) return refuseArgument('--calibration', 'a place needs sound paths; give --calibration CAL.json');
  const gates = options.gate ?? [];
  if (gates.length === 0) refuseArgument('--gate', 'give at least one gate, as in --gate weld=20mm..80mm@30');
  const faults = gateProblems(gates, '--gate');
  if (faults.length > 0) throw new Refusal(faults);

  const gathered = await gather(words, options);
  const part = partFrom(
    options,
    gathered.inputs.map(({ file }) => file),
  );
  const velocity = part.probe.velocityMPerS ?? opened.calibration.velocityMPerS.value;
  const unusable = partProblems(part, 'part', velocity);
  if (unusable.length > 0) throw new Refusal(unusable);

  const timing = options.timing ?? opened.given.timing ?? 'peak';
  const decision: ReadingDecision = {
    captures: [],
    gates: [...gates],
    timing,
    beam: null,
    uAngleDeg: null,
    series: null,
  };
  const conditioning = conditioningFrom(options);
  const review = { conditioning, echoes: null };
  const plan = planForReadings(review, decision, opened.calibration);
  const examined = await examineFiles({ ...gathered, plan }, options.jobs ?? null);
  refuseUnless(examined.examinations.length > 0, [...gathered.problems, ...examined.problems]);
  const damping = await dampingOf(words, options, conditioning);
  if (damping !== null)
    part.damping.push({
      before: damping.before[0]?.capture.captureId ?? words.join(' '),
      after: damping.after[0]?.capture.captureId ?? options.damped!,
      abovePercent: damping.abovePercent,
      uCouplingDb: options.coupling ?? 0,
    });

  const facts = [...examined.examinations, ...(damping?.after ?? [])].map(({ capture }) => capture);
  const captures = captureLookup(facts);
  const { readings } = concludeReadings(decision, examined.examinations);
  const result = concludeLocation(part, {
    calibration: opened.calibration,
    readings,
    captures,
    damped: damping === null ? [] : [[damping.before, damping.after]],
    gatesToMm: gateEndsMm(gates, opened.calibration),
    beamOfReadings: null,
  });
  const mixed = mixedTiming(opened.given.timing, timing);
  const warnings: Problem[] = [
    ...gathered.warnings,
    ...(mixed === null ? [] : [problem('mixed-timing', { file: opened.given.file }, mixed)]),
    ...examined.warnings,
    ...result.warnings,
    ...withoutExpectation(options),
  ];
  const problems = [...gathered.problems, ...examined.problems, ...(damping?.problems ?? []), ...result.problems];
  const flags = result.readings.flatMap((reading) => reading.flags);
  return {
    document: {
      ...locationDocument(result, captures),
      settings: { timing, gates, part, conditioning },
      warnings: warningLines(warnings),
    },
    words: () => locationWords(result, captures) + flagLegend(flags),
    trusted: trustworthy(flags),
    problems,
    warnings,
  };
}

/** Geometry that was named and cannot be predicted must not look as if none were expected. */
function withoutExpectation({ weld, feature, edge, probe, side }: LocateOptions): Problem[] {
  if (weld === undefined && feature === undefined && edge === undefined) return [];
  const missing = [
    ...(probe === undefined ? ['the probe’s element and frequency (--probe 10mm,4MHz) for its beam’s spread'] : []),
    ...(side === undefined ? ['where the probe stood (--side left --offset 26mm)'] : []),
  ];
  if (missing.length === 0) return [];
  const sentence = `no echo of the part’s own shape is predicted without ${missing.join(' and ')}`;
  return [problem('geometry-not-predicted', { file: 'part' }, sentence)];
}

async function dampingOf(
  words: readonly string[],
  options: LocateOptions,
  conditioning: ReturnType<typeof conditioningFrom>,
) {
  if (options.damped === undefined) return null;
  const abovePercent = options.above ?? 5;
  const plan = planForDamping({ conditioning }, abovePercent);
  const one = async (
    files: readonly string[],
  ): Promise<{ examinations: readonly Examination[]; problems: readonly Problem[] }> => {
    const gathered = await gather(files, options);
    const examined = await examineFiles({ ...gathered, plan }, options.jobs ?? null);
    return { examinations: examined.examinations, problems: [...gathered.problems, ...examined.problems] };
  };
  const [before, after] = [await one(words), await one([options.damped])];
  for (const { examinations } of [before, after])
    if (examinations.length !== 1)
      refuseArgument(
        '--damped',
        `a damping test holds one capture against one, and there are ${before.examinations.length} before and ${after.examinations.length} after; name one trace each, as in file.csv#capture_01_pct`,
      );
  return { before: before.examinations, after: after.examinations, abovePercent, problems: after.problems };
}

function partFrom(options: LocateOptions, files: readonly string[]): PartDecision {
  const { angle, thickness, tolerance = 0.5 } = options;
  if (angle === undefined)
    return refuseArgument('--angle', 'give the angle of the beam in the part, as in --angle 60 (0: a straight beam)');
  if (thickness === undefined)
    return refuseArgument('--thickness', 'give the thickness of the part, as in --thickness 16mm');
  if (options.from !== undefined && options.outsideRadius === undefined)
    refuseArgument('--from', 'only a pipe is scanned from outside or from inside; give its --outside-radius');
  if ((options.side === undefined) !== (options.offset === undefined))
    refuseArgument(
      options.side === undefined ? '--side' : '--offset',
      'where the probe stood needs both, as in --side left --offset 26mm',
    );
  if (options.position !== undefined && options.side === undefined)
    refuseArgument('--position', 'what a position counts needs where the probe stood, as in --side left --offset 26mm');
  const uThicknessMm = options.thicknessUncertainty ?? 0;
  const shape: Shape =
    options.outsideRadius === undefined
      ? { kind: 'plate', thicknessMm: thickness, uThicknessMm }
      : {
          kind: 'pipe',
          outsideRadiusMm: options.outsideRadius,
          thicknessMm: thickness,
          uThicknessMm,
          from: options.from ?? 'outside',
        };
  if (!(thickness > 0))
    throw new Refusal([
      problem(
        'thickness-not-positive',
        { file: '--thickness' },
        `a thickness of ${thickness} mm cannot be; give the part’s thickness as more than 0 mm`,
      ),
    ]);
  return {
    shape,
    weld: weldFrom(options.weld, thickness, tolerance),
    features: [
      ...(options.feature ?? []).map((feature) => ({ ...feature, toleranceMm: tolerance })),
      ...(options.edge === undefined ? [] : plateEdge(options.edge, thickness, tolerance)),
    ],
    placements:
      options.side === undefined || options.offset === undefined
        ? []
        : [
            {
              captures: [...new Set(files)],
              side: options.side,
              offsetMm: options.offset,
              uOffsetMm: options.offsetUncertainty ?? 0,
              position: options.position ?? 'along',
            },
          ],
    probe: {
      angleDeg: angle,
      uAngleDeg: options.angleUncertainty ?? null,
      mode: options.mode ?? (angle === 0 ? 'longitudinal' : 'transverse'),
      indexToFrontMm: options.indexToFront ?? null,
      uIndexMm: options.indexUncertainty ?? 0,
      wedgeVelocityMPerS: options.wedgeVelocity ?? null,
      elementMm: options.probe?.elementMm ?? null,
      frequencyMHz: options.probe?.frequencyMHz ?? null,
      velocityMPerS: options.velocity ?? null,
    },
    checks: null,
    damping: [],
    confirmed: [],
  };
}
