import type { Echo } from '../signal/echoes.ts';
import { fitLine } from '../statistics/line-fit.ts';
import type { BlockSeries } from './reference-block.ts';

/** What is taken for possible before the velocity and the zero offset are known. */
export interface MatchSettings {
  /** How far the velocity may lie from the block's nominal one, as a fraction. */
  readonly velocityWithin: number;
  /** The zero offsets that a probe may have (common practice: no wedge or delay line of a block calibration is longer than 40 µs). */
  readonly zeroOffsetUs: { readonly from: number; readonly to: number };
  /** How far an echo may lie from a distance of the series once velocity and zero offset are fitted. */
  readonly withinMm: number;
}

/** A known place in the block: a distance of the series, or a feature that may send an echo. */
export interface KnownPlace {
  readonly distanceMm: number;
  /** `null` for a distance of the series. */
  readonly feature: string | null;
}

/** An echo laid on a place. Its height counts 1 for the highest echo of the capture. */
export interface PlacedEcho {
  readonly place: KnownPlace;
  readonly echo: number;
  readonly height: number;
}

/** One way to lay the echoes on the block. */
export interface Assignment {
  readonly slopeUsPerMm: number;
  readonly zeroOffsetUs: number;
  readonly placed: readonly PlacedEcho[];
  /** The sum of the heights explained; a feature's echo counts a little less than one of the series. */
  readonly explained: number;
  readonly score: number;
}

interface Line {
  readonly slope: number;
  readonly intercept: number;
}

/** Only so many of the highest echoes are tried as the pair that fixes the line; the rest is then laid on it. */
const echoesTried = 40;
const featureWeight = 0.9;
/** Lesser reasons, in units of the highest echo: a gap in the series, a gap before its first echo, a velocity at the edge of what is possible. */
const penalties = { gap: 0.02, gapBefore: 0.03, velocity: 0.1 };

/**
 * Every different way to lay echoes on a block, best first. Every pair of echoes is tried as every pair of places that keeps
 * velocity and zero offset within the settings, and every single echo with the nominal velocity; the others are laid on that line.
 */
export function layEchoes(echoes: readonly Echo[], block: BlockSeries, settings: MatchSettings): Assignment[] {
  const usable = echoes.map((_, i) => i).filter((i) => !echoes[i].flags.includes('in-dead-zone'));
  const places: KnownPlace[] = [
    ...block.distancesMm.map((distanceMm) => ({ distanceMm, feature: null })),
    ...block.features.map(({ name, distanceMm }) => ({ distanceMm, feature: name })),
  ].sort((a, b) => a.distanceMm - b.distanceMm);
  const nominalSlope = 2000 / block.nominal.velocityMPerS;
  const found = new Map<string, Assignment>();
  for (const line of linesToTry(echoes, usable, places, nominalSlope)) {
    if (!possible(line, nominalSlope, settings)) continue;
    const assignment = layOn(line, echoes, usable, places, nominalSlope, settings);
    if (assignment === null) continue;
    const key = assignment.placed.map(({ place, echo }) => `${place.distanceMm}:${echo}`).join(' ');
    const known = found.get(key);
    if (known === undefined || assignment.score > known.score) found.set(key, assignment);
  }
  return [...found.values()].sort((a, b) => b.score - a.score);
}

function* linesToTry(
  echoes: readonly Echo[],
  usable: readonly number[],
  places: readonly KnownPlace[],
  nominalSlope: number,
): Generator<Line> {
  const times = [...usable]
    .sort((a, b) => echoes[b].amplitudePercent - echoes[a].amplitudePercent)
    .slice(0, echoesTried)
    .map((i) => echoes[i].timeUs)
    .sort((a, b) => a - b);
  for (const [i, early] of times.entries()) {
    for (const [p, near] of places.entries()) {
      yield { slope: nominalSlope, intercept: early - nominalSlope * near.distanceMm };
      for (const late of times.slice(i + 1)) {
        for (const far of places.slice(p + 1)) {
          const slope = (late - early) / (far.distanceMm - near.distanceMm);
          yield { slope, intercept: early - slope * near.distanceMm };
        }
      }
    }
  }
}

function possible({ slope, intercept }: Line, nominalSlope: number, settings: MatchSettings): boolean {
  const { from, to } = settings.zeroOffsetUs;
  const slackUs = settings.withinMm * nominalSlope;
  const velocityPossible = Math.abs(nominalSlope / slope - 1) <= settings.velocityWithin;
  return velocityPossible && intercept >= from - slackUs && intercept <= to + slackUs;
}

/** Gives each place the highest echo near it, fits the line to what was placed, and does so twice more with the better line. */
function layOn(
  start: Line,
  echoes: readonly Echo[],
  usable: readonly number[],
  places: readonly KnownPlace[],
  nominalSlope: number,
  settings: MatchSettings,
): Assignment | null {
  let line = start;
  let placed = placeEchoes(line, echoes, usable, places, 2 * settings.withinMm);
  for (let round = 0; round < 2; round++) {
    const fit = fitLine(
      placed.map((p) => p.place.distanceMm),
      placed.map((p) => echoes[p.echo].timeUs),
    );
    if (fit.ok) line = fit.value;
    placed = placeEchoes(line, echoes, usable, places, settings.withinMm);
  }
  if (placed.length === 0 || !possible(line, nominalSlope, settings)) return null;
  const explained = placed.reduce((sum, p) => sum + (p.place.feature === null ? 1 : featureWeight) * p.height, 0);
  const offNominal = (nominalSlope / line.slope - 1) / settings.velocityWithin;
  const score = explained - gapPenalty(places, placed) - penalties.velocity * offNominal ** 2;
  return { slopeUsPerMm: line.slope, zeroOffsetUs: line.intercept, placed, explained, score };
}

function placeEchoes(
  line: Line,
  echoes: readonly Echo[],
  usable: readonly number[],
  places: readonly KnownPlace[],
  withinMm: number,
): PlacedEcho[] {
  const highest = Math.max(...usable.map((i) => echoes[i].amplitudePercent));
  const taken = new Set<number>();
  const placed: PlacedEcho[] = [];
  for (const place of places) {
    let best: number | null = null;
    for (const i of usable) {
      const offMm = Math.abs((echoes[i].timeUs - line.intercept) / line.slope - place.distanceMm);
      if (offMm > withinMm || taken.has(i)) continue;
      if (best === null || echoes[i].amplitudePercent > echoes[best].amplitudePercent) best = i;
    }
    if (best === null) continue;
    taken.add(best);
    placed.push({ place, echo: best, height: echoes[best].amplitudePercent / highest });
  }
  return placed;
}

function gapPenalty(places: readonly KnownPlace[], placed: readonly PlacedEcho[]): number {
  const series = places.filter((p) => p.feature === null);
  const matched = placed.filter((p) => p.place.feature === null).map((p) => series.indexOf(p.place));
  if (matched.length === 0) return 0;
  const first = Math.min(...matched);
  const gaps = Math.max(...matched) - first + 1 - matched.length;
  return penalties.gap * gaps + penalties.gapBefore * first;
}
