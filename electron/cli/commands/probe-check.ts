import { worstOf } from '../../../core/check/verdict.ts';
import { concludeProbeChecks } from '../../../core/probe-check/probe-checks.ts';
import { probeChecksDocument } from '../../../core/report/location-document.ts';
import type { Probe, ProbeChecks } from '../../../core/review/part-decision.ts';
import { rectangularUncertainty } from '../../../core/units/quantity.ts';
import type { Answer } from '../answer.ts';
import { probeCheckWords } from '../location-words.ts';
import { Refusal, refuseArgument } from '../refusal.ts';

export interface ProbeCheckOptions {
  angle?: number;
  index?: number;
  radius?: number;
  onRadius?: readonly number[];
  holeDepth?: number;
  holeFromEnd?: number;
  onHole?: readonly number[];
  ruler?: number;
  velocity?: number;
  inVelocity?: number;
  wedgeVelocity?: number;
  wedgeThen?: number;
  rule?: string;
  simpleAcceptance?: boolean;
}

/** A ruler with millimetres is read to half of one, either way. */
const readToMm = 0.5;

/** Index point, angle, and the angle expected elsewhere, from readings of a ruler; no capture is needed. */
export function probeCheck(options: ProbeCheckOptions): Answer {
  const { checks, probe } = decisionsFrom(options);
  const result = concludeProbeChecks(checks, probe);
  if (result.problems.length > 0) throw new Refusal(result.problems);
  const outcomes = [result.indexToFrontMm, result.angleDeg, result.elsewhere?.against ?? null].flatMap((figure) =>
    figure?.verdict ? [figure.verdict.outcome] : [],
  );
  return {
    document: { ...probeChecksDocument(result), settings: { checks, probe }, warnings: [] },
    words: () => probeCheckWords(result),
    trusted: outcomes.length === 0 || worstOf(outcomes) === 'pass',
    problems: [],
    warnings: [],
  };
}

function decisionsFrom(options: ProbeCheckOptions): { checks: ProbeChecks; probe: Probe } {
  const { angle, radius, onRadius, holeDepth, onHole, velocity, inVelocity, wedgeVelocity, wedgeThen } = options;
  if (angle === undefined) return refuseArgument('--angle', 'give the angle stated of the probe, as in --angle 60');
  together({ '--radius': radius, '--on-radius': onRadius });
  together({ '--hole-depth': holeDepth, '--on-hole': onHole });
  together({ '--velocity': velocity, '--in-velocity': inVelocity });
  together({ '--wedge-velocity': wedgeVelocity, '--wedge-then': wedgeThen });
  if (wedgeThen !== undefined && inVelocity === undefined)
    refuseArgument(
      '--wedge-then',
      'another wedge needs both velocities of the part too: --velocity and --in-velocity, which may be alike',
    );
  if (radius === undefined && holeDepth === undefined && inVelocity === undefined)
    refuseArgument(
      '--on-radius',
      'there is nothing to check; give readings on a radius, on a hole, or another velocity',
    );
  for (const [name, mm] of [
    ['--radius', radius],
    ['--hole-depth', holeDepth],
  ] as const)
    if (mm !== undefined && !(mm > 0)) refuseArgument(name, `${mm} mm cannot be; give more than 0 mm`);
  const uRulerMm = options.ruler ?? rectangularUncertainty(readToMm);
  return {
    checks: {
      index: radius === undefined ? null : { radiusMm: radius, frontToEndMm: [...(onRadius ?? [])], uRulerMm },
      angle:
        holeDepth === undefined
          ? null
          : { fromEndMm: options.holeFromEnd ?? 35, depthMm: holeDepth, frontToEndMm: [...(onHole ?? [])], uRulerMm },
      elsewhere:
        velocity === undefined || inVelocity === undefined
          ? null
          : {
              velocityMPerS: velocity,
              inVelocityMPerS: inVelocity,
              wedge:
                wedgeVelocity === undefined || wedgeThen === undefined
                  ? null
                  : { velocityMPerS: wedgeVelocity, thenMPerS: wedgeThen },
            },
      decision: options.simpleAcceptance === true ? 'simple-acceptance' : 'with-uncertainty',
      rule: options.rule === undefined ? null : { kind: 'published', name: options.rule },
    },
    probe: {
      angleDeg: angle,
      uAngleDeg: null,
      mode: 'transverse',
      indexToFrontMm: options.index ?? null,
      uIndexMm: 0,
      wedgeVelocityMPerS: null,
      elementMm: null,
      frequencyMHz: null,
      velocityMPerS: null,
    },
  };
}

/** Options that say nothing one without the other. */
function together(options: Readonly<Record<string, unknown>>): void {
  const missing = Object.keys(options).filter((name) => options[name] === undefined);
  const [first, second] = Object.keys(options);
  if (missing.length === 1) refuseArgument(missing[0], `${first} and ${second} go together; give both`);
}
