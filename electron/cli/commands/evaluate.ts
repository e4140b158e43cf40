import { dirname, join } from 'node:path';
import type { Capture } from '../../../core/capture/capture.ts';
import { evaluateWith } from '../../../core/evaluate.ts';
import type { Manifest } from '../../../core/import/manifest.ts';
import { type Problem, problem } from '../../../core/outcome.ts';
import { evaluationDocument } from '../../../core/report/document.ts';
import { withFacts } from '../../../core/review/facts.ts';
import { openReview } from '../../../core/review/open-review.ts';
import type { Review, SourceFile } from '../../../core/review/review.ts';
import { refersTo } from '../../../core/steps/calibration-points.ts';
import { type Examined, examine, type Plan } from '../../../core/steps/examine.ts';
import { mixedTiming } from '../../../core/steps/mixed-timing.ts';
import { type Answer, flagLegend, refuseUnless, trustworthy, warningLines } from '../answer.ts';
import { readText, usable } from '../gather.ts';
import { capturesOf, readManifests } from '../read-files.ts';
import { calibrationWords } from './calibrate.ts';
import { driftWords } from './drift.ts';
import { readingWords } from './read.ts';

/** Everything that follows from a saved review. Files are read as the steps need them, relative to the review's folder, and held against their hashes. */
export function evaluateReview(file: string): Answer {
  const opened = usable(openReview(file, readText(file).text));
  const review = opened.value;
  const folder = dirname(file);
  const changed = changedManifests(review, folder);
  const unchanged = review.manifests.filter((manifest) => !changed.some((p) => p.place.file === manifest.file));
  const manifests = usable(readManifests(unchanged.map((manifest) => join(folder, manifest.file))));
  const reader = new SourceReader(review, folder, manifests.value);
  const evaluation = evaluateWith(review, (references, plan) => reader.examine(references, plan));
  const problems = [...changed, ...reader.problems.values(), ...evaluation.problems];
  refuseUnless(evaluation.captures.length > 0 || review.sources.length === 0, problems);

  const decision = review.calibration;
  const mixed = review.readings === null ? null : mixedTiming(decision?.timing ?? null, review.readings.timing);
  const warnings = [
    ...manifests.warnings,
    ...reader.warnings,
    ...(mixed === null ? [] : [problem('mixed-timing', { file }, mixed)]),
  ];
  const settings = { timing: decision?.timing ?? null, conditioning: review.conditioning };
  const flags = [
    ...(evaluation.calibration?.calibration?.flags ?? []),
    ...(evaluation.calibration?.calibration?.points ?? []).flatMap((point) => point.flags),
    ...(evaluation.readings?.readings ?? []).flatMap((reading) => reading.flags),
    ...(evaluation.drift?.checks ?? []).flatMap((check) => [
      ...check.flags,
      ...check.reflectors.flatMap((r) => r.flags),
    ]),
  ];
  const verdicts = (evaluation.drift?.checks ?? []).map((check) => check.verdict);
  const lookup = new Map(evaluation.captures.map((capture) => [capture.captureId, capture]));
  const parts = [
    review.title,
    ...(evaluation.calibration === null ? [] : ['Distance calibration', calibrationWords(evaluation.calibration)]),
    ...(evaluation.readings === null ? [] : ['Readings', readingWords(evaluation.readings, lookup)]),
    ...(evaluation.drift === null ? [] : ['Drift checks', driftWords(evaluation.drift, lookup)]),
  ];
  return {
    document: { ...evaluationDocument(evaluation, review, settings), warnings: warningLines(warnings) },
    words: () => parts.join('\n\n') + flagLegend(flags),
    trusted: trustworthy(flags) && verdicts.every((verdict) => verdict === null || verdict === 'pass'),
    problems,
    warnings,
  };
}

/** A manifest that is not what it was when the review took it in tells nothing: gains and positions from it would change every figure. */
function changedManifests(review: Review, folder: string): Problem[] {
  return review.manifests
    .filter(({ file, sha256 }) => sha256 !== null && readText(join(folder, file)).sha256 !== sha256)
    .map(({ file }) =>
      problem(
        'manifest-changed',
        { file },
        'the manifest has changed since it was taken into the review (its SHA-256 differs), and is left out; restore it, or take it in anew',
      ),
    );
}

/** Reads the sources of a review when a step asks for them, and remembers what was wrong with each, once. */
class SourceReader {
  readonly problems = new Map<string, Problem>();
  readonly warnings: Problem[] = [];
  private readonly warned = new Set<string>();

  constructor(
    private readonly review: Review,
    private readonly folder: string,
    private readonly manifests: readonly Manifest[],
  ) {}

  examine(references: readonly string[], plan: Plan): Examined {
    const captures = this.review.sources
      .filter((source) =>
        references.some((reference) => reference === source.file || reference.startsWith(`${source.file}#`)),
      )
      .flatMap((source) => this.read(source))
      .filter((capture) =>
        references.some((reference) => refersTo(reference, { captureId: capture.id, file: capture.file })),
      );
    return examine(captures, plan);
  }

  private read(source: SourceFile): Capture[] {
    const outcome = capturesOf({ file: join(this.folder, source.file), trace: null }, source.recipe, this.manifests);
    if (!outcome.ok) {
      for (const p of outcome.problems) this.problems.set(`${source.file} ${p.code}`, p);
      return [];
    }
    const captures = outcome.value.map((capture) => ({
      ...capture,
      file: source.file,
      id: `${source.file}#${capture.trace}`,
    }));
    if (source.sha256 !== null && captures[0]?.sha256 !== source.sha256) {
      const sentence =
        'the file has changed since it was taken into the review (its SHA-256 differs); restore it, or take it in anew';
      this.problems.set(`${source.file} changed`, problem('source-changed', { file: source.file }, sentence));
      return [];
    }
    if (!this.warned.has(source.file)) this.warnings.push(...outcome.warnings);
    this.warned.add(source.file);
    return captures.map((capture) => withFacts(capture, this.review.sources));
  }
}
