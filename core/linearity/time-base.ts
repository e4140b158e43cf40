import type { CaptureId } from '../capture/capture.ts';
import type { SampleRange } from '../capture/waveform.ts';
import type { DecisionRule, Limits } from '../check/verdict.ts';
import type { Flag } from '../flag.ts';
import { failure, type Outcome, problem, success } from '../outcome.ts';
import type { Quantity } from '../units/quantity.ts';
import { alongLine, type LineDefinition, lineWeights, slopeOf } from './line-definition.ts';
import { assessedStep, type JudgedBy, type LinearityStep, missingStep } from './linearity-step.ts';
import { type LinearityPart, partOf } from './part.ts';
import type { TimeBaseRule } from './rule.ts';

/** One reflector of the time base, and the echo that was read for it. */
export interface PlacedEcho {
  /** Number of the echo, or distance in mm. */
  readonly place: number;
  /** Standard uncertainty of the distance; 0 for a number. */
  readonly uPlace: number;
  readonly name: string;
  readonly captureId: CaptureId | null;
  /** `null` where no echo was found there. */
  readonly timeUs: Quantity | null;
  readonly flags: readonly Flag[];
  readonly from: SampleRange | null;
  /** Why there is no time; `null` where there is one. */
  readonly missing: string | null;
}

/** The full width of the time base, as the person states it. */
export type StatedRange =
  | { readonly axis: 'time'; readonly widthUs: number }
  | { readonly axis: 'path'; readonly widthMm: number };

export interface TimeBaseInput {
  /** In order of place. */
  readonly echoes: readonly PlacedEcho[];
  readonly places: 'numbers' | 'distances';
  /** Sound path from one numbered echo to the next; `null` where not known, and for distances. */
  readonly spacingMm: number | null;
  readonly rule: TimeBaseRule | null;
  /** Which line the deviations are counted from where no rule says so. */
  readonly line: 'end-points' | 'least-squares';
  readonly range: StatedRange | null;
  readonly decision: DecisionRule;
}

export interface TimeBaseResult extends LinearityPart<TimeBaseRule> {
  readonly places: TimeBaseInput['places'];
  /** By what the deviations are counted from a line, and that line: time = intercept + slope · place. */
  readonly definition: TimeBaseRule['line'];
  readonly line: { readonly interceptUs: number; readonly slopeUs: number } | null;
  readonly rangeUs: number | null;
  readonly rangeFrom: 'stated' | 'anchors' | 'span' | null;
  /** Place of each step, for the plot; of the steps' order. */
  readonly stepPlaces: readonly number[];
}

/** A line through two points leaves no deviation to judge. */
const fewestOfAll = 3;

/**
 * Holds echoes at known places against a straight line, each deviation in % of the full range.
 *
 *     time |            x  .        deviation = 100 · (time − time on the line) / full range
 *          |      x  .
 *          | .  '                   x  read    .  the line, by the rule's own definition
 *          +------------- place
 *
 * The uncertainty takes each time's and each distance's share, through the line as well: u² = (100 / range)² · Σ (δij − wij)² · [u²(tj) + slope² · u²(dj)].
 * That of the range itself is left out: it scales a deviation by some 1e-4. An echo through which the line is drawn has no deviation of its own.
 *
 * A rule with anchors sets two echoes on marks of the screen and so gives the range; a stated one is then not used, with a warning. Otherwise the range is the stated one, or
 * else the span of the reflectors, which makes the deviations larger, never smaller.
 * Problems: `too-few-echoes` (fewer than two), `range-needs-spacing`, `range-too-small`, `anchors-need-numbers`.
 * Sources: the rule's own `source`; propagation: JCGM 100:2008 (GUM), 5.1.2.
 */
export function judgeTimeBase(input: TimeBaseInput): Outcome<TimeBaseResult> {
  const { echoes, rule, places } = input;
  const definition = rule?.line ?? { kind: input.line };
  const by: JudgedBy = { rule, decision: input.decision };
  if (definition.kind === 'anchors' && places !== 'numbers') {
    const sentence = `the rule ${rule?.name} sets two numbered echoes of one plate on marks of the screen; give equally spaced echoes, not distances`;
    return failure(problem('anchors-need-numbers', { file: 'time base' }, sentence));
  }
  const usable = echoes.filter(isUsable);
  if (usable.length < 2) {
    const sentence = `${usable.length === 0 ? 'no echo' : 'one echo'} of the time base could be timed, and a line needs two; widen the window or lower the height from which echoes count`;
    return failure(problem('too-few-echoes', { file: 'time base' }, sentence));
  }
  const drawn = lineThrough(usable, definition);
  if (drawn === null) return success(withoutLine(input, definition, by));
  const { weights, onLine, slopeUs, defining } = drawn;
  const range = rangeOf(input, usable, slopeUs, definition);
  if (!range.ok) return range;
  const { rangeUs, from: rangeFrom } = range.value;
  const limit = rule?.deviationPercent ?? null;
  const limits: Limits | null = limit === null ? null : { lower: -limit, upper: limit };
  const steps = echoes.map((echo) => {
    const i = usable.indexOf(echo as UsableEcho);
    if (i < 0) return withoutTime(echo, limits, by);
    const spread = usable.map((other, j) => {
      const share = (i === j ? 1 : 0) - weights[i][j];
      const u = other.timeUs.standardUncertainty;
      return u === null ? (share === 0 ? 0 : null) : share ** 2 * (u ** 2 + (slopeUs * other.uPlace) ** 2);
    });
    const variance = spread.some((part) => part === null) ? null : spread.reduce((sum, part) => sum! + part!, 0);
    const isDefining = defining.includes(i);
    return assessedStep(
      {
        name: echo.name,
        captureId: echo.captureId,
        from: echo.from,
        timeUs: usable[i].timeUs.value,
        expected: { value: onLine[i], standardUncertainty: null },
        read: echo.timeUs,
        readUnit: 'µs',
        unit: '%',
        formula: 'time-base-deviation',
        terms: [
          { name: 'time of the echo', value: usable[i].timeUs, unit: 'µs' },
          { name: 'time on the line', value: { value: onLine[i], standardUncertainty: null }, unit: 'µs' },
          { name: 'full range', value: { value: rangeUs, standardUncertainty: null }, unit: 'µs' },
        ],
        uDeviation: isDefining ? 0 : variance === null ? null : (100 / rangeUs) * Math.sqrt(variance),
        limits: isDefining ? null : limits,
        flags: echo.flags,
        remark: isDefining ? 'the line is drawn through this echo: it has no deviation of its own' : null,
      },
      by,
    );
  });
  return success(
    {
      ...partOf({
        rule,
        decision: input.decision,
        steps,
        conclusions: countOf(usable.length, rule, limits, by),
        warnings: range.warnings,
      }),
      places,
      definition,
      line: { interceptUs: onLine[0] - slopeUs * usable[0].place, slopeUs },
      rangeUs,
      rangeFrom,
      stepPlaces: echoes.map((echo) => echo.place),
    },
    range.warnings,
  );
}

type UsableEcho = PlacedEcho & { readonly timeUs: Quantity };

/** The crest of a saturated echo is not its peak: where it is timed, `missing` says so already. */
function isUsable(echo: PlacedEcho): echo is UsableEcho {
  return echo.timeUs !== null && echo.missing === null;
}

function lineThrough(usable: readonly UsableEcho[], definition: TimeBaseRule['line']) {
  const through = placesOfLine(usable, definition);
  if (through === null) return null;
  const places = usable.map((echo) => echo.place);
  const weights = lineWeights(places, through);
  const onLine = alongLine(
    weights,
    usable.map((echo) => echo.timeUs.value),
  );
  const slopeUs = slopeOf(places, onLine);
  if (slopeUs === null) return null;
  const defining =
    through.kind === 'end-points'
      ? [0, usable.length - 1]
      : through.kind === 'through'
        ? [through.first, through.second]
        : [];
  return { weights, onLine, slopeUs, defining };
}

/** `null` where an echo that the rule draws its line through is missing. */
function placesOfLine(usable: readonly UsableEcho[], definition: TimeBaseRule['line']): LineDefinition | null {
  if (definition.kind !== 'anchors') return definition;
  const [first, second] = definition.anchors.map(({ echo }) => usable.findIndex(({ place }) => place === echo));
  return first < 0 || second < 0 ? null : { kind: 'through', first, second };
}

function rangeOf(
  { range, spacingMm, places }: TimeBaseInput,
  usable: readonly UsableEcho[],
  slopeUs: number,
  definition: TimeBaseRule['line'],
): Outcome<{ readonly rangeUs: number; readonly from: 'stated' | 'anchors' | 'span' }> {
  const spanUs = slopeUs * (usable[usable.length - 1].place - usable[0].place);
  if (definition.kind === 'anchors') {
    const [first, second] = definition.anchors;
    const rangeUs = (100 * slopeUs * (second.echo - first.echo)) / (second.percent - first.percent);
    const sentence = `the rule takes the full range from echoes ${first.echo} and ${second.echo} on their marks; the range given is not used`;
    const warnings = range === null ? [] : [problem('range-from-anchors', { file: 'time base' }, sentence)];
    return success({ rangeUs, from: 'anchors' }, warnings);
  }
  if (range === null) {
    const sentence =
      'no full range was given: the deviations are in % of the span from the first reflector to the last, which makes them larger, never smaller';
    return success({ rangeUs: spanUs, from: 'span' }, [problem('range-from-span', { file: 'time base' }, sentence)]);
  }
  if (range.axis === 'path' && places === 'numbers' && spacingMm === null) {
    const sentence =
      'the range is given in sound path, but how far apart the echoes stand is not; give the spacing, or the range in time';
    return failure(problem('range-needs-spacing', { file: 'time base' }, sentence));
  }
  const perMm = places === 'numbers' ? slopeUs / (spacingMm ?? 1) : slopeUs;
  const rangeUs = range.axis === 'time' ? range.widthUs : range.widthMm * perMm;
  if (rangeUs < spanUs * (1 - 1e-3)) {
    const sentence = `the range given is ${rangeUs.toFixed(2)} µs wide, but the reflectors span ${spanUs.toFixed(2)} µs; give the full width of the time base`;
    return failure(problem('range-too-small', { file: 'time base' }, sentence));
  }
  return success({ rangeUs, from: 'stated' });
}

function withoutTime(echo: PlacedEcho, limits: Limits | null, by: JudgedBy): LinearityStep {
  const { name, missing, captureId, from, timeUs, flags } = echo;
  return missingStep(name, missing ?? 'the echo could not be timed', limits, '%', by, {
    captureId,
    from,
    timeUs: timeUs?.value ?? null,
    read: timeUs,
    readUnit: 'µs',
    flags,
  });
}

/** Without its line no echo has a deviation; the times stand all the same. */
function withoutLine(input: TimeBaseInput, definition: TimeBaseRule['line'], by: JudgedBy): TimeBaseResult {
  const { rule, decision, echoes, places } = input;
  const wanted = definition.kind === 'anchors' ? definition.anchors.map(({ echo }) => echo).join(' and ') : '';
  const limits =
    rule?.deviationPercent == null ? null : { lower: -rule.deviationPercent, upper: rule.deviationPercent };
  const missing = `the rule draws its line through echoes ${wanted}, and they are not both there`;
  const steps = echoes.map((echo) => withoutTime({ ...echo, missing: echo.missing ?? missing }, limits, by));
  return {
    ...partOf({ rule, decision, steps }),
    places,
    definition,
    line: null,
    rangeUs: null,
    rangeFrom: null,
    stepPlaces: echoes.map((echo) => echo.place),
  };
}

/** Fewer reflectors than the rule needs keep it from passing. */
function countOf(count: number, rule: TimeBaseRule | null, limits: Limits | null, by: JudgedBy): LinearityStep[] {
  const fewest = Math.max(rule?.fewestReflectors ?? fewestOfAll, fewestOfAll);
  if (rule === null || count >= fewest) return [];
  return [
    missingStep(
      `at least ${fewest} reflectors`,
      `${count} could be timed, and the rule needs ${fewest}; capture more of them`,
      limits,
      '%',
      by,
    ),
  ];
}
