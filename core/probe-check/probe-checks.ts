import { judge, type Limits, type Verdict } from '../check/verdict.ts';
import { type Problem, problem } from '../outcome.ts';
import type { Refracted } from '../part/refraction.ts';
import type { Probe, ProbeChecks } from '../review/part-decision.ts';
import type { Quantity } from '../units/quantity.ts';
import { expectedAngle } from './expected-angle.ts';
import { indexPoint } from './index-point.ts';
import { refractedAngle } from './refracted-angle.ts';
import { type ProbeRule, publishedProbeRules } from './rule.ts';
import { readLength } from './ruler.ts';

/** A figure of the probe, held against what is stated of it. */
export interface ProbeFigure {
  readonly measured: Quantity;
  /** `null` where nothing is stated to hold it against. */
  readonly stated: number | null;
  readonly deviation: Quantity | null;
  /** `null` where the rule limits nothing here, or there is no rule. */
  readonly limits: Limits | null;
  readonly verdict: Verdict | null;
}

export interface ProbeCheckResult {
  readonly rule: ProbeRule | null;
  /** Index point behind the front of the wedge, in mm. */
  readonly indexToFrontMm: ProbeFigure | null;
  readonly angleDeg: ProbeFigure | null;
  /** In the other material, or with the other wedge; `none` in words beyond the critical angle. */
  readonly elsewhere: (Refracted & { readonly fromDeg: number; readonly against: ProbeFigure | null }) | null;
  readonly problems: readonly Problem[];
  readonly remarks: readonly string[];
}

/**
 * Index point, refracted angle and expected angle of the probe, each against the rule chosen. The angle takes the index point that was measured, where one was.
 * Problems: `no-such-rule`, `no-reading-of-ruler`, `index-beyond-wedge`, `probe-before-reflector`, `beyond-critical-angle`; none of them leaves a number.
 */
export function concludeProbeChecks(checks: ProbeChecks, probe: Probe): ProbeCheckResult {
  const problems: Problem[] = [];
  const remarks: string[] = [];
  const refuse = (code: string, sentence: string) => {
    problems.push(problem(code, { file: 'part' }, sentence));
    return null;
  };
  const { index, angle, elsewhere, decision } = checks;
  const rule = ruleOf(checks, refuse);
  const held = (measured: Quantity, stated: number | null, limit: number | null, unit: 'mm' | '°'): ProbeFigure => {
    const deviation = stated === null ? null : { ...measured, value: measured.value - stated };
    const limits = rule === null || limit === null ? null : { lower: -limit, upper: limit };
    const verdict =
      limits === null || deviation === null || rule === null
        ? null
        : judge(deviation, limits, { unit, rule: rule.name, clause: rule.clause, decision });
    return { measured, stated, deviation, limits, verdict };
  };

  const ofIndex = index === null ? null : readLength(index.frontToEndMm, index.uRulerMm);
  if (index !== null && ofIndex === null)
    refuse(
      'no-reading-of-ruler',
      'index point: no length was read; read from the front of the wedge to the block’s end',
    );
  let found = index === null || ofIndex === null ? null : indexPoint(index.radiusMm, ofIndex);
  if (found !== null && !(found.value > 0)) {
    found = refuse(
      'index-beyond-wedge',
      `index point: ${ofIndex!.value} mm from front to end is not less than the radius of ${index!.radiusMm} mm, which puts the index point before the wedge; check radius and reading`,
    );
  }

  const ofAngle = angle === null ? null : readLength(angle.frontToEndMm, angle.uRulerMm);
  if (angle !== null && ofAngle === null)
    refuse('no-reading-of-ruler', 'angle: no length was read; read from the front of the wedge to the block’s end');
  const stated =
    probe.indexToFrontMm === null ? null : { value: probe.indexToFrontMm, standardUncertainty: probe.uIndexMm };
  const indexTaken = found ?? stated;
  if (angle !== null && ofAngle !== null && indexTaken === null)
    refuse('index-not-known', 'angle: where the index point lies is not known; measure it on the radius, or state it');
  if (found !== null && stated !== null && angle !== null)
    remarks.push('The angle was worked out with the index point as measured here, not as stated.');
  let turned: Quantity | null = null;
  if (angle !== null && ofAngle !== null && indexTaken !== null) {
    turned =
      refractedAngle(angle, ofAngle, indexTaken) ??
      refuse(
        'probe-before-reflector',
        `angle: with ${ofAngle.value} mm from front to end the index point stands before the reflector (${angle.fromEndMm} mm from the end); check which way the probe faces`,
      );
  }

  const from = turned ?? { value: probe.angleDeg, standardUncertainty: probe.uAngleDeg };
  const other =
    elsewhere === null
      ? null
      : expectedAngle(from, elsewhere.velocityMPerS, elsewhere.inVelocityMPerS, elsewhere.wedge);
  if (other?.kind === 'none') refuse('beyond-critical-angle', `expected angle: ${other.reason}`);
  return {
    rule,
    indexToFrontMm: found && held(found, probe.indexToFrontMm, rule?.indexMm ?? null, 'mm'),
    angleDeg: turned && held(turned, probe.angleDeg, rule?.angleDeg ?? null, '°'),
    elsewhere: other && {
      ...other,
      fromDeg: from.value,
      against: other.kind === 'none' ? null : held(other.angleDeg, probe.angleDeg, rule?.angleDeg ?? null, '°'),
    },
    problems,
    remarks,
  };
}

function ruleOf({ rule }: ProbeChecks, refuse: (code: string, sentence: string) => null): ProbeRule | null {
  if (rule === null) return null;
  if (rule.kind === 'own') return rule.rule;
  const names = publishedProbeRules.map(({ name }) => name).join(', ');
  return (
    publishedProbeRules.find(({ name }) => name === rule.name) ??
    refuse('no-such-rule', `"${rule.name}" is no published rule of a probe’s checks; choose one of ${names}`)
  );
}
