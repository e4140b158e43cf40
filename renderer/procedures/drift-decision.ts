import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import { windowsAround } from '../../core/calibration/reflector-windows.ts';
import { type DriftRule, publishedRules } from '../../core/check/rule.ts';
import type { DriftDecision, Reflector } from '../../core/review/review.ts';
import type { Option } from '../parts/Choice.tsx';

/** Checks on which nothing has been decided yet. */
export const nothingToCheck: DriftDecision = {
  captures: [],
  reflectors: [],
  amplitudePercent: null,
  thresholdPercent: 5,
  rangeMm: null,
  decision: 'with-uncertainty',
  rule: null,
};

export const noRule = 'none';

export function ruleOptions(own: DriftRule | null): readonly Option<string>[] {
  return [
    { id: noRule, label: 'No rule: figures without verdicts' },
    ...publishedRules.map(({ name, title, edition }) => ({ id: name, label: title, description: edition })),
    ...(own === null ? [] : [{ id: ownRule(own), label: own.title, description: `${own.edition} (a rule of my own)` }]),
  ];
}

const ownRule = (rule: DriftRule): string => `own ${rule.name}`;

export function chosenRule({ rule }: DriftDecision): string {
  if (rule === null) return noRule;
  return rule.kind === 'published' ? rule.name : ownRule(rule.rule);
}

/** The rule of a decision, whole; `null` where none was chosen or the name is unknown. */
export function ruleOf({ rule }: DriftDecision): DriftRule | null {
  if (rule === null) return null;
  return rule.kind === 'own' ? rule.rule : (publishedRules.find(({ name }) => name === rule.name) ?? null);
}

/** The reflectors of the calibration in force, each looked for in any check capture about the time at which it stood then. */
export function reflectorsOf({ points }: DistanceCalibration): readonly Reflector[] {
  const taken = points.map(({ distanceMm, timeUs }) => ({ distanceMm, toleranceMm: 0, timeUs, captureId: '' }));
  return windowsAround(taken, []).map((reflector) => ({ ...reflector, capture: null }));
}
