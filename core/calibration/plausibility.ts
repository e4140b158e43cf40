import { otherRadiusDoubt } from '../block/other-radius.ts';
import type { BlockSeries } from '../block/reference-block.ts';
import type { Doubt } from '../doubt.ts';
import { blockSteel, materialsOfVelocity, type Nominal } from '../material/velocities.ts';
import { figure } from '../units/figure.ts';
import type { DistanceCalibration } from './distance.ts';
import { mixUpInWords, mixUpOf } from './mix-up.ts';

export type { Doubt, Nominal };

/** Beyond what the nominal allows and twice its own uncertainty a velocity is doubted; never for less than this part of it. */
const leastVelocityDoubt = 0.01;
/** A bad fit's own uncertainty does not excuse a velocity farther off than this part of nominal. */
const mostVelocityExcused = 0.03;
/** No probe of a block calibration has a wedge or delay line longer than this (common practice). */
const longestDelayUs = 40;
/** No solid of the tables is slower or faster than these. */
const solidsMPerS = { slowest: 600, fastest: 13_000 };

/**
 * What is doubtful about a calibration: `velocity-implausible`, `zero-offset-implausible`, `residuals-too-large`, each with its
 * numbers. The velocity is held against the nominal one stated, or the block's. Without either, nothing is held against it but
 * that no solid is so fast or slow, or that a well-known mix-up of echoes would turn it into that of block steel.
 */
export function doubtsAbout(
  calibration: DistanceCalibration,
  context: { readonly nominal: Nominal | null; readonly block: BlockSeries | null },
): Doubt[] {
  const nominal = context.nominal ?? context.block?.nominal ?? null;
  const velocity =
    nominal === null ? velocityWithoutNominal(calibration) : velocityAgainst(calibration, nominal, context.block);
  return [velocity, zeroOffset(calibration, context.block), residuals(calibration)].filter((doubt) => doubt !== null);
}

function velocityAgainst(calibration: DistanceCalibration, nominal: Nominal, block: BlockSeries | null): Doubt | null {
  const { value, standardUncertainty } = calibration.velocityMPerS;
  const excused = Math.min(2 * (standardUncertainty ?? 0), mostVelocityExcused * nominal.velocityMPerS);
  const allowed = Math.max(nominal.toleranceMPerS, leastVelocityDoubt * nominal.velocityMPerS) + excused;
  if (Math.abs(value - nominal.velocityMPerS) <= allowed) return null;
  const percent = 100 * (value / nominal.velocityMPerS - 1);
  const against = `${figure(value, 0)} m/s is ${figure(Math.abs(percent), 1)} % ${percent < 0 ? 'below' : 'above'} the ${nominal.velocityMPerS} m/s of ${nominal.material}, ${nominal.mode}`;
  const mixUp = mixUpOf(calibration, [nominal], block);
  const advice = mixUp === null ? 'check that the echoes are the reflectors they were taken for' : mixUpInWords(mixUp);
  return { flag: 'velocity-implausible', sentence: `${against}; ${advice}` };
}

function velocityWithoutNominal(calibration: DistanceCalibration): Doubt | null {
  const { value } = calibration.velocityMPerS;
  if (value < solidsMPerS.slowest || value > solidsMPerS.fastest) {
    const sentence = `${figure(value, 0)} m/s is the velocity of no solid; check the distances, the times and their units`;
    return { flag: 'velocity-implausible', sentence };
  }
  if (isThatOfCommonBlock(value)) return null;
  const mixUp = mixUpOf(calibration, [blockSteel.transverse, blockSteel.longitudinal], null);
  if (mixUp === null) return null;
  const sentence = `${figure(value, 0)} m/s is neither that of steel nor that of aluminium; ${mixUpInWords(mixUp)}`;
  return { flag: 'velocity-implausible', sentence };
}

function isThatOfCommonBlock(velocityMPerS: number): boolean {
  return materialsOfVelocity(velocityMPerS).some((n) => n.material.includes('steel') || n.material === 'aluminium');
}

/** What a calibration without a stated material could be of, in a sentence; a remark, never an error. */
export function materialInWords(calibration: DistanceCalibration): string {
  const velocity = figure(calibration.velocityMPerS.value, 0);
  const found = materialsOfVelocity(calibration.velocityMPerS.value).map(
    (n) => `${n.material} (${n.mode}, ${n.velocityMPerS} m/s)`,
  );
  if (found.length === 0) return `${velocity} m/s is the velocity of no material of the tables`;
  const list = found.slice(0, 4).join(', ');
  return `${velocity} m/s could be ${list}${found.length > 4 ? ' and others' : ''}`;
}

function zeroOffset(calibration: DistanceCalibration, block: BlockSeries | null): Doubt | null {
  const { value, standardUncertainty } = calibration.zeroOffsetUs;
  const faced = block === null ? null : otherRadiusDoubt(block, calibration.velocityMPerS.value, value);
  if (faced !== null) return faced;
  const flag = 'zero-offset-implausible';
  if (value + 2 * (standardUncertainty ?? 0) < 0) {
    const sentence = `the zero offset of ${figure(value, 3)} µs is negative beyond its uncertainty: the sound would enter before it was sent; check which echoes were taken, the distances, and where the record's time begins`;
    return { flag, sentence };
  }
  if (value - 2 * (standardUncertainty ?? 0) > longestDelayUs) {
    const sentence = `the zero offset of ${figure(value, 2)} µs is longer than any wedge or delay line; check which echoes were taken and where the record's time begins`;
    return { flag, sentence };
  }
  return null;
}

function residuals(calibration: DistanceCalibration): Doubt | null {
  const off = calibration.points.filter((p) => p.flags.includes('residuals-too-large'));
  if (off.length === 0) return null;
  const list = off.map((p) => `${figure(p.distanceMm, 3)} mm (${signed(p.residualMm)} mm)`).join(', ');
  const which =
    off.length === calibration.points.length
      ? `the reflectors do not lie on one line: ${list}; at least one is wrong, and these do not tell which`
      : `off the line of the others, with the residual from the fit of all: ${list}`;
  return { flag: 'residuals-too-large', sentence: `${which}; check label, distance and echo` };
}

function signed(value: number): string {
  return `${value > 0 ? '+' : ''}${figure(value, 2)}`;
}
