import { hypot } from '../elementary/hypotenuse.ts';
import { atan } from '../elementary/trigonometric.ts';
import type { FormulaShown, Origin } from '../origin.ts';
import { locationFormulas, locationUncertainties } from '../part/formulas.ts';
import { sectionOf } from '../part/section.ts';
import type { PartDecision } from '../review/part-decision.ts';
import { origin, shown } from './context.ts';
import { type Figure, figures } from './figure.ts';
import { cosDeg, flatDepthWithNumbers, sinDeg } from './flat-depth.ts';
import { withNumbers } from './formula-numbers.ts';
import { legInput, length, type Placed, scannedRadius, shapeInputs } from './location-inputs.ts';

export function depthOrigin(placed: Placed): Origin {
  const { part, located, style } = placed;
  const { place } = located;
  const depth = length(place?.depthMm, placed);
  const made = place === null || depth === null ? null : depthFormula(placed, place.leg, depth);
  return origin({
    title: 'Depth',
    ...shown(depth, style),
    formula: made,
    uncertaintyFormula: part.shape.kind === 'pipe' ? null : flatUncertainty(placed, 'depth', depth),
    inputs: [...shapeInputs(placed), legInput(placed)],
    source: locationFormulas[depthKey(part)].source,
  });
}

function depthKey({ shape }: PartDecision) {
  if (shape.kind !== 'pipe') return 'depth-flat' as const;
  return shape.from === 'outside' ? ('depth-pipe-outside' as const) : ('depth-pipe-inside' as const);
}

/** The way from the scanned surface on the leg: of the path what earlier legs leave, or, on a leg that comes up, what is still to go. */
function wayOnLeg(
  placed: Placed,
  leg: number,
): { readonly wayMm: number; readonly arcsMm: number; readonly up: boolean; readonly chord: boolean } | null {
  const { part, located } = placed;
  if (part.shape.kind !== 'pipe' || located.soundPathMm === null) return null;
  const shape = sectionOf(part.shape).leg((part.probe.angleDeg * Math.PI) / 180);
  if (shape === null) return null;
  const up = leg % 2 === 0 && shape.to === 'far-surface';
  const path = located.soundPathMm.value;
  return {
    wayMm: up ? leg * shape.lengthMm - path : path - (leg - 1) * shape.lengthMm,
    arcsMm: (up ? leg : leg - 1) * shape.alongMm,
    up,
    chord: shape.to === 'same-surface',
  };
}

function depthFormula(placed: Placed, leg: number, depth: Figure): FormulaShown | null {
  const { part, located, thicknessMm, style } = placed;
  const { text } = locationFormulas[depthKey(part)];
  const angle = figures.angleDeg(part.probe.angleDeg, style);
  const path = length(located.soundPathMm, placed);
  if (path === null) return null;
  if (part.shape.kind === 'pipe') {
    const on = wayOnLeg(placed, leg);
    if (on === null) return null;
    const side = part.shape.from === 'outside' ? -1 : 1;
    const radius = figures.statedMm(scannedRadius(part.shape), style);
    const third = (r: number, s: number, a: number) => Math.sqrt(r * r + s * s + side * 2 * r * s * cosDeg(a));
    const root = (r: string, s: string, a: string) =>
      `√((${r})² + (${s})² ${side < 0 ? '−' : '+'} 2 · ${r} · ${s} · cos ${a})`;
    return {
      text,
      withNumbers: withNumbers(
        [radius, figures.lengthMm(on.wayMm, style), angle],
        (r, s, a) => (side < 0 ? r - third(r, s, a) : third(r, s, a) - r),
        (r, s, a) => (side < 0 ? `${r} − ${root(r, s, a)}` : `${root(r, s, a)} − ${r}`),
        depth,
        style,
      ),
    };
  }
  const thickness = figures.statedMm(thicknessMm.value, style);
  return { text, withNumbers: flatDepthWithNumbers(path, angle, leg, thickness, depth, style) };
}

function flatUncertainty(placed: Placed, kind: 'depth' | 'surface', result: Figure | null): FormulaShown | null {
  const { part, located, thicknessMm, style } = placed;
  const { angleDeg, uAngleDeg } = part.probe;
  const uPath = located.soundPathMm?.standardUncertainty ?? null;
  const leg = located.place?.leg ?? 1;
  if (result === null || result.standardUncertainty === null || uAngleDeg === null || uPath === null) return null;
  const path = figures.lengthMm(located.soundPathMm!, style);
  const numbers = [
    figures.residualMm(uPath, style),
    path,
    figures.angleDeg(angleDeg, style),
    { value: (uAngleDeg * Math.PI) / 180, decimals: 4, unit: '' },
    { value: leg % 2 === 1 ? leg - 1 : leg, decimals: 0, unit: '' },
    figures.residualMm(thicknessMm.standardUncertainty ?? 0, style),
  ];
  const u = { ...result, value: result.standardUncertainty };
  const { text } = locationUncertainties[kind];
  if (kind === 'surface')
    return {
      text,
      withNumbers: withNumbers(
        numbers.slice(0, 4),
        (up, p, a, ua) => hypot(sinDeg(a) * up, p * cosDeg(a) * ua),
        (up, p, a, ua) => `√([sin ${a} · ${up}]² + [${p} · cos ${a} · ${ua}]²)`,
        u,
        style,
      ),
    };
  return {
    text,
    withNumbers: withNumbers(
      numbers,
      (up, p, a, ua, n, ut) => hypot(cosDeg(a) * up, p * sinDeg(a) * ua, n * ut),
      (up, p, a, ua, n, ut) => `√([cos ${a} · ${up}]² + [${p} · sin ${a} · ${ua}]² + [${n} · ${ut}]²)`,
      u,
      style,
    ),
  };
}

export function surfaceOrigin(placed: Placed): Origin {
  const { part, located, style } = placed;
  const { place } = located;
  const surface = length(place?.surfaceDistanceMm, placed);
  const isPipe = part.shape.kind === 'pipe';
  const key = isPipe ? 'surface-pipe' : 'surface-flat';
  const made = place === null || surface === null ? null : surfaceFormula(placed, place.leg, surface);
  return origin({
    title: 'Surface distance',
    ...shown(surface, style),
    formula: made,
    uncertaintyFormula: isPipe ? null : flatUncertainty(placed, 'surface', surface),
    inputs: isPipe ? [...shapeInputs(placed), legInput(placed)] : shapeInputs(placed).slice(0, 2),
    source: locationFormulas[key].source,
  });
}

function surfaceFormula(placed: Placed, leg: number, surface: Figure): FormulaShown | null {
  const { part, located, style } = placed;
  const angle = figures.angleDeg(part.probe.angleDeg, style);
  const path = length(located.soundPathMm, placed);
  if (path === null) return null;
  if (part.shape.kind !== 'pipe')
    return {
      text: locationFormulas['surface-flat'].text,
      withNumbers: withNumbers(
        [path, angle],
        (p, a) => p * sinDeg(a),
        (p, a) => `${p} · sin ${a}`,
        surface,
        style,
      ),
    };
  const on = wayOnLeg(placed, leg);
  if (on === null || on.chord) return null;
  const side = part.shape.from === 'outside' ? -1 : 1;
  const arc = (r: number, s: number, a: number) => r * atan((s * sinDeg(a)) / (r + side * s * cosDeg(a)));
  const written = (r: string, s: string, a: string) =>
    `${r} · arctan[${s} · sin ${a} / (${r} ${side < 0 ? '−' : '+'} ${s} · cos ${a})] · π / 180`;
  return {
    text: locationFormulas['surface-pipe'].text,
    withNumbers: withNumbers(
      [
        figures.lengthMm(on.arcsMm, style),
        figures.statedMm(scannedRadius(part.shape), style),
        figures.lengthMm(on.wayMm, style),
        angle,
      ],
      (before, r, s, a) => (on.up ? before - arc(r, s, a) : before + arc(r, s, a)),
      (before, r, s, a) => `${before} ${on.up ? '−' : '+'} ${written(r, s, a)}`,
      surface,
      style,
    ),
  };
}
