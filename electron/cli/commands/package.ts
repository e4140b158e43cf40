import { createHash } from 'node:crypto';
import { basename, dirname, join } from 'node:path';
import { madeFiles, reviewFolder } from '../../../core/evidence/contents.ts';
import { descriptorName, descriptorText, type PackedFile, type Role } from '../../../core/evidence/descriptor.ts';
import { packedNames } from '../../../core/evidence/packed-names.ts';
import { packageBounds } from '../../../core/evidence/read-zip.ts';
import { zipWriter } from '../../../core/evidence/write-zip.ts';
import { type Problem, problem } from '../../../core/outcome.ts';
import type { ReportInput, SourceFacts } from '../../../core/report/page/report-input.ts';
import { openReview, reviewText } from '../../../core/review/open-review.ts';
import { renameSources } from '../../../core/review/rename-sources.ts';
import type { Review } from '../../../core/review/review.ts';
import { type Answer, refuseUnless } from '../answer.ts';
import { usable } from '../gather.ts';
import { Refusal, refuseArgument } from '../refusal.ts';
import { filesBeside } from '../review-files.ts';
import { fileFacts, readParts, reportInput, savedReview } from '../review-report.ts';
import { refuseToOverwrite, writeWhole } from '../write-output.ts';
import { isTrusted } from './evaluate.ts';

export interface PackageOptions {
  json?: boolean;
  out?: string;
  replace?: boolean;
}

/** A file to be packed: bytes that are at hand, or a file on disk that is copied part by part. */
interface ToPack extends Omit<PackedFile, 'bytes' | 'sha256'> {
  readonly content: Uint8Array | { readonly path: string; readonly facts: SourceFacts };
}

/** Captures, review, results and report in one ZIP file that says of each file how long it is and what its SHA-256 is. */
export function packageReview(file: string, options: PackageOptions): Answer {
  if (options.out === undefined) return refuseArgument('--out', 'give the ZIP file that is to be written');
  refuseToOverwrite(options.out, options.replace === true);
  const saved = savedReview(file);
  const review = usable(openReview(saved.name, new TextDecoder('utf-8').decode(saved.bytes))).value;
  const packed = packedReview(file, saved.bytes, review);
  const pathOf = (name: string) => join(dirname(file), packed.originals.get(name) ?? name);
  const input = usable(
    reportInput({
      ...saved,
      name: packed.name,
      bytes: packed.bytes,
      files: filesBeside(
        file,
        (name) => name,
        (name) => packed.originals.get(name) ?? name,
      ),
      facts: (name) => fileFacts(pathOf(name)),
    }),
  ).value;
  refuseUnless(input.evaluation.captures.length > 0 || input.review.sources.length === 0, input.problems);
  refuseUnfit(input.review, input.sources);
  if (packed.asSaved !== null) refuseOtherFacts(usable(reportInput(saved)).value, input);

  const toPack: ToPack[] = [
    ...madeFiles(input).map(({ text, ...about }) => ({ ...about, content: Buffer.from(text, 'utf8') })),
    entry(packed.name, 'review', 'The review: every decision', packed.bytes),
    ...(packed.asSaved === null
      ? []
      : [
          entry(packed.asSaved, 'review-as-saved', 'The review as it was saved, its files by other names', saved.bytes),
        ]),
    ...input.sources.map((facts) => {
      const [role, title] =
        facts.kind === 'manifest'
          ? (['manifest', 'Manifest, as it came'] as const)
          : (['captures', 'Captures, as they came'] as const);
      return entry(facts.file, role, title, { path: pathOf(facts.file), facts });
    }),
  ];
  const written = writePackage(options.out, toPack, review.title, input.program);
  return {
    document: { format: 'ascan-evidence', package: { file: options.out, ...written, files: toPack.length + 1 } },
    words: () =>
      `${options.out}\n${toPack.length + 1} files, ${written.bytes} bytes, SHA-256 ${written.sha256}\nKeep that hash apart from the package, in the signed record say: by it anyone can tell whether the package was changed.`,
    trusted: isTrusted(input.review, input.evaluation),
    problems: input.problems,
    warnings: [],
  };
}

/** The review as it goes into the package: its very bytes where the names of its files can stand there, else with other names, and as it was saved beside it. */
function packedReview(file: string, bytes: Uint8Array, review: Review) {
  const saved = basename(file);
  const name = packedNames([saved]).get(saved) ?? saved;
  const asSaved = `as-saved-${name}`;
  const names = packedNames(
    [...review.sources, ...review.manifests].map((source) => source.file),
    [name, asSaved],
  );
  const originals = new Map([...names].map(([from, to]) => [to, from]));
  if ([...names].every(([from, to]) => from === to)) return { name, bytes, asSaved: null, originals };
  return { name, bytes: Buffer.from(reviewText(renameSources(review, names)), 'utf8'), asSaved, originals };
}

function entry(name: string, role: Role, title: string, content: ToPack['content']): ToPack {
  return { path: `${reviewFolder}/${name}`, role, title, table: null, content };
}

/** Evidence is whole or none: every file must be there, be what the review took in, and be of a size that can be read again. */
function refuseUnfit(review: Review, sources: readonly SourceFacts[]): void {
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
        { file: '--out' },
        `the files have ${total} bytes together; a package takes at most ${mostSourceBytes}`,
      ),
    );
  if (problems.length > 0) throw new Refusal(problems);
}

/** Under other names a file's manifest may no longer mean it, and gains and positions would be lost: then it is for the person to rename it. */
function refuseOtherFacts(saved: ReportInput, packed: ReportInput): void {
  const known = ({ evaluation }: ReportInput) => evaluation.captures.map(({ file, captureId, ...facts }) => facts);
  const [before, after] = [known(saved), known(packed)];
  const lost = before.findIndex((facts, i) => JSON.stringify(facts) !== JSON.stringify(after[i]));
  if (lost < 0 && before.length === after.length) return;
  const { file } = saved.evaluation.captures[Math.max(lost, 0)];
  throw new Refusal([
    problem(
      'name-cannot-be-packed',
      { file },
      'the file cannot keep its name in a package, and its manifest does not know it by another; give it a name of letters, digits, hyphens and single full stops in the review and the manifest',
    ),
  ]);
}

/** Leaves room for results and report below what is read again, and below what a ZIP file can number. */
const mostSourceBytes = packageBounds.totalBytes - 2 ** 30;

function writePackage(
  out: string,
  toPack: readonly ToPack[],
  title: string,
  program: { readonly name: string; readonly version: string },
): { readonly bytes: number; readonly sha256: string } {
  const files = toPack.map(({ content, ...about }): PackedFile => ({ ...about, ...factsOf(content) }));
  const hash = createHash('sha256');
  let bytes = 0;
  writeWhole(out, (put) => {
    const zip = zipWriter((part) => {
      hash.update(part);
      bytes += part.length;
      put(part);
    });
    zip.add(descriptorName, (take) => take(Buffer.from(descriptorText(files, { title, program }), 'utf8')));
    for (const { path, content } of toPack) zip.add(path, (take) => copyInto(content, take));
    zip.finish();
  });
  return { bytes, sha256: hash.digest('hex') };
}

function factsOf(content: ToPack['content']): { readonly bytes: number; readonly sha256: string } {
  if (content instanceof Uint8Array)
    return { bytes: content.length, sha256: createHash('sha256').update(content).digest('hex') };
  return { bytes: content.facts.bytes ?? 0, sha256: content.facts.sha256 ?? '' };
}

/** Copies a file, and refuses where it is no longer what it was a moment ago. */
function copyInto(content: ToPack['content'], take: (part: Uint8Array) => void): void {
  if (content instanceof Uint8Array) {
    take(content);
    return;
  }
  const { path, facts } = content;
  const hash = createHash('sha256');
  readParts(path, (part) => {
    hash.update(part);
    take(part);
  });
  if (hash.digest('hex') !== facts.sha256)
    throw new Refusal([
      problem(
        'source-changed',
        { file: facts.file },
        'the file was changed while it was packed; nothing was written, try again',
      ),
    ]);
}
