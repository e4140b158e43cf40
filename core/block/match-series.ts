import type { Doubt } from '../doubt.ts';
import type { Echo } from '../signal/echoes.ts';
import { figure } from '../units/figure.ts';
import { type Assignment, layEchoes, type MatchSettings } from './lay-echoes.ts';
import { otherRadiusDoubt } from './other-radius.ts';
import { type BlockSeries, otherRadius } from './reference-block.ts';

export const defaultMatchSettings: MatchSettings = {
  velocityWithin: 0.1,
  zeroOffsetUs: { from: 0, to: 40 },
  withinMm: 0.4,
};

/** Echoes are named by their index in the list that was given. */
export interface SeriesMatch {
  readonly matches: readonly { readonly distanceMm: number; readonly echo: number }[];
  /** In the order given; named where the place tells what it is. */
  readonly unmatched: readonly { readonly echo: number; readonly name: string | null }[];
  readonly doubts: readonly Doubt[];
}

/**
 * Lays the echoes of one capture on the series of a block. Neither velocity nor zero offset is known beforehand: of all ways that
 * keep both within the settings, the one is taken that explains the most height, with the fewest gaps and the velocity nearest to
 * nominal as lesser reasons. A missing echo therefore does not shift the numbering, and an echo of a slot or of the wedge is left
 * out by name.
 *
 * Doubts: `ambiguous-assignment` where another way explains as much, no two echoes fit, or the highest echo belongs to nothing;
 * `zero-offset-implausible` where the echoes look like those of the block faced the other way.
 */
export function matchSeries(
  echoes: readonly Echo[],
  block: BlockSeries,
  settings: MatchSettings = defaultMatchSettings,
): SeriesMatch {
  const ranked = layEchoes(echoes, block, settings);
  const best = ranked[0] ?? null;
  const matches =
    best === null ? [] : ofSeries(best).map(({ place, echo }) => ({ distanceMm: place.distanceMm, echo }));
  const unmatched = echoes
    .map((_, echo) => ({ echo, name: nameOf(echoes, echo, best, settings) }))
    .filter(({ echo }) => !matches.some((m) => m.echo === echo));
  return {
    matches,
    unmatched,
    doubts: best === null ? [nothingFits(echoes.length, block)] : doubtsOf(echoes, unmatched, ranked, block),
  };
}

/** An echo this far ahead of a reflector's, or less, and lower than it, is taken for that of a slot or saw cut (common practice). */
const justAheadMm = 10;

function nameOf(
  echoes: readonly Echo[],
  echo: number,
  best: Assignment | null,
  settings: MatchSettings,
): string | null {
  if (echoes[echo].flags.includes('in-dead-zone')) return 'main bang';
  if (best === null) return null;
  const pathMm = (echoes[echo].timeUs - best.zeroOffsetUs) / best.slopeUsPerMm;
  const place = best.placed.find((p) => p.echo === echo)?.place;
  if (place?.feature) return `${place.feature}, ${figure(place.distanceMm, 1)} mm`;
  if (pathMm < settings.withinMm) return 'wedge echo';
  const ahead = best.placed.find(({ place: { distanceMm }, echo: other }) => {
    const lower = echoes[echo].amplitudePercent < echoes[other].amplitudePercent;
    return lower && distanceMm > pathMm && distanceMm - pathMm <= justAheadMm;
  });
  return ahead === undefined ? null : `slot or saw cut just ahead of ${figure(ahead.place.distanceMm, 1)} mm`;
}

function nothingFits(count: number, block: BlockSeries): Doubt {
  const found = count < 2 ? 'nothing was found that can' : `no two of the ${count} echoes can`;
  const sentence = `${found} be laid on ${block.title} with a velocity near ${block.nominal.velocityMPerS} m/s and a possible zero offset; check block and direction, or give the reflectors by their windows`;
  return { flag: 'ambiguous-assignment', sentence };
}

/** Ways that explain heights as equal as this explain equally well; echoes lower than twice this do not decide. */
const equalWithin = 0.05;

function doubtsOf(
  echoes: readonly Echo[],
  unmatched: SeriesMatch['unmatched'],
  ranked: readonly Assignment[],
  block: BlockSeries,
): Doubt[] {
  const best = ranked[0];
  const series = ofSeries(best);
  const ofOtherRadius = best.placed.filter((p) => p.place.feature === otherRadius);
  if (series.length < 2 && ofOtherRadius.length >= 2) {
    const list = ofOtherRadius.map((p) => figure(p.place.distanceMm, 1)).join(', ');
    const sentence = `the echoes fit the other radius faced (${list} mm with a zero offset of ${figure(best.zeroOffsetUs, 2)} µs), not ${block.title}; choose that direction if the probe faced it`;
    return [{ flag: 'zero-offset-implausible', sentence }];
  }
  const usable = echoes.filter((e) => !e.flags.includes('in-dead-zone')).length;
  const explained = best.placed.length - ofOtherRadius.length;
  if (explained < 2 && usable > 1 && block.distancesMm.length > 1) return [nothingFits(usable, block)];
  const doubts: Doubt[] = [];
  const rival = ranked.slice(1).find((a) => a.explained >= best.explained - equalWithin && contradict(a, best));
  if (rival !== undefined) {
    const sentence = `the echoes fit ${block.title} as ${inWords(best)}, and as well as ${inWords(rival)}; say which by giving the reflectors their windows`;
    doubts.push({ flag: 'ambiguous-assignment', sentence });
  }
  const highest = unmatched
    .filter(({ name }) => name === null)
    .find(({ echo }) => echoes.every((e) => e.amplitudePercent <= echoes[echo].amplitudePercent));
  if (highest !== undefined) {
    const { timeUs, amplitudePercent } = echoes[highest.echo];
    const sentence = `the highest echo (${figure(timeUs, 2)} µs, ${figure(amplitudePercent, 0)} %) belongs to nothing known of ${block.title}; check block and direction, or what sends it`;
    doubts.push({ flag: 'ambiguous-assignment', sentence });
  }
  const faced = series.length < 2 ? null : otherRadiusDoubt(block, 2000 / best.slopeUsPerMm, best.zeroOffsetUs);
  return faced === null ? doubts : [...doubts, faced];
}

/** Whether two ways take one echo for two places, or one place for two echoes. What only one of them explains is no contradiction. */
function contradict(a: Assignment, b: Assignment): boolean {
  return a.placed.some((p) =>
    b.placed.some((q) => {
      const sameEcho = p.echo === q.echo;
      const samePlace = p.place.distanceMm === q.place.distanceMm;
      return sameEcho !== samePlace && Math.min(p.height, q.height) >= 2 * equalWithin;
    }),
  );
}

function ofSeries(assignment: Assignment) {
  return assignment.placed.filter((p) => p.place.feature === null);
}

function inWords(assignment: Assignment): string {
  const list = assignment.placed.map(
    ({ place }) => `${figure(place.distanceMm, 1)}${place.feature === null ? '' : ` (${place.feature})`}`,
  );
  return `${list.join(', ')} mm with a zero offset of ${figure(assignment.zeroOffsetUs, 2)} µs`;
}
