import { type Problem, problem } from '../outcome.ts';
import type { PartDecision, Placement, Shape } from '../review/part-decision.ts';
import { refract } from './refraction.ts';

/**
 * What keeps a part from being drawn, one sentence for each fault; `file` is where it was given. Empty when all can be used. No number is made from a part with a problem.
 *
 * `angle-out-of-range`, `angle-beyond-critical` (no such beam comes out of the wedge), `thickness-not-positive`, `radius-not-positive`,
 * `wall-thicker-than-radius`, `no-steps`, `step-twice`, `outline-too-short`, `outline-crosses-itself`, `placement-twice`, `placement-without-captures`.
 * @param velocityMPerS in the part; `null`: not known, and no critical angle can be told
 */
export function partProblems(
  part: PartDecision,
  file: string,
  velocityMPerS: number | null = part.probe.velocityMPerS,
): Problem[] {
  const problems: Problem[] = [];
  const refuse = (code: string, sentence: string) => problems.push(problem(code, { file }, sentence));
  const { probe } = part;
  if (!(probe.angleDeg >= 0 && probe.angleDeg < 90)) {
    refuse(
      'angle-out-of-range',
      `an angle of ${probe.angleDeg}° is not that of a beam in the part; give one from 0° (a straight beam) to below 90°`,
    );
  } else if (probe.wedgeVelocityMPerS !== null && velocityMPerS !== null) {
    const incidence = refract(exactly(probe.angleDeg), velocityMPerS, probe.wedgeVelocityMPerS);
    if (incidence.kind === 'none')
      refuse(
        'angle-beyond-critical',
        `no wedge of ${probe.wedgeVelocityMPerS} m/s makes a beam of ${probe.angleDeg}° in ${Number(velocityMPerS.toFixed(1))} m/s: the angle lies beyond the critical one; check angle and velocities`,
      );
  }
  for (const [code, sentence] of faultsOfShape(part.shape)) refuse(code, sentence);
  const outline = part.weld?.outline ?? [];
  if (part.weld !== null && outline.length < 3)
    refuse('outline-too-short', `a weld’s outline of ${outline.length} points is no area; give three points or more`);
  else if (crossesItself(outline))
    refuse('outline-crosses-itself', 'the weld’s outline crosses itself; give its points in order round the section');
  for (const [code, sentence] of faultsOfPlacements(part.placements)) refuse(code, sentence);
  return problems;
}

const exactly = (value: number) => ({ value, standardUncertainty: 0 });

type Fault = readonly [code: string, sentence: string];

function faultsOfShape(shape: Shape): Fault[] {
  const thick = (mm: number): Fault[] =>
    mm > 0 && Number.isFinite(mm)
      ? []
      : [['thickness-not-positive', `a thickness of ${mm} mm cannot be; give the part’s thickness as more than 0 mm`]];
  if (shape.kind === 'plate') return thick(shape.thicknessMm);
  if (shape.kind === 'pipe') {
    const { outsideRadiusMm, thicknessMm } = shape;
    if (!(outsideRadiusMm > 0 && Number.isFinite(outsideRadiusMm)))
      return [['radius-not-positive', `an outside radius of ${outsideRadiusMm} mm cannot be; give more than 0 mm`]];
    if (thicknessMm >= outsideRadiusMm)
      return [
        [
          'wall-thicker-than-radius',
          `a wall of ${thicknessMm} mm leaves no bore in a pipe of ${outsideRadiusMm} mm outside radius; give the radius, not the diameter, and a thinner wall`,
        ],
      ];
    return thick(thicknessMm);
  }
  if (shape.steps.length === 0)
    return [['no-steps', 'a step block without a step has no thickness; give at least one step with its captures']];
  const twice = firstTwice(shape.steps.flatMap(({ captures }) => captures));
  return [
    ...shape.steps.flatMap(({ thicknessMm }) => thick(thicknessMm)),
    ...(twice === null ? [] : [['step-twice', `${twice} stands on two steps; name it with one`] as Fault]),
  ];
}

function faultsOfPlacements(placements: readonly Placement[]): Fault[] {
  const twice = firstTwice(placements.flatMap(({ captures }) => captures));
  return [
    ...placements
      .filter(({ captures }) => captures.length === 0)
      .map(
        (): Fault => [
          'placement-without-captures',
          'a place of the probe is given for no capture; name the captures that were taken there',
        ],
      ),
    ...(twice === null ? [] : [['placement-twice', `${twice} has two places of the probe; give it one`] as Fault]),
  ];
}

function firstTwice(names: readonly string[]): string | null {
  const seen = new Set<string>();
  for (const name of names) {
    if (seen.has(name)) return name;
    seen.add(name);
  }
  return null;
}

type Point = { readonly acrossMm: number; readonly depthMm: number };

/** Whether two sides of a closed line that are not neighbours cut each other. */
function crossesItself(points: readonly Point[]): boolean {
  const n = points.length;
  const turn = (a: Point, b: Point, c: Point) =>
    Math.sign(
      (b.acrossMm - a.acrossMm) * (c.depthMm - a.depthMm) - (b.depthMm - a.depthMm) * (c.acrossMm - a.acrossMm),
    );
  for (let i = 0; i < n; i++) {
    for (let j = i + 2; j < n; j++) {
      if (i === 0 && j === n - 1) continue;
      const [a, b, c, d] = [points[i], points[i + 1], points[j], points[(j + 1) % n]];
      if (turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0) return true;
    }
  }
  return false;
}
