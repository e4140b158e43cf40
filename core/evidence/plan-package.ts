import { type Problem, problem } from '../outcome.ts';
import type { ReportInput, SourceFacts } from '../report/page/report-input.ts';
import { renameSources } from '../review/rename-sources.ts';
import type { Review } from '../review/review.ts';
import { reviewFolder } from './contents.ts';
import type { PackedFile, Role } from './descriptor.ts';
import { packedNames } from './packed-names.ts';
import { packageBounds } from './read-zip.ts';

/** A review as it goes into a package. */
export interface PackedReview {
  /** In the package's folder for it. */
  readonly name: string;
  /** With its files by the names that they have there; `null` where these are its own, so that its very bytes can be packed. */
  readonly renamed: Review | null;
  /** What the review as it was saved is called beside the renamed one; `null` where there is none. */
  readonly asSaved: string | null;
  /** What each file is called by the review, by its name in the package. */
  readonly originals: ReadonlyMap<string, string>;
}

/** Its very bytes where the names of its files can stand in a package, else with other names, and as it was saved beside it. @param saved its own name */
export function packedReview(saved: string, review: Review): PackedReview {
  const name = packedNames([saved]).get(saved) ?? saved;
  const asSaved = `as-saved-${name}`;
  const names = packedNames(
    [...review.sources, ...review.manifests].map((source) => source.file),
    [name, asSaved],
  );
  const originals = new Map([...names].map(([from, to]) => [to, from]));
  if ([...names].every(([from, to]) => from === to)) return { name, renamed: null, asSaved: null, originals };
  return { name, renamed: renameSources(review, names), asSaved, originals };
}

export const asSavedTitle = 'The review as it was saved, its files by other names';

type Described = Omit<PackedFile, 'bytes' | 'sha256'>;

/** A file that is packed as it came. */
export function asItCame(name: string, role: Role, title: string): Described {
  return { path: `${reviewFolder}/${name}`, role, title, table: null };
}

/** How a file of the review is described. */
export function sourceAsItCame({ file, kind }: SourceFacts): Described {
  return kind === 'manifest'
    ? asItCame(file, 'manifest', 'Manifest, as it came')
    : asItCame(file, 'captures', 'Captures, as they came');
}

/** Leaves room for results and report below what is read again, and below what a ZIP file can number. */
const mostSourceBytes = packageBounds.totalBytes - 2 ** 30;

/**
 * What keeps files from being packed: evidence is whole or none. Every file must be there, be what the review took in, and be of a size that can be read again.
 * Problems: `source-missing`, `source-changed`, `source-too-large`, `sources-too-large` (at `whole`).
 */
export function unfitForPackage(review: Review, sources: readonly SourceFacts[], whole: string): Problem[] {
  const problems: Problem[] = sources.flatMap(({ file, bytes, sha256 }) => {
    const taken = [...review.sources, ...review.manifests].find((source) => source.file === file)?.sha256 ?? null;
    const say = (code: string, sentence: string) => [problem(code, { file }, sentence)];
    if (bytes === null)
      return say(
        'source-missing',
        'the file cannot be read, and a package without it would be no evidence; restore it',
      );
    if (taken !== null && taken !== sha256)
      return say(
        'source-changed',
        'the file has changed since it was taken into the review (its SHA-256 differs); restore it, or take it in anew',
      );
    if (bytes > packageBounds.entryBytes)
      return say(
        'source-too-large',
        `the file has ${bytes} bytes; a package takes files of at most ${packageBounds.entryBytes}`,
      );
    return [];
  });
  const total = sources.reduce((sum, { bytes }) => sum + (bytes ?? 0), 0);
  if (total > mostSourceBytes)
    problems.push(
      problem(
        'sources-too-large',
        { file: whole },
        `the files have ${total} bytes together; a package takes at most ${mostSourceBytes}`,
      ),
    );
  return problems;
}

/** Under other names a file's manifest may no longer mean it, and gains and positions would be lost: then it is for the person to rename it. `null` where nothing is lost. */
export function lostByRenaming(saved: ReportInput, packed: ReportInput): Problem | null {
  const known = ({ evaluation }: ReportInput) => evaluation.captures.map(({ file, captureId, ...facts }) => facts);
  const [before, after] = [known(saved), known(packed)];
  const lost = before.findIndex((facts, i) => JSON.stringify(facts) !== JSON.stringify(after[i]));
  if (lost < 0 && before.length === after.length) return null;
  const { file } = saved.evaluation.captures[Math.max(lost, 0)];
  return problem(
    'name-cannot-be-packed',
    { file },
    'the file cannot keep its name in a package, and its manifest does not know it by another; give it a name of letters, digits, hyphens and single full stops in the review and the manifest',
  );
}
