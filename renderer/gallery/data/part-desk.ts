import type { Evaluation } from '../../../core/evaluate.ts';
import { reviewText } from '../../../core/review/open-review.ts';
import type { PartDecision } from '../../../core/review/part-decision.ts';
import type { Review } from '../../../core/review/review.ts';
import type { IndicationDecision } from '../../../core/review/scan-decision.ts';
import { type Engine, startEngine } from '../../engine/engine.ts';
import { browserHost } from '../../host/browser-host.ts';
import type { Host } from '../../host/host.ts';
import { decisionsOf } from '../../state/evaluating.ts';
import { createWorkbench, type WorkbenchStore } from '../../state/workbench.ts';
import type { State, Workbench } from '../../state/workbench-state.ts';
import { awayFiles, awayReview } from './away-scan.ts';

/** Decisions on the weld with what follows from them. */
interface Judged {
  readonly review: Review;
  readonly evaluation: Evaluation;
  readonly evaluationOf: Review;
}

/** The sample's weld as it is told, and told otherwise. */
export interface PartDesk {
  readonly engine: Engine;
  readonly host: Host;
  readonly state: Workbench;
  /** As the sample has it. */
  readonly weld: Judged;
  /** Nothing is decided of the scan: proposals alone, without a reference. */
  readonly proposed: Judged;
  /** Hundreds, each capture's paths in slices. */
  readonly many: Judged;
  /** Nobody said where the probe stood. */
  readonly unplaced: Judged;
  /** Round a pipe, from outside. */
  readonly pipe: Judged;
  /** No wedge makes this angle; the weld's outline crosses itself; captures named twice. */
  readonly broken: Judged;
  /** Sound paths that were not recorded. */
  readonly outside: Judged;
  /** No calibration. */
  readonly uncalibrated: Judged;
  /** Neither part nor scan. */
  readonly nothing: Judged;
  /** Another weld, its probe moved away from it. */
  readonly away: AwayDesk;
  readonly with: (part: Partial<State>) => WorkbenchStore;
}

/** A desk of its own, since its captures are others. */
export interface AwayDesk {
  readonly engine: Engine;
  readonly with: (part: Partial<State>) => WorkbenchStore;
}

async function setUpAwayDesk(
  host: Host,
  part: PartDecision,
  counted: (engine: Engine) => Engine,
  settled: (store: WorkbenchStore) => Promise<Workbench>,
  showing: (state: Workbench) => WorkbenchStore,
): Promise<AwayDesk> {
  const engine = counted(startEngine());
  const files = awayFiles();
  const store = createWorkbench(host, engine);
  await store.getState().actions.openReview({
    place: null,
    name: 'away.json',
    text: reviewText(awayReview(part)),
    version: 'as found',
    fileBeside: async (name) => {
      const content = files.get(name);
      if (content === undefined) return null;
      const blob = new Blob([content]);
      return { name, bytes: blob.size, read: async () => blob };
    },
  });
  const state = await settled(store);
  return { engine, with: (given) => showing({ ...state, notices: [], ...given }) };
}

/** Reads the sample and evaluates each of the decisions by the program's own ways, so that no figure in the gallery is made up. */
export async function setUpPartDesk(
  host: Host,
  counted: (engine: Engine) => Engine,
  settled: (store: WorkbenchStore) => Promise<Workbench>,
  showing: (state: Workbench) => WorkbenchStore,
): Promise<PartDesk> {
  const engine = counted(startEngine());
  const store = createWorkbench({ ...host, openSample: browserHost.openSample }, engine);
  await store.getState().actions.openSample('shift');
  const state = await settled(store);
  // The shift's checks say nothing of the weld, and take their time.
  const review: Review = { ...state.review, drift: null };
  const judged = async (of: Review): Promise<Judged> => ({
    review: of,
    evaluation: await engine.ask('evaluate', { decisions: decisionsOf(of) }),
    evaluationOf: of,
  });
  const { part, scan } = review;
  if (part === null || scan === null) throw new Error('the sample has lost its weld');
  const others = {
    proposed: await judged({ ...review, scan: { ...scan, indications: [], reference: null } }),
    many: await judged({
      ...review,
      scan: { ...scan, indications: inSlices(scan.captures[0] ?? ''), level: { kind: 'screen', percent: 100 } },
    }),
    unplaced: await judged({ ...review, part: { ...part, placements: [] } }),
    pipe: await judged({ ...review, part: asPipe(part) }),
    broken: await judged({ ...review, part: brokenOf(part) }),
    outside: await judged({ ...review, scan: { ...scan, fromMm: 900, toMm: 950 } }),
    uncalibrated: await judged({ ...review, calibration: null }),
    nothing: await judged({ ...review, part: null, scan: null }),
  };
  // Asked last: the worker goes on to hold the review as it was told it last.
  const weld = await judged(withDamping(review, part));
  const away = await setUpAwayDesk(host, part, counted, settled, showing);
  return {
    away,
    engine,
    host,
    state,
    weld,
    ...others,
    with: (given) => showing({ ...state, ...weld, notices: [], ...given }),
  };
}

function inSlices(file: string): IndicationDecision[] {
  return Array.from({ length: 41 * 8 }, (_, i) => {
    const [capture, slice] = [Math.floor(i / 8), i % 8];
    return {
      name: `slice ${slice + 1} of capture ${capture + 1}`,
      captures: [`${file}#capture_${String(capture + 1).padStart(2, '0')}_pct`],
      fromMm: 20 + 6 * slice,
      toMm: 26 + 6 * slice,
      taken: slice % 3 === 0 ? 'reflector' : null,
      notes: '',
    };
  });
}

function withDamping(review: Review, part: PartDecision): Review {
  const [before, after] = ['07', '14'].map((number) => `plate-weld/first-leg.csv#capture_${number}_pct`);
  return {
    ...review,
    part: { ...part, damping: [{ before: before!, after: after!, abovePercent: 5, uCouplingDb: 1 }] },
  };
}

function asPipe(part: PartDecision): PartDecision {
  return {
    ...part,
    shape: { kind: 'pipe', outsideRadiusMm: 84, thicknessMm: 12, uThicknessMm: 0.2, from: 'outside' },
    weld: null,
    features: [{ name: 'counterbore', acrossMm: 14, depthMm: 11, toleranceMm: 1 }],
    probe: { ...part.probe, angleDeg: 45 },
  };
}

function brokenOf(part: PartDecision): PartDecision {
  const { outline, toleranceMm } = part.weld ?? { outline: [], toleranceMm: 1 };
  const [first, second, ...rest] = outline;
  const captures = part.placements[0]?.captures ?? [];
  return {
    ...part,
    weld: { outline: [...rest.slice(0, 2), first!, ...rest.slice(2), second!], toleranceMm },
    placements: [...part.placements, { ...part.placements[0]!, captures }],
    probe: { ...part.probe, angleDeg: 78, wedgeVelocityMPerS: 3400 },
  };
}
