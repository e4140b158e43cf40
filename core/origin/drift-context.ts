import type { DriftCheck, DriftedReflector, DriftResult } from '../check/drift.ts';
import { limitsInWords } from '../check/limits-in-words.ts';
import type { DriftFigure, FigureAsked, OriginInput } from '../origin.ts';
import type { OriginContext } from './context.ts';
import { limitsShown } from './decision-in-numbers.ts';
import { figures, figureWords } from './figure.ts';

export type DriftAsked = Extract<FigureAsked, { kind: 'drift' }>;

/** One check in its context. */
export interface Checked extends OriginContext {
  readonly asked: DriftAsked;
  readonly result: DriftResult;
  readonly check: DriftCheck;
}

/** One reflector of a check. */
export interface AtReflector extends Checked {
  readonly reflector: DriftedReflector;
}

export const ofWhole = (checked: Checked, figure: DriftFigure): DriftAsked => ({
  ...checked.asked,
  distanceMm: null,
  figure,
});
export const here = (at: AtReflector, figure: DriftFigure): DriftAsked => ({
  ...at.asked,
  distanceMm: at.reflector.distanceMm,
  figure,
});

/** What the rule allows here, with its words; nothing where it limits nothing of the kind. */
export function limitInputs({ reflector, result, style }: AtReflector, unit: 'mm' | 'dB'): OriginInput[] {
  const { rule } = result;
  const limits = unit === 'mm' ? reflector.distanceLimitsMm : reflector.amplitudeLimitsDb;
  if (rule === null || limits === null) return [];
  const words = limitsInWords(
    rule,
    unit,
    result.rangeMm === null ? null : figureWords(figures.statedMm(result.rangeMm, style), style),
  );
  return [{ name: 'allowed', value: `${limitsShown(limits, unit, style)}: ${words}`, asked: null }];
}

/** Whether the tolerance of the known distances counts in what a check differs by. */
export function toleranceInput(sameBlock: string | null): OriginInput {
  return {
    name: 'tolerance of the distances',
    value:
      sameBlock === null
        ? 'counted: calibration and check are not known to stand on the same reflectors of one block'
        : `left out: it moved the calibration by the same, on the same reflectors of ${sameBlock}`,
    asked: null,
  };
}
