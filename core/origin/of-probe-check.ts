import { asin, atan } from '../elementary/trigonometric.ts';
import type { Origin } from '../origin.ts';
import { locationFormulas } from '../part/formulas.ts';
import type { ProbeFigure } from '../probe-check/probe-checks.ts';
import { readLength } from '../probe-check/ruler.ts';
import { origin, shown } from './context.ts';
import { figures, figureWithUncertainty, figureWords } from './figure.ts';
import { sinDeg } from './flat-depth.ts';
import { withNumbers } from './formula-numbers.ts';
import type { LocationContext } from './location-inputs.ts';

/** The index point as read on a radius. */
export function indexOrigin({ part, result, style }: LocationContext): Origin | null {
  const found: ProbeFigure | null = result.checks?.indexToFrontMm ?? null;
  const check = part.checks?.index ?? null;
  if (found === null || check === null) return null;
  const { measured } = found;
  const index = figures.lengthMm(measured, style);
  const reading = figures.lengthMm({ ...measured, value: check.radiusMm - measured.value }, style);
  return origin({
    title: 'Index point to front',
    ...shown(index, style),
    formula: {
      text: locationFormulas['index-point'].text,
      withNumbers: withNumbers(
        [figures.statedMm(check.radiusMm, style), reading],
        (r, l) => r - l,
        (r, l) => `${r} − ${l}`,
        index,
        style,
      ),
    },
    inputs: [
      { name: 'radius', value: figureWords(figures.statedMm(check.radiusMm, style), style), asked: null },
      {
        name: `front to end (${check.frontToEndMm.length} readings)`,
        value: figureWithUncertainty(reading, style),
        asked: null,
      },
    ],
    source: locationFormulas['index-point'].source,
  });
}

/** The angle as read on a block: the line from the index point to the reflector. */
export function angleOrigin({ part, result, style }: LocationContext): Origin | null {
  const found = result.checks?.angleDeg ?? null;
  const check = part.checks?.angle ?? null;
  const read = check === null ? null : readLength(check.frontToEndMm, check.uRulerMm);
  if (found === null || check === null || read === null) return null;
  const measuredIndex = result.checks?.indexToFrontMm?.measured ?? null;
  const index = measuredIndex ?? { value: part.probe.indexToFrontMm ?? 0, standardUncertainty: part.probe.uIndexMm };
  const angle = figures.measuredAngleDeg(found.measured, style);
  const [a, x] = [figures.lengthMm(read, style), figures.lengthMm(index, style)];
  const [end, depth] = [figures.statedMm(check.fromEndMm, style), figures.statedMm(check.depthMm, style)];
  return origin({
    title: 'Angle of the beam',
    ...shown(angle, style),
    formula: {
      text: locationFormulas['probe-angle'].text,
      withNumbers: withNumbers(
        [a, x, end, depth],
        (l, i, e, d) => (atan((l + i - e) / d) * 180) / Math.PI,
        (l, i, e, d) => `arctan[(${l} + ${i} − ${e}) / ${d}]`,
        angle,
        style,
      ),
    },
    inputs: [
      { name: 'front to end', value: figureWithUncertainty(a, style), asked: null },
      {
        name: 'index point to front',
        value: figureWithUncertainty(x, style),
        asked: measuredIndex === null ? null : { kind: 'location', figure: 'index-point' },
      },
      { name: 'reflector from the end', value: figureWords(end, style), asked: null },
      { name: 'depth of the reflector', value: figureWords(depth, style), asked: null },
    ],
    source: locationFormulas['probe-angle'].source,
  });
}

/** The angle by Snell’s law in another material, or with another wedge. */
export function elsewhereOrigin({ part, result, style }: LocationContext): Origin | null {
  const found = result.checks?.elsewhere ?? null;
  const asked = part.checks?.elsewhere ?? null;
  if (found === null || asked === null) return null;
  if (found.kind === 'none')
    return origin({
      title: 'Expected angle',
      value: '–',
      source: `${found.reason}. ${locationFormulas['expected-angle'].source}.`,
    });
  const angle = figures.measuredAngleDeg(found.angleDeg, style);
  const from = figures.measuredAngleDeg(found.fromDeg, style);
  const ratio = asked.wedge === null ? 1 : asked.wedge.velocityMPerS / asked.wedge.thenMPerS;
  return origin({
    title: 'Expected angle',
    ...shown(angle, style),
    formula: {
      text: locationFormulas['expected-angle'].text,
      withNumbers: withNumbers(
        [
          from,
          figures.velocityMPerS(asked.inVelocityMPerS, style),
          figures.velocityMPerS(asked.velocityMPerS, style),
          { value: ratio, decimals: 6, unit: '' },
        ],
        (a, there, here, w) => (asin(((sinDeg(a) * there) / here) * w) * 180) / Math.PI,
        (a, there, here, w) => `arcsin(sin ${a} · ${there} / ${here}${asked.wedge === null ? '' : ` · ${w}`})`,
        angle,
        style,
      ),
    },
    inputs: [
      { name: 'angle here', value: figureWords(from, style), asked: null },
      {
        name: 'velocity here',
        value: figureWords(figures.velocityMPerS(asked.velocityMPerS, style), style),
        asked: null,
      },
      {
        name: 'velocity there',
        value: figureWords(figures.velocityMPerS(asked.inVelocityMPerS, style), style),
        asked: null,
      },
    ],
    source: locationFormulas['expected-angle'].source,
  });
}
