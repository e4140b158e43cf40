import type { Reflector } from '../../core/review/review.ts';
import type {
  AttenuationDecision,
  CurveDecision,
  SensitivityDecision,
} from '../../core/review/sensitivity-decision.ts';
import { type LevelSet, publishedLevels } from '../../core/sensitivity/evaluation-levels.ts';
import { type ReflectorKind, reflectorKinds, spreadingOf } from '../../core/sensitivity/reflector-kind.ts';
import type { Option } from '../parts/Choice.tsx';

/** A curve on which nothing has been decided yet: no kind of reflector is taken for granted, and so no law. */
export const noCurve: CurveDecision = {
  captures: [],
  kind: 'other',
  reflectors: [],
  thresholdPercent: 10,
  straightIn: 'db',
  referencePercent: 80,
  referenceGainDb: null,
  levels: null,
  decision: 'with-uncertainty',
  transferCorrectionDb: 0,
  uTransferCorrectionDb: 0,
};

export const noSensitivity: SensitivityDecision = {
  curve: null,
  attenuation: null,
  probe: null,
  uCouplingDb: 0,
  uGainDb: 0,
};

export const kindOptions: readonly Option<ReflectorKind>[] = reflectorKinds.map((id) => {
  const { title, exponent } = spreadingOf[id];
  return {
    id,
    label: id === 'other' ? 'Another kind, or not known' : title.charAt(0).toUpperCase() + title.slice(1),
    description:
      exponent === null ? 'No law of spreading is known for it' : `Height falls as 1 / path^${exponent} by spreading`,
  };
});

const ownLevels = ({ name }: LevelSet): string => `own ${name}`;
export const noLevels = 'none';

export function levelOptions(choice: CurveDecision['levels']): readonly Option<string>[] {
  return [
    { id: noLevels, label: 'No levels: figures alone' },
    ...publishedLevels.map(({ name, title, edition }) => ({ id: name, label: title, description: edition })),
    ...(choice?.kind === 'own'
      ? [{ id: ownLevels(choice.rule), label: choice.rule.title, description: `${choice.rule.edition} (my own)` }]
      : []),
  ];
}

export function chosenLevels(choice: CurveDecision['levels']): string {
  if (choice === null) return noLevels;
  return choice.kind === 'own' ? ownLevels(choice.rule) : choice.name;
}

export function levelsOf(choice: CurveDecision['levels']): LevelSet | null {
  if (choice === null) return null;
  return choice.kind === 'own' ? choice.rule : (publishedLevels.find(({ name }) => name === choice.name) ?? null);
}

/** The two echoes of a back wall, the nearer first, from a list of them; `null` as long as there are not two. */
export function backWallOf(
  list: readonly Reflector[],
  captures: readonly string[],
  before: AttenuationDecision | null,
): AttenuationDecision | null {
  const [near, far] = list.toSorted((a, b) => a.distanceMm - b.distanceMm);
  if (near === undefined || far === undefined) return null;
  return { captures: [...captures], near, far, thresholdPercent: before?.thresholdPercent ?? 5 };
}
