import type { Capture, CaptureId } from '../../core/capture/capture.ts';
import type { Waveform } from '../../core/capture/waveform.ts';
import type { ImportedFile } from '../../core/import/import-file.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { describedBy, type Manifest } from '../../core/import/manifest.ts';
import { invariant } from '../../core/invariant.ts';
import { failure, type Outcome, type Problem, problem, success } from '../../core/outcome.ts';
import { withFacts } from '../../core/review/facts.ts';
import type { Review, SourceFile } from '../../core/review/review.ts';
import type { FileToImport, ImportedSource, KnownSource, SourcesKnown, SourcesTold } from './messages.ts';
import type { Control } from './pauses.ts';
import type { HeldFiles } from './reporting.ts';
import { isForWantOfRoom, type Room, tooLarge, usualRoom } from './room.ts';
import {
  bytesOf,
  type Content,
  capturesTold,
  importPaused,
  inFolder,
  kindOf,
  manifestOf,
  manifestTold,
  outOfFolder,
  samplesIn,
  sha256Of,
  traceFacts,
} from './taking-in.ts';

/** A source of the review, and the captures it gives by now. */
export interface Source {
  readonly source: SourceFile;
  readonly known: Omit<KnownSource, 'captures'>;
  readonly captures: readonly Capture[];
}

/**
 * The files that were taken in and the review's sources. Files are held by their hash and never altered, so that undoing the removal of a file, or its import by
 * another recipe, finds it again.
 */
export class Holdings {
  private readonly contents = new Map<string, Content>();
  /** The last import of each file, by hash and name. */
  private readonly imported = new Map<string, { readonly recipe: string; readonly outcome: Outcome<ImportedFile> }>();
  /** In all that was imported. */
  private samples = 0;
  private sources: readonly Source[] = [];
  private manifests: Review['manifests'] = [];
  private manifestsRead: readonly Manifest[] = [];
  private manifestProblems: readonly Problem[] = [];
  private byId: ReadonlyMap<CaptureId, Capture> = new Map();

  private readonly room: Room;

  constructor(room = usualRoom) {
    this.room = room;
  }

  async takeIn(files: readonly FileToImport[], control: Control): Promise<ImportedSource[]> {
    const taken: ImportedSource[] = [];
    for (const file of files) {
      const ofFile = (share: number) => control.progress({ done: taken.length + share, total: files.length });
      taken.push(await this.takeInOne(file, { ...control, progress: ({ done, total }) => ofFile(done / total) }));
      ofFile(0);
      await control.pause();
    }
    return taken;
  }

  private async takeInOne({ file, content, recipe }: FileToImport, control: Control): Promise<ImportedSource> {
    if (content.size > this.room.fileBytes) return refused(file, tooLarge(file, content.size, this.room));
    let bytes: Uint8Array<ArrayBuffer>;
    try {
      bytes = await bytesOf(content);
    } catch (error) {
      return unreadable(file, error);
    }
    const sha256 = await sha256Of(bytes);
    this.contents.set(sha256, { sha256, blob: content });
    const kind = kindOf(file, bytes);
    if (kind === 'manifest') return manifestTold(file, sha256, bytes);
    if (kind === 'review') return reviewFound(file, sha256);
    const key = keyOf(file, sha256);
    const outcome = await importPaused(file, bytes, recipe, sha256, control, this.roomFor(key));
    this.keep(key, JSON.stringify(recipe), outcome);
    return capturesTold(file, sha256, outcome);
  }

  /** The bytes with that hash; they were taken in before. */
  async bytes(sha256: string): Promise<Uint8Array<ArrayBuffer>> {
    const content = this.contents.get(sha256);
    invariant(content !== undefined, 'a file that was never taken in');
    return bytesOf(content.blob);
  }

  /** Brings the sources to what the review has by now, and tells of those that are other than before. */
  async tell({ order, changed, manifests }: SourcesTold, control: Control): Promise<SourcesKnown> {
    const manifestsChanged = manifests !== null;
    if (manifests !== null) await this.readManifests(manifests);
    const before = new Map(this.sources.map((source) => [source.source.file, source]));
    const told = new Map(changed.map((source) => [source.file, source]));
    const sources: Source[] = [];
    const renewed: Source[] = [];
    for (const file of order) {
      const old = before.get(file);
      const source = told.get(file) ?? old?.source;
      invariant(source !== undefined, `the source ${file} was never told`);
      if (old !== undefined && !told.has(file) && !manifestsChanged) {
        sources.push(old);
        continue;
      }
      const made = await this.look(source, control);
      sources.push(made);
      renewed.push(made);
      control.progress({ done: renewed.length, total: manifestsChanged ? order.length : changed.length });
      await control.pause();
    }
    this.sources = sources;
    this.letGoOfUnused();
    this.byId = new Map(sources.flatMap(({ captures }) => captures.map((capture) => [capture.id, capture])));
    return {
      sources: renewed.map(({ known, captures }) => ({ ...known, captures: captures.map(traceFacts) })),
      manifestProblems: this.manifestProblems,
    };
  }

  /** In the review's order. The array is never altered: who is reading goes on with what stood there. */
  current(): readonly Source[] {
    return this.sources;
  }

  review(): Pick<Review, 'sources' | 'manifests'> {
    return { sources: this.sources.map(({ source }) => source), manifests: this.manifests };
  }

  problemsOfManifests(): readonly Problem[] {
    return this.manifestProblems;
  }

  capture(id: CaptureId): Capture {
    const capture = this.byId.get(id);
    invariant(capture !== undefined, `the capture ${id} is not in the review`);
    return capture;
  }

  /** The review's files, imported as the review has it, for who must read them as files. */
  async held(): Promise<HeldFiles> {
    const imported = new Map<string, Outcome<ImportedFile>>();
    const known = new Map<string, { readonly bytes: number; readonly sha256: string }>();
    for (const { source, known: told } of this.sources) {
      const { file, sha256, recipe } = source;
      if (sha256 === null || told.state === 'missing') continue;
      imported.set(file, await this.importAgain(file, sha256, recipe, { progress() {}, pause: async () => {} }));
      known.set(file, { bytes: this.contents.get(sha256)?.blob.size ?? 0, sha256 });
    }
    const manifests = new Map<string, { readonly bytes: Uint8Array<ArrayBuffer>; readonly sha256: string }>();
    for (const { file, sha256 } of this.manifests) {
      if (sha256 === null || !this.contents.has(sha256)) continue;
      const bytes = await this.bytes(sha256);
      manifests.set(file, { bytes, sha256 });
      known.set(file, { bytes: bytes.length, sha256 });
    }
    const missing = (file: string) =>
      failure(problem('source-missing', { file }, 'this file of the review was not found; locate it'));
    return {
      files: {
        shown: (name) => name,
        imported: (name) => imported.get(name) ?? missing(name),
        bytes(name) {
          const found = manifests.get(name);
          return found === undefined ? missing(name) : success(found);
        },
      },
      facts: (name) => known.get(name) ?? { bytes: null, sha256: null },
      read: (name) => this.bytes(known.get(name)?.sha256 ?? ''),
    };
  }

  waveforms(): ReadonlySet<Waveform> {
    return new Set(Array.from(this.byId.values(), (capture) => capture.waveform));
  }

  forget(): void {
    this.contents.clear();
    this.imported.clear();
    this.samples = 0;
    this.sources = [];
    this.manifests = [];
    this.manifestsRead = [];
    this.manifestProblems = [];
    this.byId = new Map();
  }

  private async look(source: SourceFile, control: Control): Promise<Source> {
    const { file, sha256, recipe } = source;
    if (sha256 === null || !this.contents.has(sha256)) return missing(source);
    const outcome = await this.importAgain(file, sha256, recipe, control);
    const { kind: _, ...known } = capturesTold(file, sha256, outcome);
    const captures = outcome.ok && known.state === 'ready' ? outcome.value.captures : [];
    return { source, known, captures: captures.map((capture) => this.described(capture, source)) };
  }

  private async importAgain(
    file: string,
    sha256: string,
    recipe: ImportRecipe,
    control: Control,
  ): Promise<Outcome<ImportedFile>> {
    const key = keyOf(file, sha256);
    const recipeText = JSON.stringify(recipe);
    const last = this.imported.get(key);
    if (last?.recipe === recipeText) return last.outcome;
    const outcome = await importPaused(file, await this.bytes(sha256), recipe, sha256, control, this.roomFor(key));
    this.keep(key, recipeText, outcome);
    return outcome;
  }

  private keep(key: string, recipe: string, outcome: Outcome<ImportedFile>): void {
    this.letGo(key);
    // There may be room for it the next time.
    if (!outcome.ok && outcome.problems.some(isForWantOfRoom)) return;
    this.imported.set(key, { recipe, outcome });
    this.samples += samplesIn(outcome);
  }

  private letGo(key: string): void {
    const old = this.imported.get(key);
    if (old !== undefined && this.imported.delete(key)) this.samples -= samplesIn(old.outcome);
  }

  private roomFor(key: string): Room {
    const own = this.imported.get(key);
    return { ...this.room, taken: this.samples - (own === undefined ? 0 : samplesIn(own.outcome)) };
  }

  /** Imports that only an undo would ask for again are not kept where room is scarce: their files can be read anew. */
  private letGoOfUnused(): void {
    if (this.samples <= this.room.samples / 2) return;
    const used = new Set(this.sources.map(({ source }) => keyOf(source.file, source.sha256 ?? '')));
    for (const key of [...this.imported.keys()]) if (!used.has(key)) this.letGo(key);
  }

  /** What the manifests know is laid over what the file says, and over both what the person said. */
  private described(capture: Capture, source: SourceFile): Capture {
    const manifested =
      this.manifestsRead.length === 0
        ? capture
        : outOfFolder(this.manifestsRead.reduce(describedBy, inFolder(capture)));
    return withFacts(manifested, [source]);
  }

  private async readManifests(manifests: Review['manifests']): Promise<void> {
    const read: Manifest[] = [];
    const problems: Problem[] = [];
    for (const { file, sha256 } of manifests) {
      if (sha256 === null || !this.contents.has(sha256)) {
        const sentence =
          'this manifest of the review was not found, so that what it says of the captures is not known; locate it';
        problems.push(problem('manifest-missing', { file }, sentence));
        continue;
      }
      const manifest = manifestOf(file, await this.bytes(sha256));
      if (manifest.ok) read.push(manifest.value);
      else problems.push(...manifest.problems);
    }
    this.manifests = manifests;
    this.manifestsRead = read;
    this.manifestProblems = problems;
  }
}

function keyOf(file: string, sha256: string): string {
  return `${sha256} ${file}`;
}

function missing(source: SourceFile): Source {
  const sentence = 'this file of the review was not found; locate it, or take it out of the review';
  return {
    source,
    known: {
      file: source.file,
      sha256: source.sha256,
      state: 'missing',
      understood: null,
      asks: [],
      warnings: [],
      problems: [problem('source-missing', { file: source.file }, sentence)],
    },
    captures: [],
  };
}

function unreadable(file: string, error: unknown): ImportedSource {
  const reason = error instanceof Error ? error.message : String(error);
  const sentence = `the file cannot be read (${reason}); check that it is still there and that you may read it`;
  return refused(file, failure(problem('unreadable', { file }, sentence)));
}

/** What was not even hashed. */
function refused(file: string, { problems }: { readonly problems: readonly Problem[] }): ImportedSource {
  return {
    file,
    sha256: null,
    kind: 'captures',
    state: 'broken',
    understood: null,
    asks: [],
    warnings: [],
    problems,
  };
}

function reviewFound(file: string, sha256: string): ImportedSource {
  return { file, sha256, kind: 'review', state: 'ready', understood: null, asks: [], warnings: [], problems: [] };
}
