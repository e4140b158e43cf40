import type { Evaluation } from '../../../core/evaluate.ts';
import type { Review } from '../../../core/review/review.ts';
import { type Engine, startEngine } from '../../engine/engine.ts';
import { browserHost } from '../../host/browser-host.ts';
import type { Host } from '../../host/host.ts';
import { decisionsOf } from '../../state/evaluating.ts';
import { createWorkbench, type WorkbenchStore } from '../../state/workbench.ts';
import type { State, Workbench } from '../../state/workbench-state.ts';

/** Decisions with what follows from them, so that no figure in the gallery is made up. */
export interface Judged {
  readonly review: Review;
  readonly evaluation: Evaluation;
  readonly evaluationOf: Review;
}

/** The sample's yearly check of an instrument, and the same with other decisions. */
export interface AuditDesk {
  readonly engine: Engine;
  readonly host: Host;
  readonly state: Workbench;
  /** The sound one, as the sample has it. */
  readonly sound: Judged;
  /** Rules so strict that hardly anything passes, captures taken out, a step table that contradicts them. */
  readonly strict: Judged;
  /** Nobody has chosen a rule. */
  readonly unruled: Judged;
  /** Nothing was begun. */
  readonly nothing: Judged;
  /** One reflector alone, and no reading. */
  readonly few: Judged;
  readonly with: (part: Partial<State>) => WorkbenchStore;
}

/** Reads the sample and evaluates each of the decisions by the program's own ways. */
export async function setUpAuditDesk(
  host: Host,
  counted: (engine: Engine) => Engine,
  settled: (store: WorkbenchStore) => Promise<Workbench>,
  showing: (state: Workbench) => WorkbenchStore,
): Promise<AuditDesk> {
  const engine = counted(startEngine());
  const store = createWorkbench({ ...host, openSample: browserHost.openSample }, engine);
  await store.getState().actions.openSample('instrument');
  const state = await settled(store);
  const judged = async (review: Review): Promise<Judged> => ({
    review,
    evaluation: await engine.ask('evaluate', { decisions: decisionsOf(review) }),
    evaluationOf: review,
  });
  const { review } = state;
  const strict = await judged(strictly(review));
  const unruled = await judged(withoutRules(review));
  const nothing = await judged({
    ...review,
    linearity: { timeBase: null, screenHeight: null, gain: null },
    sensitivity: null,
    drift: null,
    record: [],
    notes: '',
  });
  const few = await judged(withFew(review));
  // Asked last: the worker goes on to hold the review as it was told it last.
  const sound = await judged(review);
  return {
    engine,
    host,
    state,
    sound,
    strict,
    unruled,
    nothing,
    few,
    with: (part) => showing({ ...state, ...sound, notices: [], ...part }),
  };
}

const invented = { edition: 'invented for the gallery', clause: '7.2', source: 'Invented for the gallery.' };

/** Limits that the sound instrument meets here and misses there. */
function strictly(review: Review): Review {
  const { timeBase, screenHeight, gain } = review.linearity;
  if (timeBase === null || screenHeight?.form !== 'two-echo' || gain === null) return review;
  return {
    ...review,
    linearity: {
      timeBase: {
        ...timeBase,
        rule: {
          kind: 'own',
          rule: {
            check: 'time-base',
            name: 'gallery-time-base',
            title: 'A strict rule of the yard’s own for the time base',
            ...invented,
            line: { kind: 'end-points' },
            deviationPercent: 0.001,
            fewestReflectors: 14,
          },
        },
      },
      screenHeight: {
        ...screenHeight,
        captures: screenHeight.captures.slice(0, 6),
        rule: { kind: 'published', name: 'asme-v-appendix-i' },
        smaller: { ...screenHeight.smaller, toUs: screenHeight.smaller.fromUs + 0.8 },
      },
      gain: {
        ...gain,
        steps: {
          states: 'gain',
          rows: [
            { capture: `${gain.captures[0]}#no_such_trace`, db: 20 },
            { capture: gain.captures[0] ?? '', db: 32 },
          ],
        },
      },
    },
    drift: review.drift && { ...review.drift, rangeMm: 1, rule: { kind: 'published', name: 'asme-v-t-466' } },
  };
}

function withoutRules(review: Review): Review {
  const { timeBase, screenHeight, gain } = review.linearity;
  return {
    ...review,
    linearity: {
      timeBase: timeBase && { ...timeBase, rule: null, range: null },
      screenHeight: screenHeight && { ...screenHeight, rule: null },
      gain: gain && { ...gain, rule: null },
    },
    drift: review.drift && { ...review.drift, rule: null },
    sensitivity: review.sensitivity && {
      ...review.sensitivity,
      curve: review.sensitivity.curve && { ...review.sensitivity.curve, levels: null, kind: 'other' },
      attenuation: null,
      probe: null,
    },
  };
}

function withFew(review: Review): Review {
  const { timeBase } = review.linearity;
  const { sensitivity } = review;
  return {
    ...review,
    readings: null,
    linearity: {
      timeBase: timeBase && {
        ...timeBase,
        reflectors: { kind: 'equally-spaced', fromUs: 1, toUs: 2, abovePercent: 50, spacingMm: null },
      },
      screenHeight: null,
      gain: null,
    },
    sensitivity: sensitivity && {
      ...sensitivity,
      curve: sensitivity.curve && {
        ...sensitivity.curve,
        reflectors: sensitivity.curve.reflectors.slice(0, 1),
      },
    },
  };
}
