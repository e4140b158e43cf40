import type { Origin } from '../origin.ts';
import { locationFormulas } from '../part/formulas.ts';
import { readLength } from '../probe-check/ruler.ts';
import type { PartDecision } from '../review/part-decision.ts';
import type { LocationResult } from '../steps/locate.ts';
import { type OriginContext, origin, shown } from './context.ts';
import { figures, figureWithUncertainty, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';

/** The angle as read on a block: the line from the index point to the reflector. */
export function readAngle({
  part,
  result,
  style,
}: OriginContext & { readonly part: PartDecision; readonly result: LocationResult }): Origin | null {
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
        (l, i, e, d) => (Math.atan((l + i - e) / d) * 180) / Math.PI,
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
