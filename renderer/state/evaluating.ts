import type { Evaluation } from '../../core/evaluate.ts';
import type { Review, SourceFile } from '../../core/review/review.ts';
import type { Engine } from '../engine/engine.ts';
import type { Decisions, KnownSource, Progress, SourcesKnown } from '../engine/messages.ts';
import { Cancelled } from '../engine/pauses.ts';
import { sourcesToTell } from './source-list.ts';

/** What the keeper tells as it comes. */
export interface Listener {
  onKnown(known: ReadonlyMap<string, KnownSource>): void;
  onBusy(busy: boolean): void;
  onProgress(progress: Progress): void;
  onEvaluation(evaluation: Evaluation, of: Review): void;
  onFailure(error: unknown): void;
}

export function decisionsOf(review: Review): Decisions {
  const { sources: _, manifests: __, ...decisions } = review;
  return decisions;
}

/**
 * Keeps the worker's sources and the evaluation up with the review. One evaluation runs at a time, and the newest review wins: whatever is being
 * evaluated when the review changes is given up.
 */
export class EvaluationKeeper {
  private readonly engine: Engine;
  private readonly listener: Listener;
  private wanted: Review | null = null;
  private running: Promise<void> | null = null;
  private stop = new AbortController();
  private told: ReadonlyMap<string, SourceFile> = new Map();
  private toldOrder: Review['sources'] | null = null;
  private toldManifests: Review['manifests'] | null = null;
  private known: ReadonlyMap<string, KnownSource> = new Map();
  private again = new Set<string>();
  private manifestsAgain = false;

  constructor(engine: Engine, listener: Listener) {
    this.engine = engine;
    this.listener = listener;
  }

  /** Evaluates this review as soon as may be, in place of any before. */
  submit(review: Review): void {
    this.wanted = review;
    this.stop.abort();
    this.running ??= this.run();
  }

  /** Gives up what is being evaluated; the results stay as they were. */
  cancel(): void {
    this.wanted = null;
    this.stop.abort();
  }

  /** These files are there now: they are looked at again with the next review submitted. */
  lookAgain(files: Iterable<string>, manifests: boolean): void {
    for (const file of files) this.again.add(file);
    this.manifestsAgain ||= manifests;
  }

  /** Whether the worker's sources are those of the review: only then can it be asked for the review's text. */
  isTold(review: Review): boolean {
    return this.toldOrder === review.sources && this.toldManifests === review.manifests;
  }

  /** Resolves when nothing is left to do. */
  async settled(): Promise<void> {
    while (this.running !== null) await this.running;
  }

  /** Everything is forgotten, here and in the worker. */
  async forget(): Promise<void> {
    this.cancel();
    await this.settled();
    await this.engine.ask('forget', null);
    this.told = new Map();
    this.toldOrder = null;
    this.toldManifests = null;
    this.known = new Map();
    this.again = new Set();
    this.manifestsAgain = false;
  }

  private async run(): Promise<void> {
    this.listener.onBusy(true);
    try {
      while (this.wanted !== null) {
        const review = this.wanted;
        this.wanted = null;
        this.stop = new AbortController();
        await this.follow(review, this.stop.signal).catch((error: unknown) => {
          if (!(error instanceof Cancelled)) this.listener.onFailure(error);
        });
      }
    } finally {
      this.running = null;
      this.listener.onBusy(false);
    }
  }

  private async follow(review: Review, signal: AbortSignal): Promise<void> {
    await this.tell(review);
    const onProgress = (progress: Progress) => this.listener.onProgress(progress);
    const evaluation = await this.engine.ask('evaluate', { decisions: decisionsOf(review) }, { signal, onProgress });
    this.listener.onEvaluation(evaluation, review);
  }

  /** Not to be cancelled: page and worker would no longer agree on what was told. */
  private async tell(review: Review): Promise<void> {
    const { again, manifestsAgain } = this;
    const manifests = manifestsAgain || review.manifests !== this.toldManifests ? review.manifests : null;
    if (again.size === 0 && manifests === null && review.sources === this.toldOrder) return;
    this.again = new Set();
    this.manifestsAgain = false;
    const order = review.sources.map((source) => source.file);
    const changed = sourcesToTell(review, this.told, again);
    const answer = await this.engine.ask('sources', { order, changed, manifests });
    this.told = new Map(review.sources.map((source) => [source.file, source]));
    this.toldOrder = review.sources;
    this.toldManifests = review.manifests;
    this.known = merged(this.known, answer, order);
    this.listener.onKnown(this.known);
  }
}

function merged(
  before: ReadonlyMap<string, KnownSource>,
  { sources }: SourcesKnown,
  order: readonly string[],
): ReadonlyMap<string, KnownSource> {
  const renewed = new Map(sources.map((source) => [source.file, source]));
  const known = new Map<string, KnownSource>();
  for (const file of order) {
    const source = renewed.get(file) ?? before.get(file);
    if (source !== undefined) known.set(file, source);
  }
  return known;
}
