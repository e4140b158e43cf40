import { publishedBlocks } from '../../../core/block/published-blocks.ts';
import { materialNames, nominalVelocity } from '../../../core/material/velocities.ts';
import { calibrationDocument, captureLookup } from '../../../core/report/document.ts';
import { type CalibrationFit, emptyReview, type Reflector, type Review } from '../../../core/review/review.ts';
import { type CalibrationResult, concludeCalibration, planForCalibration } from '../../../core/steps/calibrate.ts';
import { decimalsFor, formatNumber, formatQuantity, unknown } from '../../../core/units/format-quantity.ts';
import { type Answer, flagLegend, refuseUnless, trustworthy, warningLines } from '../answer.ts';
import { examineFiles } from '../examine-files.ts';
import { gather } from '../gather.ts';
import { type CommonOptions, conditioningFrom } from '../options.ts';
import { refuseArgument } from '../refusal.ts';
import { left, printable, right, table } from '../table.ts';

export interface CalibrateOptions extends CommonOptions {
  reflector?: readonly Reflector[];
  block?: string;
  threshold?: number;
  timing?: 'peak' | 'crossing';
  tolerance?: number;
  material?: string;
  mode?: 'longitudinal' | 'transverse';
}

/** Fits velocity and zero offset. Every capture must be usable: a calibration from a part of its captures would look whole. */
export async function calibrate(words: readonly string[], options: CalibrateOptions): Promise<Answer> {
  const gathered = await gather(words, options);
  refuseUnless(gathered.problems.length === 0, gathered.problems);
  const decision = decisionFrom(options);
  const review: Review = { ...emptyReview, conditioning: conditioningFrom(options), calibration: decision };
  const examined = await examineFiles(
    { ...gathered, plan: planForCalibration(review, decision) },
    options.jobs ?? null,
  );
  refuseUnless(examined.problems.length === 0, examined.problems);
  const result = concludeCalibration(decision, examined.examinations);
  refuseUnless(result.calibration !== null, result.problems);

  const warnings = [...gathered.warnings, ...examined.warnings];
  const captures = captureLookup(examined.examinations.map((e) => e.capture));
  const settings = {
    timing: decision.timing,
    threshold_percent: decision.thresholdPercent,
    tolerance_mm: options.tolerance ?? 0,
    block: options.block ?? null,
    nominal: decision.nominal,
    conditioning: review.conditioning,
  };
  const document = { ...calibrationDocument(result, captures, settings), warnings: warningLines(warnings) };
  const flags = [
    ...(result.calibration?.flags ?? []),
    ...(result.calibration?.points.flatMap((point) => point.flags) ?? []),
  ];
  return {
    document,
    words: () => calibrationWords(result) + flagLegend(flags),
    trusted: trustworthy(flags),
    problems: [],
    warnings,
  };
}

function decisionFrom(options: CalibrateOptions): CalibrationFit {
  const list = (options.reflector ?? []).map((reflector) => ({ ...reflector, toleranceMm: options.tolerance ?? 0 }));
  if (options.block !== undefined && list.length > 0)
    refuseArgument('--block', 'a block stands in place of the reflectors; give one or the other');
  if (options.block === undefined && list.length === 0) {
    const names = publishedBlocks.map((block) => block.name).join(', ');
    refuseArgument(
      '--reflector',
      `give two reflectors or more, as in --reflector 100mm@55us..75us, or a block: ${names}`,
    );
  }
  if ((options.material === undefined) !== (options.mode === undefined)) {
    refuseArgument('--material', 'a nominal velocity needs both, as in --material steel --mode transverse');
  }
  if (
    options.material !== undefined &&
    options.mode !== undefined &&
    nominalVelocity(options.material, options.mode) === null
  ) {
    refuseArgument(
      '--material',
      `no table has a ${options.mode} velocity of "${options.material}"; there are ${materialNames.join('; ')}`,
    );
  }
  return {
    kind: 'fit',
    captures: [],
    reflectors: options.block === undefined ? { kind: 'windows', list } : { kind: 'block', name: options.block },
    timing: options.timing ?? 'peak',
    thresholdPercent: options.threshold ?? 20,
    nominal:
      options.material === undefined || options.mode === undefined
        ? null
        : { material: options.material, mode: options.mode },
  };
}

export function calibrationWords({ calibration, unmatchedEchoes, doubts }: CalibrationResult): string {
  if (calibration === null) return 'No calibration could be made.';
  const { velocityMPerS, zeroOffsetUs, points } = calibration;
  const interval = (half: number | null, least: number) =>
    half === null ? '' : `   95 % interval ± ${formatNumber(half, decimalsFor(half, least))}`;
  const head = [
    `velocity     ${formatQuantity(velocityMPerS, 1)} m/s${interval(calibration.velocityHalfWidth95MPerS, 1)}`,
    `zero offset  ${formatQuantity(zeroOffsetUs, 3)} µs${interval(calibration.zeroOffsetHalfWidth95Us, 3)}`,
    calibration.residualSdUs === null
      ? 'residuals    none: two points fix the line exactly'
      : `residuals    standard deviation ${formatNumber(calibration.residualSdUs, 4)} µs, ${calibration.degreesOfFreedom} degree${calibration.degreesOfFreedom === 1 ? '' : 's'} of freedom`,
  ].join('\n');
  const rows = points.map((point) => [
    formatNumber(point.distanceMm, 2),
    formatNumber(point.timeUs, 4),
    formatNumber(point.uTimeUs, 4),
    formatNumber(point.amplitudePercent, 1),
    formatNumber(point.residualMm, 3),
    point.captureId ?? unknown,
    point.flags.join(', '),
  ]);
  const columns = [
    right('distance mm'),
    right('time µs'),
    right('u µs'),
    right('% FSH'),
    right('residual mm'),
    left('capture'),
    left('flags'),
  ];
  const others = unmatchedEchoes.map(
    (echo) =>
      `  ${formatNumber(echo.timeUs, 3)} µs, ${formatNumber(echo.amplitudePercent, 1)} % FSH${echo.name === null ? '' : `: ${printable(echo.name)}`}`,
  );
  return [
    head,
    '',
    table(columns, rows),
    ...(others.length > 0 ? ['', 'Echoes that belong to no reflector', ...others] : []),
    ...(doubts.length > 0 ? ['', 'Doubts', ...doubts.map((doubt) => `  ${printable(doubt.sentence)}`)] : []),
  ].join('\n');
}
