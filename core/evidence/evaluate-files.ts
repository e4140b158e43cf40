import type { Capture } from '../capture/capture.ts';
import { type Evaluation, evaluateWith } from '../evaluate.ts';
import type { ImportedFile } from '../import/import-file.ts';
import type { ImportRecipe } from '../import/import-recipe.ts';
import { describedBy, type Manifest, readManifest } from '../import/manifest.ts';
import { meantCaptures } from '../import/meant-captures.ts';
import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { withFacts } from '../review/facts.ts';
import type { Review, SourceFile } from '../review/review.ts';
import { meantBy } from '../steps/calibration-points.ts';
import { type Examined, examine, type Plan } from '../steps/examine.ts';

/** The files that a review names, wherever they are kept: beside it in a folder, or in an evidence package. */
export interface ReviewFiles {
  /** What problems and warnings call a file. */
  shown(name: string): string;
  imported(name: string, recipe: ImportRecipe): Outcome<ImportedFile>;
  /** Whole: for manifests, which are small. */
  bytes(name: string): Outcome<{ readonly bytes: Uint8Array; readonly sha256: string }>;
}

export interface EvaluatedFiles {
  readonly evaluation: Evaluation;
  /** What was wrong with files and steps, each once. */
  readonly problems: readonly Problem[];
  /** What the files do not say and was taken as read. */
  readonly warnings: readonly Problem[];
  /** Length and SHA-256 of each file that a step has read, as it was read. */
  readonly facts: ReadonlyMap<string, Facts>;
}

interface Facts {
  readonly bytes: number;
  readonly sha256: string;
}

/** Everything that follows from a review and its files, which are read as the steps need them and held against their hashes. */
export function evaluateFiles(review: Review, files: ReviewFiles): Outcome<EvaluatedFiles> {
  const found = review.manifests.map((manifest) => manifestOf(manifest, files));
  const broken = found.flatMap((one) => (one.outcome.ok ? [] : one.outcome.problems));
  if (broken.length > 0) return failure(...broken);
  const reader = new SourceReader(
    review,
    files,
    found.flatMap(({ outcome }) => (outcome.ok && outcome.value !== null ? [outcome.value] : [])),
  );
  const evaluation = evaluateWith(review, (references, plan) => reader.examine(references, plan));
  return success({
    evaluation,
    problems: [...found.flatMap(({ changed }) => changed), ...reader.problems.values(), ...evaluation.problems],
    warnings: [...found.flatMap(({ outcome }) => (outcome.ok ? outcome.warnings : [])), ...reader.warnings],
    facts: reader.facts,
  });
}

/** A manifest that is not what it was when the review took it in tells nothing: gains and positions from it would change every figure. */
function manifestOf(
  { file, sha256 }: Review['manifests'][number],
  files: ReviewFiles,
): { readonly outcome: Outcome<Manifest | null>; readonly changed: readonly Problem[] } {
  const read = files.bytes(file);
  if (!read.ok) return { outcome: read, changed: [] };
  if (sha256 !== null && read.value.sha256 !== sha256) {
    const sentence =
      'the manifest has changed since it was taken into the review (its SHA-256 differs), and is left out; restore it, or take it in anew';
    return { outcome: success(null), changed: [problem('manifest-changed', { file }, sentence)] };
  }
  const manifest = readManifest(files.shown(file), read.value.bytes);
  return {
    outcome: manifest.ok ? { ...manifest, value: { ...manifest.value, file: inFolder(file) } } : manifest,
    changed: [],
  };
}

/**
 * A manifest knows files by their folder, and one that stands in none would describe files of every folder: all stand in one, the review's own, by the
 * names that the review has for them.
 */
function inFolder(file: string): string {
  return `review/${file}`;
}

/** Reads the sources of a review when a step asks for them, and remembers what was wrong with each, once. */
class SourceReader {
  readonly problems = new Map<string, Problem>();
  readonly warnings: Problem[] = [];
  readonly facts = new Map<string, Facts>();
  private readonly warned = new Set<string>();

  constructor(
    private readonly review: Review,
    private readonly files: ReviewFiles,
    private readonly manifests: readonly Manifest[],
  ) {}

  /** File by file, so that one file's samples at a time are in memory. */
  examine(references: readonly string[], plan: Plan): Examined {
    const meant = meantBy(references);
    const examined = this.review.sources
      .filter((source) =>
        references.some((reference) => reference === source.file || reference.startsWith(`${source.file}#`)),
      )
      .map((source) =>
        examine(
          this.read(source).filter(({ id, file }) => meant({ captureId: id, file })),
          plan,
        ),
      );
    return {
      examinations: examined.flatMap(({ examinations }) => examinations),
      problems: examined.flatMap(({ problems }) => problems),
    };
  }

  /** A file that one step has read and that another finds changed is in neither what it was. */
  private isAsKnown({ file, sha256 }: SourceFile, read: ImportedFile): boolean {
    if (read.sha256 === null) return sha256 === null;
    const known = sha256 ?? this.facts.get(file)?.sha256 ?? read.sha256;
    if (!this.facts.has(file)) this.facts.set(file, { bytes: read.bytes, sha256: read.sha256 });
    return read.sha256 === known;
  }

  private read(source: SourceFile): Capture[] {
    const input = { file: this.files.shown(source.file), trace: null };
    const imported = this.files.imported(source.file, source.recipe);
    const outcome = meantCaptures(imported, input, []);
    const isAsKnown = !imported.ok || this.isAsKnown(source, imported.value);
    if (!outcome.ok) {
      for (const p of outcome.problems) this.problems.set(`${source.file} ${p.code}`, p);
      return [];
    }
    const captures = outcome.value.map((capture) => ({
      ...this.manifests.reduce(describedBy, { ...capture, file: inFolder(source.file) }),
      file: source.file,
      id: `${source.file}#${capture.trace}`,
    }));
    if (!isAsKnown) {
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
