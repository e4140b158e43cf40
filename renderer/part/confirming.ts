import type { PartDecision } from '../../core/review/part-decision.ts';
import type { LocatedReading } from '../../core/steps/locate.ts';

/** Readings at which one corner of the part's own is expected to echo, in one gate. */
export interface Expecting {
  readonly gate: string;
  readonly name: string;
  readonly leg: number;
  readonly sentence: string;
  readonly readings: readonly LocatedReading[];
  /** Of them, what was decided; `null` where they differ, or nothing was. */
  readonly taken: 'reflector' | 'geometry' | null;
  readonly undecided: number;
}

/** The readings that may come from the part's own shape, by gate and corner, those first that wait for a decision. */
export function expecting(readings: readonly LocatedReading[]): readonly Expecting[] {
  const groups = new Map<string, LocatedReading[]>();
  for (const reading of readings) {
    const nearest = reading.geometry[0];
    if (nearest === undefined) continue;
    const key = JSON.stringify([reading.gate, nearest.expected.name, nearest.expected.leg]);
    groups.set(key, [...(groups.get(key) ?? []), reading]);
  }
  return [...groups.values()]
    .map((group): Expecting => {
      const [first] = group as [LocatedReading, ...LocatedReading[]];
      const { expected, sentence } = first.geometry[0]!;
      const takens = new Set(group.map(({ taken }) => taken));
      return {
        gate: first.gate,
        name: expected.name,
        leg: expected.leg,
        sentence,
        readings: group,
        taken: takens.size === 1 ? first.taken : null,
        undecided: group.filter(({ taken }) => taken === null).length,
      };
    })
    .sort((a, b) => Number(b.undecided > 0) - Number(a.undecided > 0));
}

/** The part with what was decided of these readings; `null` takes it back. Notes stay. */
export function withTaken(
  part: PartDecision,
  readings: readonly Pick<LocatedReading, 'captureId' | 'gate'>[],
  taken: 'reflector' | 'geometry' | null,
): PartDecision {
  const isMeant = (capture: string, gate: string) =>
    readings.some((reading) => reading.captureId === capture && reading.gate === gate);
  const others = part.confirmed.filter(({ capture, gate }) => !isMeant(capture, gate));
  if (taken === null) return { ...part, confirmed: others };
  const own = readings.map(({ captureId, gate }) => ({
    capture: captureId,
    gate,
    taken,
    notes: part.confirmed.find((one) => one.capture === captureId && one.gate === gate)?.notes ?? '',
  }));
  return { ...part, confirmed: [...others, ...own] };
}
