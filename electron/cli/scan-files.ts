import { evaluateFiles } from '../../core/evidence/evaluate-files.ts';
import { type Gate, gateProblems } from '../../core/gate/gate.ts';
import type { Problem } from '../../core/outcome.ts';
import { beamProblems } from '../../core/part/sound-path.ts';
import { type CaptureLookup, captureLookup } from '../../core/report/document.ts';
import { openReview } from '../../core/review/open-review.ts';
import { emptyReview, type Review } from '../../core/review/review.ts';
import type { RatingDecision, ScanDecision, Sizing } from '../../core/review/scan-decision.ts';
import { refersTo } from '../../core/steps/calibration-points.ts';
import type { CaptureFacts, Examination, Examined, Plan } from '../../core/steps/examine.ts';
import { type ScanResult, scanStep } from '../../core/steps/scan.ts';
import type { SensitivityResult } from '../../core/steps/sensitivity.ts';
import { refuseUnless } from './answer.ts';
import { examineFiles } from './examine-files.ts';
import { gather, readText, usable } from './gather.ts';
import { openedCalibration } from './opened-calibration.ts';
import { type CommonOptions, conditioningFrom } from './options.ts';
import { Refusal, refuseArgument } from './refusal.ts';
import { filesBeside } from './review-files.ts';

export interface ScanOptions extends CommonOptions {
  calibration?: string;
  gate?: readonly Gate[];
  aboveCurve?: number;
  method?: Sizing;
  beamWidth?: number;
  beamWidthUncertainty?: number;
  positionUncertainty?: number;
  sensitivity?: string;
  reference?: NonNullable<ScanDecision['reference']>;
  scanningGain?: number;
  rating?: RatingDecision['form'];
  floor?: boolean;
  angle?: number;
  angleUncertainty?: number;
  thickness?: number;
}

export interface ScannedFiles {
  readonly result: ScanResult;
  readonly decision: ScanDecision;
  readonly captures: CaptureLookup;
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
}

interface Question {
  readonly references: readonly string[];
  readonly plan: Plan;
}

/** The indications of a scan, from files and options. */
export async function scanFiles(words: readonly string[], options: ScanOptions): Promise<ScannedFiles> {
  if (options.calibration === undefined)
    return refuseArgument(
      '--calibration',
      'a scan needs sound paths; give --calibration CAL.json, as printed by calibrate --json',
    );
  const opened = openedCalibration(options.calibration);
  const window = windowFrom(options);
  const gathered = await gather(words, options);
  const known = sensitivityOf(options);
  const decision = decisionFrom(options, window, [...new Set(gathered.inputs.map(({ file }) => file))]);
  const review: Review = {
    ...emptyReview,
    conditioning: conditioningFrom(options),
    calibration: opened.given,
    readings: readingsFrom(options),
    sensitivity: known?.decision ?? null,
    scan: decision,
  };
  const seen = new Map<string, CaptureFacts>();
  const problems = new Set<Problem>(gathered.problems);
  const said = new Set<string>();
  const warnings: Problem[] = [...gathered.warnings];
  function* ask(references: readonly string[], plan: Plan): Generator<Question, readonly Examination[], Examined> {
    const { examinations, problems: found } = yield { references, plan };
    for (const { capture } of examinations) seen.set(capture.captureId, capture);
    for (const one of found) {
      const words = `${one.place.file} ${one.code}`;
      if (!said.has(words)) problems.add(one);
      said.add(words);
    }
    return examinations;
  }
  const steps = scanStep(
    review,
    decision,
    { calibration: opened.calibration, sensitivity: known?.result ?? null },
    ask,
  );
  let step = steps.next();
  for (let first = true; !step.done; first = false) {
    const { references, plan } = step.value;
    const inputs = gathered.inputs.filter(({ file }) =>
      references.some((reference) => reference === file || reference.startsWith(`${file}#`)),
    );
    const examined = await examineFiles({ ...gathered, inputs, plan }, options.jobs ?? null);
    if (first) warnings.push(...examined.warnings);
    if (first) refuseUnless(examined.examinations.length > 0, [...problems, ...examined.problems]);
    step = steps.next({
      examinations: examined.examinations.filter(({ capture }) =>
        references.some((reference) => refersTo(reference, capture)),
      ),
      problems: examined.problems,
    });
  }
  const result = step.value;
  refuseUnless(result.lines.length > 0, [...problems, ...result.problems]);
  return {
    result,
    decision,
    captures: captureLookup([...seen.values()]),
    problems: [...problems, ...result.problems],
    warnings: [...warnings, ...result.warnings],
  };
}

/** The paths looked at and the level of the proposals. */
interface ScanWindow {
  readonly fromMm: number;
  readonly toMm: number;
  readonly thresholdPercent: number;
}

function windowFrom({ gate: gates = [] }: ScanOptions): ScanWindow {
  if (gates.length !== 1)
    refuseArgument(
      '--gate',
      `give one gate in sound path, with the level of the proposals as its threshold, as in --gate weld=20mm..60mm@20 (there ${gates.length === 0 ? 'is none' : `are ${gates.length}`})`,
    );
  const faults = gateProblems(gates, '--gate');
  if (faults.length > 0) throw new Refusal(faults);
  const [gate] = gates;
  if (gate.span.axis !== 'path')
    return refuseArgument(
      '--gate',
      `gate "${gate.name}" is in time; a scan is looked through in sound path, as in weld=20mm..60mm@20`,
    );
  const { fromMm, toMm } = gate.span;
  return { fromMm, toMm, thresholdPercent: gate.thresholdPercent };
}

/** The reference and the curve of a saved review. */
function sensitivityOf({ sensitivity: file, method, aboveCurve }: ScanOptions): {
  readonly decision: Review['sensitivity'];
  readonly result: SensitivityResult;
} | null {
  if (file === undefined) {
    if (method?.kind === 'half-of-curve' || aboveCurve !== undefined)
      refuseArgument(
        method?.kind === 'half-of-curve' ? '--method' : '--above-curve',
        'this needs a distance-amplitude curve; give --sensitivity REVIEW.json, a saved review that makes one',
      );
    return null;
  }
  const review = usable(openReview(file, readText(file).text)).value;
  const { evaluation, problems } = usable(
    evaluateFiles(
      {
        ...emptyReview,
        sources: review.sources,
        manifests: review.manifests,
        conditioning: review.conditioning,
        calibration: review.calibration,
        sensitivity: review.sensitivity,
      },
      filesBeside(file),
    ),
  ).value;
  if (evaluation.sensitivity === null || evaluation.sensitivity.curve?.reference == null)
    throw new Refusal(
      problems.length > 0
        ? problems
        : [
            {
              code: 'no-sensitivity',
              place: { file, line: null, column: null },
              sentence: 'this review makes no reference level and no curve; give one that does',
            },
          ],
    );
  return { decision: review.sensitivity, result: evaluation.sensitivity };
}

function decisionFrom(
  options: ScanOptions,
  { fromMm, toMm, thresholdPercent }: ScanWindow,
  captures: string[],
): ScanDecision {
  if (options.floor === false && options.rating === undefined)
    refuseArgument('--no-floor', 'the floor is that of the attenuation factor; ask for a --rating');
  return {
    captures,
    fromMm,
    toMm,
    level:
      options.aboveCurve === undefined
        ? { kind: 'screen', percent: thresholdPercent }
        : { kind: 'curve', db: options.aboveCurve },
    scanningGainDb: options.scanningGain ?? null,
    sizing: options.method ?? { kind: 'drop-6-db' },
    beamWidthMm: positiveOrNull('--beam-width', options.beamWidth),
    uBeamWidthMm: options.beamWidthUncertainty ?? 0,
    uPositionMm: options.positionUncertainty ?? 0,
    reference: options.reference ?? null,
    rating:
      options.rating === undefined
        ? null
        : { kind: 'aws-d1.1', form: options.rating, floorAtZero: options.floor !== false },
    indications: [],
  };
}

function positiveOrNull(name: string, mm: number | undefined): number | null {
  if (mm === undefined) return null;
  return mm > 0 ? mm : refuseArgument(name, 'a width must be more than 0 mm');
}

function readingsFrom({ angle, angleUncertainty, thickness }: ScanOptions): Review['readings'] {
  if (thickness !== undefined && angle === undefined)
    refuseArgument('--thickness', 'a thickness needs the beam’s --angle');
  if (angle === undefined) return null;
  const beam = { angleDeg: angle, thicknessMm: thickness ?? null };
  const faults = beamProblems(beam, '--angle');
  if (faults.length > 0) throw new Refusal(faults);
  return { captures: [], gates: [], timing: 'peak', beam, uAngleDeg: angleUncertainty ?? null, series: null };
}
