import { preparationFaults, type WeldPreparation, weldOutline } from '../../core/part/weld-preparation.ts';
import type { Feature, PartDecision } from '../../core/review/part-decision.ts';
import { type Parsed, parseQuantity, refused } from '../../core/units/parse-quantity.ts';
import { option } from './arguments.ts';
import { refuseArgument } from './refusal.ts';

const flush: WeldPreparation = {
  rootGapMm: 0,
  rootFaceMm: 0,
  bevelDeg: 0,
  capHeightMm: 0,
  capOverlapMm: 0,
  rootBeadMm: 0,
};

const parts: Readonly<Record<string, readonly [keyof WeldPreparation, 'length' | 'angle']>> = {
  gap: ['rootGapMm', 'length'],
  face: ['rootFaceMm', 'length'],
  bevel: ['bevelDeg', 'angle'],
  cap: ['capHeightMm', 'length'],
  overlap: ['capOverlapMm', 'length'],
  bead: ['rootBeadMm', 'length'],
};

/** Reads `gap=3mm,face=2mm,bevel=30deg,cap=2mm,overlap=1mm,bead=1mm`; what is left out is 0. */
export function weldOption(name: string): (text: string) => WeldPreparation {
  return option(name, (text): Parsed<WeldPreparation> => {
    const preparation = { ...flush };
    const seen = new Set<string>();
    for (const piece of text.split(',')) {
      const [key, value = ''] = piece.split('=').map((word) => word.trim());
      const known = Object.hasOwn(parts, key) ? parts[key] : undefined;
      if (known === undefined)
        return refused(
          `"${piece}" is no part of a weld; write it as in gap=3mm,face=2mm,bevel=30deg,cap=2mm,overlap=1mm,bead=1mm`,
        );
      if (seen.has(key)) return refused(`"${key}" stands twice; keep one of them`);
      seen.add(key);
      const parsed = parseQuantity(value, known[1]);
      if (!parsed.ok) return refused(`${key}: ${parsed.sentence}`);
      preparation[known[0]] = parsed.value;
    }
    return { ok: true, value: preparation };
  });
}

/** The outline of a weld in a part so thick; refuses what cannot be drawn. */
export function weldFrom(
  preparation: WeldPreparation | undefined,
  thicknessMm: number,
  toleranceMm: number,
): PartDecision['weld'] {
  if (preparation === undefined) return null;
  const faults = preparationFaults(preparation, thicknessMm);
  if (faults.length > 0) refuseArgument('--weld', faults.join('; '));
  return { outline: weldOutline(preparation, thicknessMm), toleranceMm };
}

/** Reads `counterbore=12mm,14mm`: what it is, how far from the weld's middle (to the right positive), how deep. May be given several times. */
export function featuresOption(name: string) {
  const one = option(name, (text): Parsed<Omit<Feature, 'toleranceMm'>> => {
    const match = /^([^=]+)=([^,]+),([^,]+)$/.exec(text);
    if (match === null)
      return refused(
        `"${text}" is no feature; write its name, where it lies across the weld, and its depth, as in counterbore=12mm,14mm`,
      );
    const across = parseQuantity(match[2], 'length');
    if (!across.ok) return across;
    const depth = parseQuantity(match[3], 'length');
    if (!depth.ok) return depth;
    return { ok: true, value: { name: match[1].trim(), acrossMm: across.value, depthMm: depth.value } };
  });
  return (text: string, before: readonly Omit<Feature, 'toleranceMm'>[] | undefined) => [...(before ?? []), one(text)];
}
