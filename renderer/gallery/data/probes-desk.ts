import type { Evaluation } from '../../../core/evaluate.ts';
import type { Review } from '../../../core/review/review.ts';
import { type Engine, startEngine } from '../../engine/engine.ts';
import { browserHost } from '../../host/browser-host.ts';
import type { Host } from '../../host/host.ts';
import { decisionsOf } from '../../state/evaluating.ts';
import { createWorkbench, type WorkbenchStore } from '../../state/workbench.ts';
import type { State, Workbench } from '../../state/workbench-state.ts';

/** Decisions with what follows from them. */
interface Judged {
  readonly review: Review;
  readonly evaluation: Evaluation;
  readonly evaluationOf: Review;
}

/** The sample's three probes, and the same with other decisions. */
export interface ProbesDesk {
  readonly engine: Engine;
  readonly host: Host;
  readonly nothing: Judged;
  readonly one: Judged;
  /** Nothing is stated of a probe, none is the reference, no rule was chosen. */
  readonly plain: Judged;
  /** The gate cuts the echo. */
  readonly cut: Judged;
  /** Fifty probes with long names: the second and third over and over. */
  readonly many: Judged;
  readonly with: (part: Partial<State>) => WorkbenchStore;
}

export async function setUpProbesDesk(
  host: Host,
  counted: (engine: Engine) => Engine,
  settled: (store: WorkbenchStore) => Promise<Workbench>,
  showing: (state: Workbench) => WorkbenchStore,
): Promise<ProbesDesk> {
  const engine = counted(startEngine());
  const store = createWorkbench({ ...host, openSample: browserHost.openSample }, engine);
  await store.getState().actions.openSample('probes');
  const state = await settled(store);
  const { review } = state;
  const { probes, material } = review;
  if (probes === null || material === null) throw new Error('the sample has no probes: npm run sample');
  const judged = async (part: Pick<Review, 'probes' | 'material'>): Promise<Judged> => {
    const changed = { ...review, ...part };
    const evaluation = await engine.ask('evaluate', { decisions: decisionsOf(changed) });
    return { review: changed, evaluation, evaluationOf: changed };
  };
  const short = { fromUs: 8, toUs: 9.1 };
  const nothing = await judged({ probes: null, material: null });
  const one = await judged({
    probes: { ...probes, captures: probes.captures.slice(0, 1), probes: [], reference: null },
    material: { ...material, captures: material.captures.slice(0, 1), toleranceMm: 0 },
  });
  const plain = await judged({
    probes: { ...probes, probes: [], reference: null, rule: null, elementMm: null, normalised: false },
    material: { ...material, spreading: { kind: 'none' } },
  });
  const cut = await judged({
    probes: { ...probes, gate: short },
    material: { ...material, echoes: material.echoes.map((echo, i) => (i === 0 ? { ...echo, ...short } : echo)) },
  });
  // Asked last: the worker goes on to hold the review as it was told it last.
  const whole = await judged({ probes, material });
  return {
    engine,
    host,
    nothing,
    one,
    plain,
    cut,
    many: { ...whole, evaluation: { ...whole.evaluation, probes: fifty(whole.evaluation.probes) } },
    with: (part) => showing({ ...state, ...whole, notices: [], ...part }),
  };
}

function fifty(result: Evaluation['probes']): Evaluation['probes'] {
  if (result === null) return null;
  const probes = Array.from({ length: 50 }, (_, i) => {
    // The first is the reference, which is not held against itself.
    const probe = result.probes[i < 3 ? i : 1 + (i % 2)]!;
    return i < 3
      ? probe
      : { ...probe, probe: `${probe.probe} with delay line, of the ${i + 1}th delivery to the yard` };
  });
  return { ...result, probes };
}
