import { unreachable } from '../invariant.ts';
import type { FigureAsked, FormulaShown, Origin, OriginInput } from '../origin.ts';
import { locationFormulas, locationUncertainties } from '../part/formulas.ts';
import { sectionOf } from '../part/section.ts';
import type { ProbeFigure } from '../probe-check/probe-checks.ts';
import type { PartDecision } from '../review/part-decision.ts';
import { refersTo } from '../steps/calibration-points.ts';
import type { LocatedReading, LocationResult } from '../steps/locate.ts';
import type { Quantity } from '../units/quantity.ts';
import { flagsShown, type OriginContext, origin, shown } from './context.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';
import { type WrittenNumber, withNumbers } from './formula-numbers.ts';
import { readAngle } from './read-angle.ts';

type Asked = Extract<FigureAsked, { kind: 'location' }>;
type AskedOfReading = Extract<Asked, { gate: string }>;

interface Context extends OriginContext {
  readonly result: LocationResult;
  readonly part: PartDecision;
}

interface Placed extends Context {
  readonly asked: AskedOfReading;
  readonly located: LocatedReading;
  /** Under the reading's capture. */
  readonly thicknessMm: Quantity;
}

/** Where a figure of the location comes from. */
export function originInLocation(asked: Asked, context: OriginContext): Origin | null {
  const { part } = context.review;
  const result = context.evaluation.location;
  if (part === null || result === null) return null;
  const known = { ...context, part, result };
  if (!('gate' in asked)) return ofBeam(asked.figure, known);
  const located = result.readings.find((one) => one.captureId === asked.captureId && one.gate === asked.gate);
  if (located === undefined) return null;
  const made = ofReading({ ...known, asked, located, thicknessMm: thicknessUnder(known, located) });
  const timeUs = context.evaluation.readings?.readings.find(
    (one) => one.captureId === asked.captureId && one.gate === asked.gate,
  );
  return {
    ...made,
    title: `${made.title} at gate ‘${asked.gate}’`,
    capture: {
      captureId: located.captureId,
      samples: timeUs?.from ?? null,
      timeUs: timeUs?.timeUs?.value ?? null,
    },
    flags: flagsShown(located.flags),
  };
}

function thicknessUnder({ part, evaluation }: Context, { captureId }: LocatedReading): Quantity {
  const { shape } = part;
  const capture = evaluation.captures.find((one) => one.captureId === captureId);
  const step =
    shape.kind === 'step-block'
      ? shape.steps.find(({ captures }) => capture !== undefined && captures.some((name) => refersTo(name, capture)))
      : shape;
  return { value: step?.thicknessMm ?? 0, standardUncertainty: step?.uThicknessMm ?? null };
}

function ofReading(placed: Placed): Origin {
  switch (placed.asked.figure) {
    case 'depth':
      return depthOrigin(placed);
    case 'surface-distance':
      return surfaceOrigin(placed);
    case 'from-front':
      return fromFrontOrigin(placed);
    case 'across':
      return acrossOrigin(placed);
    case 'leg':
      return legOrigin(placed);
    default:
      return unreachable(placed.asked.figure);
  }
}

const plain = (name: string, figure: Figure | null, { style }: OriginContext): OriginInput => ({
  name,
  value: figureWithUncertainty(figure, style),
  asked: null,
});

const length = (known: Quantity | null | undefined, { style }: OriginContext): Figure | null =>
  known == null ? null : figures.lengthMm(known, style);

function pathInput(placed: Placed): OriginInput {
  const { captureId, gate } = placed.asked;
  return {
    ...plain('sound path', length(placed.located.soundPathMm, placed), placed),
    asked: { kind: 'reading', captureId, gate, figure: 'sound-path' },
  };
}

function own(placed: Placed, name: string, figure: AskedOfReading['figure'], value: string): OriginInput {
  return { name, value, asked: { ...placed.asked, figure } };
}

function angleInput({ part, style }: Placed): OriginInput {
  const { angleDeg, uAngleDeg } = part.probe;
  const value = figureWords(figures.angleDeg(angleDeg, style), style);
  return { name: 'beam angle', value: uAngleDeg === null ? value : `${value} ± ${uAngleDeg}°`, asked: null };
}

function thicknessInput(placed: Placed): OriginInput {
  const { thicknessMm, style } = placed;
  const value = figureWords(figures.statedMm(thicknessMm.value, style), style);
  const u = thicknessMm.standardUncertainty;
  const spread = u === null || u === 0 ? '' : ` ± ${figureWords(figures.statedMm(u, style), style)}`;
  return { name: 'thickness', value: `${value}${spread}`, asked: null };
}

function shapeInputs(placed: Placed): OriginInput[] {
  const { part, style } = placed;
  const { shape } = part;
  const inputs = [pathInput(placed), angleInput(placed), thicknessInput(placed)];
  if (shape.kind === 'pipe')
    inputs.push({
      name: shape.from === 'outside' ? 'outside radius' : 'radius of the bore',
      value: figureWords(figures.statedMm(scannedRadius(shape), style), style),
      asked: null,
    });
  return inputs;
}

type Pipe = Extract<PartDecision['shape'], { kind: 'pipe' }>;

const scannedRadius = ({ from, outsideRadiusMm, thicknessMm }: Pipe): number =>
  from === 'outside' ? outsideRadiusMm : outsideRadiusMm - thicknessMm;

const legInput = (placed: Placed): OriginInput => own(placed, 'leg', 'leg', String(placed.located.place?.leg ?? '–'));

function depthOrigin(placed: Placed): Origin {
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
  const whole: WrittenNumber = { value: leg - 1, decimals: 0, unit: '' };
  const thickness = figures.statedMm(thicknessMm.value, style);
  const downward = leg % 2 === 1;
  return {
    text,
    withNumbers: withNumbers(
      [path, angle, whole, thickness],
      (p, a, n, t) => (downward ? p * cosDeg(a) - n * t : t - (p * cosDeg(a) - n * t)),
      (p, a, n, t) => (downward ? `${p} · cos ${a} − ${n} · ${t}` : `${t} − (${p} · cos ${a} − ${n} · ${t})`),
      depth,
      style,
    ),
  };
}

const cosDeg = (deg: number): number => Math.cos((deg * Math.PI) / 180);
const sinDeg = (deg: number): number => Math.sin((deg * Math.PI) / 180);

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
        (up, p, a, ua) => Math.hypot(sinDeg(a) * up, p * cosDeg(a) * ua),
        (up, p, a, ua) => `√([sin ${a} · ${up}]² + [${p} · cos ${a} · ${ua}]²)`,
        u,
        style,
      ),
    };
  return {
    text,
    withNumbers: withNumbers(
      numbers,
      (up, p, a, ua, n, ut) => Math.hypot(cosDeg(a) * up, p * sinDeg(a) * ua, n * ut),
      (up, p, a, ua, n, ut) => `√([cos ${a} · ${up}]² + [${p} · sin ${a} · ${ua}]² + [${n} · ${ut}]²)`,
      u,
      style,
    ),
  };
}

function surfaceOrigin(placed: Placed): Origin {
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
  const arc = (r: number, s: number, a: number) => r * Math.atan((s * sinDeg(a)) / (r + side * s * cosDeg(a)));
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

function surfaceInput(placed: Placed): OriginInput {
  const surface = length(placed.located.place?.surfaceDistanceMm, placed);
  return own(placed, 'surface distance', 'surface-distance', figureWithUncertainty(surface, placed.style));
}

function fromFrontOrigin(placed: Placed): Origin {
  const { part, located, style } = placed;
  const { indexToFrontMm, uIndexMm } = part.probe;
  const result = length(located.place?.fromFrontMm, placed);
  const surface = length(located.place?.surfaceDistanceMm, placed);
  const known = result !== null && surface !== null && indexToFrontMm !== null;
  return origin({
    title: 'From the front of the wedge',
    ...shown(result, style),
    formula: known
      ? {
          text: locationFormulas['from-front'].text,
          withNumbers: withNumbers(
            [surface, figures.statedMm(indexToFrontMm, style)],
            (s, x) => s - x,
            (s, x) => `${s} − ${x}`,
            result,
            style,
          ),
        }
      : null,
    uncertaintyFormula: known ? sumOfSquares('from-front', surface, [uIndexMm], result, placed) : null,
    inputs: [
      surfaceInput(placed),
      plain('index point to front', indexToFrontMm === null ? null : stated(indexToFrontMm, uIndexMm, placed), placed),
    ],
    source: locationFormulas['from-front'].source,
  });
}

function stated(mm: number, u: number, { style }: OriginContext): Figure {
  return figures.lengthMm({ value: mm, standardUncertainty: u === 0 ? null : u }, style);
}

function sumOfSquares(
  kind: 'across' | 'from-front',
  surface: Figure,
  others: readonly number[],
  result: Figure,
  { style }: Placed,
): FormulaShown | null {
  if (surface.standardUncertainty === null || result.standardUncertainty === null) return null;
  return {
    text: locationUncertainties[kind].text,
    withNumbers: withNumbers(
      [{ ...surface, value: surface.standardUncertainty }, ...others.map((u) => figures.residualMm(u, style))],
      (...u) => Math.hypot(...u),
      (...u) => `√(${u.map((one) => `(${one})²`).join(' + ')})`,
      { ...result, value: result.standardUncertainty },
      style,
    ),
  };
}

function acrossOrigin(placed: Placed): Origin {
  const { part, located, style } = placed;
  const { probe, place } = located;
  const result = length(place?.acrossMm, placed);
  const surface = length(place?.surfaceDistanceMm, placed);
  const known = result !== null && surface !== null && probe !== null;
  const right = probe?.side === 'right';
  return origin({
    title: 'Across the weld',
    ...shown(result, style),
    formula: known
      ? {
          text: locationFormulas.across.text,
          withNumbers: withNumbers(
            [surface, figures.statedMm(probe.offsetMm, style)],
            (s, o) => (right ? o - s : s - o),
            (s, o) => (right ? `${o} − ${s}` : `${s} − ${o}`),
            result,
            style,
          ),
        }
      : null,
    uncertaintyFormula: known
      ? sumOfSquares('across', surface, [probe.uOffsetMm, part.probe.uIndexMm], result, placed)
      : null,
    inputs: [
      surfaceInput(placed),
      plain('offset of the index point', probe && stated(probe.offsetMm, probe.uOffsetMm, placed), placed),
      { name: 'side of the probe', value: probe?.side ?? 'not known', asked: null },
    ],
    source: locationFormulas.across.source,
  });
}

function legOrigin(placed: Placed): Origin {
  const { located } = placed;
  return origin({
    title: 'Leg',
    value: String(located.place?.leg ?? '–'),
    inputs: shapeInputs(placed),
    source: `${locationFormulas.leg.text}. ${locationFormulas.leg.source}.`,
  });
}

function ofBeam(figure: Exclude<Asked, AskedOfReading>['figure'], context: Context): Origin | null {
  switch (figure) {
    case 'leg-length':
    case 'half-skip':
    case 'skip':
    case 'v-path':
      return skipOrigin(figure, context);
    case 'index-point':
      return indexOrigin(context);
    case 'probe-angle':
      return readAngle(context);
    case 'expected-angle':
      return elsewhereOrigin(context);
    default:
      return unreachable(figure);
  }
}

const skipTitles = { 'leg-length': 'Leg', 'half-skip': 'Half skip', skip: 'Skip', 'v-path': 'V-path' } as const;

function skipOrigin(figure: keyof typeof skipTitles, { part, result, style }: Context): Origin | null {
  const skips = result.beam?.skips ?? null;
  const { shape, probe } = part;
  if (skips === null || shape.kind === 'step-block') return null;
  const value = {
    'leg-length': skips.legMm,
    'half-skip': skips.halfSkipMm,
    skip: skips.skipMm,
    'v-path': skips.vPathMm,
  };
  const shownLength = figures.lengthMm(value[figure], style);
  const twice = figure === 'skip' || figure === 'v-path';
  const alongSurface = figure === 'skip' || figure === 'half-skip';
  const flat = shape.kind === 'plate';
  return origin({
    title: skipTitles[figure],
    ...shown(shownLength, style),
    formula: flat
      ? {
          text: locationFormulas[figure].text,
          withNumbers: withNumbers(
            [figures.statedMm(shape.thicknessMm, style), figures.angleDeg(probe.angleDeg, style)],
            (t, a) => (twice ? 2 : 1) * (alongSurface ? t * Math.tan((a * Math.PI) / 180) : t / cosDeg(a)),
            (t, a) => `${twice ? '2 · ' : ''}${t} ${alongSurface ? `· tan ${a}` : `/ cos ${a}`}`,
            shownLength,
            style,
          ),
        }
      : null,
    inputs: [
      { name: 'thickness', value: figureWords(figures.statedMm(shape.thicknessMm, style), style), asked: null },
      { name: 'beam angle', value: figureWords(figures.angleDeg(probe.angleDeg, style), style), asked: null },
    ],
    source: flat ? locationFormulas[figure].source : 'Cosine rule in a pipe (common practice)',
  });
}

function indexOrigin({ part, result, style }: Context): Origin | null {
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

function elsewhereOrigin({ part, result, style }: Context): Origin | null {
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
        (a, there, here, w) => (Math.asin(((sinDeg(a) * there) / here) * w) * 180) / Math.PI,
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
