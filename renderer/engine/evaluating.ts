import type { Capture } from '../../core/capture/capture.ts';
import { type Evaluation, evaluationSteps, type Question } from '../../core/evaluate.ts';
import type { Problem } from '../../core/outcome.ts';
import type { Review } from '../../core/review/review.ts';
import { meantBy } from '../../core/steps/calibration-points.ts';
import { type Examination, type Examined, examineTrace, factsOf, type Plan } from '../../core/steps/examine.ts';
import type { Source } from './holdings.ts';
import type { Control } from './pauses.ts';
import type { TraceStore } from './trace-store.ts';

/** What was read by the last plans: a step whose plan is as before reads nothing again. */
export class ExaminationStore {
  private readonly byPlan = new Map<string, WeakMap<Capture['waveform'], Examination>>();
  private room = 0;

  /** Room for the plans of an evaluation with so many steps: as they are, and as they were before. */
  holdSteps(steps: number): void {
    this.room = Math.max(this.room, 2 * steps);
  }

  of(plan: Plan): WeakMap<Capture['waveform'], Examination> {
    const key = JSON.stringify(plan);
    const found = this.byPlan.get(key) ?? new WeakMap<Capture['waveform'], Examination>();
    this.byPlan.delete(key);
    this.byPlan.set(key, found);
    if (this.byPlan.size > this.room) this.byPlan.delete(this.byPlan.keys().next().value as string);
    return found;
  }

  clear(): void {
    this.byPlan.clear();
  }
}

/** What an evaluation reads from. */
export interface Readable {
  readonly sources: readonly Source[];
  readonly manifestProblems: readonly Problem[];
  readonly traces: TraceStore;
  readonly examinations: ExaminationStore;
}

/**
 * The core's own evaluation over the captures held, with pauses between them; the same results as without. Beside what the core finds wrong stands
 * what is wrong with the files that a step needed.
 */
export async function evaluatePaused(review: Review, from: Readable, control: Control): Promise<Evaluation> {
  const steps = evaluationSteps(review);
  const fileProblems = new Map<string, readonly Problem[]>();
  const total = workAhead(review, from.sources);
  let done = 0;
  let asked = 0;
  let step = steps.next();
  while (!step.done) {
    from.examinations.holdSteps(++asked);
    const answered = await answer(step.value, from, control, fileProblems, (read) =>
      control.progress({ done: Math.min(total, done + read), total }),
    );
    done += answered.examinations.length;
    step = steps.next(answered);
  }
  const evaluation = step.value;
  const problems = [...from.manifestProblems, ...[...fileProblems.values()].flat(), ...evaluation.problems];
  return { ...evaluation, problems };
}

async function answer(
  { references, plan }: Question,
  from: Readable,
  control: Control,
  fileProblems: Map<string, readonly Problem[]>,
  progress: (read: number) => void,
): Promise<Examined> {
  const wanted = new Set(references);
  const examined = from.examinations.of(plan);
  const examinations: Examination[] = [];
  const problems: Problem[] = [];
  for (const { source, known, captures } of from.sources) {
    if (known.state !== 'ready') {
      if (isReferred(source.file, wanted)) fileProblems.set(source.file, [...known.problems, ...known.asks]);
      continue;
    }
    const whole = wanted.has(source.file);
    for (const capture of captures) {
      if (!whole && !wanted.has(capture.id)) continue;
      const outcome = examineOne(capture, plan, examined, from.traces);
      if (Array.isArray(outcome)) problems.push(...outcome);
      else examinations.push(outcome as Examination);
      progress(examinations.length);
      await control.pause();
    }
  }
  return { examinations, problems };
}

function examineOne(
  capture: Capture,
  plan: Plan,
  examined: WeakMap<Capture['waveform'], Examination>,
  traces: TraceStore,
): Examination | readonly Problem[] {
  const known = examined.get(capture.waveform);
  if (known !== undefined) return { ...known, capture: factsOf(capture) };
  const stored = traces.get(capture.waveform, plan.conditioning);
  if (!stored.ok) return stored.problems.map((p) => ({ ...p, place: { ...p.place, file: capture.id } }));
  const examination = examineTrace(factsOf(capture), stored.value.trace, plan);
  examined.set(capture.waveform, examination);
  return examination;
}

function isReferred(file: string, references: ReadonlySet<string>): boolean {
  if (references.has(file)) return true;
  for (const reference of references) if (reference.startsWith(`${file}#`)) return true;
  return false;
}

/** How many captures the steps will read at the most, for the progress. */
function workAhead(review: Review, sources: readonly Source[]): number {
  const captures = sources.flatMap(({ source, captures: own }) =>
    own.map(({ id }) => ({ file: source.file, captureId: id })),
  );
  return captureLists(review).reduce((sum, references) => sum + captures.filter(meantBy(references)).length, 0);
}

/** The captures of each step, as often as it asks for them. */
function captureLists(review: Review): readonly (readonly string[])[] {
  const { calibration, readings, drift, echoes, linearity, sensitivity, part, scan, probes, material } = review;
  const steps = [
    calibration?.kind === 'fit' ? calibration : null,
    readings,
    drift,
    echoes,
    linearity.timeBase,
    linearity.screenHeight,
    linearity.gain,
    sensitivity?.curve,
    sensitivity?.attenuation,
    // Once for what stands out, once for the indications, once for their pictures.
    scan,
    scan,
    scan,
    probes,
    material,
  ];
  const damped = part?.damping.map(({ before, after }) => [before, after]) ?? [];
  return [...steps.flatMap((step) => (step == null ? [] : [step.captures])), ...damped];
}
