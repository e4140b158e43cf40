import type { CaptureId } from '../../core/capture/capture.ts';
import type { LinearityRule } from '../../core/linearity/rule.ts';
import type {
  GainDecision,
  ScreenHeightDecision,
  StepTable,
  TimeBaseDecision,
} from '../../core/review/linearity-decision.ts';
import type { TraceFacts } from '../engine/messages.ts';

export interface Window {
  readonly fromUs: number;
  readonly toUs: number;
}

/** As long as a window is not given nothing is found in it. */
const noWindow: Window = { fromUs: 0, toUs: 0 };

export function isGiven({ fromUs, toUs }: Window): boolean {
  return fromUs < toUs;
}

const shared = { captures: [], decision: 'with-uncertainty' as const, rule: null };

/** Checks on which nothing has been decided yet. */
export const noTimeBase: TimeBaseDecision = {
  ...shared,
  reflectors: { kind: 'equally-spaced', ...noWindow, abovePercent: 5, spacingMm: null },
  timing: 'peak',
  thresholdPercent: 5,
  range: null,
  line: 'end-points',
};
export const noTwoEcho: Extract<ScreenHeightDecision, { form: 'two-echo' }> = {
  ...shared,
  form: 'two-echo',
  larger: noWindow,
  smaller: noWindow,
  thresholdPercent: 2,
};
export const noSteppedGain: Extract<ScreenHeightDecision, { form: 'stepped-gain' }> = {
  ...shared,
  form: 'stepped-gain',
  window: noWindow,
  steps: null,
  thresholdPercent: 2,
};
export const noGain: GainDecision = { ...shared, window: noWindow, steps: null, thresholdPercent: 2 };

/** The same check in the other form: captures and threshold stay; a rule of the one form is none of the other. */
export function inForm(decision: ScreenHeightDecision, form: ScreenHeightDecision['form']): ScreenHeightDecision {
  if (decision.form === form) return decision;
  const { captures, thresholdPercent, decision: by } = decision;
  const kept = { captures, thresholdPercent, decision: by, rule: null };
  return decision.form === 'two-echo'
    ? { ...noSteppedGain, ...kept, window: decision.larger }
    : { ...noTwoEcho, ...kept, larger: decision.window };
}

type RuleChoice = TimeBaseDecision['rule'];

/** The rule of a decision, whole; `null` where none was chosen or the name is unknown. */
export function ruleOf<Rule extends LinearityRule>(
  choice: RuleChoice,
  published: readonly Rule[],
): LinearityRule | null {
  if (choice === null) return null;
  return choice.kind === 'own' ? choice.rule : (published.find(({ name }) => name === choice.name) ?? null);
}

/** The captures that references mean, in the review's order. */
export function meantBy(references: readonly string[], captures: Iterable<TraceFacts>): readonly TraceFacts[] {
  const wanted = new Set(references);
  return [...captures].filter(({ id, file }) => wanted.has(id) || wanted.has(file));
}

/** A row of the step table as a person sees it: a capture with what it says itself, and what was stated of it. */
export interface GainRow {
  /** Its place in the table; `null` for a capture that the table does not name. */
  readonly row: number | null;
  readonly capture: string;
  readonly captureId: CaptureId | null;
  /** What file, manifest or facts say of its gain. */
  readonly ownDb: number | null;
  readonly statedDb: number | null;
}

/** The rows of the table, then the captures that it does not name; without a table the captures alone. */
export function gainRows(steps: StepTable | null, captures: readonly TraceFacts[]): readonly GainRow[] {
  const named = new Set<CaptureId>();
  const rows = (steps?.rows ?? []).map(({ capture, db }, row): GainRow => {
    const found = captures.find(({ id, file }) => id === capture || file === capture) ?? null;
    if (found !== null) named.add(found.id);
    return { row, capture, captureId: found?.id ?? null, ownDb: found?.gainDb ?? null, statedDb: db };
  });
  const others = captures
    .filter(({ id }) => !named.has(id))
    .map(({ id, gainDb }): GainRow => ({ row: null, capture: id, captureId: id, ownDb: gainDb, statedDb: null }));
  return [...rows, ...others];
}

/** The table with another figure for a capture; one that it does not name yet is put at its end. */
export function withStatedGain(steps: StepTable, { row, capture }: GainRow, db: number | null): StepTable {
  const entry = { capture, db };
  const rows = row === null ? [...steps.rows, entry] : steps.rows.with(row, entry);
  return { ...steps, rows };
}

/** A table that states what the captures say, to begin with; a change counts from the first of them. */
export function tableOf(captures: readonly TraceFacts[], states: StepTable['states']): StepTable {
  const first = captures.find(({ gainDb }) => gainDb !== null)?.gainDb ?? null;
  return {
    states,
    rows: captures.map(({ id, gainDb }) => ({
      capture: id,
      db: gainDb === null || states === 'attenuator' ? null : states === 'gain' ? gainDb : gainDb - (first ?? 0),
    })),
  };
}
