import { createHash } from 'node:crypto';
import { dirname, join } from 'node:path';
import { madeFiles } from '../../../core/evidence/contents.ts';
import { descriptorName, descriptorText, type PackedFile } from '../../../core/evidence/descriptor.ts';
import {
  asItCame,
  asSavedTitle,
  lostByRenaming,
  packedReview,
  sourceAsItCame,
  unfitForPackage,
} from '../../../core/evidence/plan-package.ts';
import { zipWriter } from '../../../core/evidence/write-zip.ts';
import { problem } from '../../../core/outcome.ts';
import type { SourceFacts } from '../../../core/report/page/report-input.ts';
import { openReview, reviewText } from '../../../core/review/open-review.ts';
import { partsOfFile } from '../../disk/read-parts.ts';
import { type Answer, refuseUnless } from '../answer.ts';
import { usable } from '../gather.ts';
import { unreadable } from '../read-files.ts';
import { Refusal, refuseArgument } from '../refusal.ts';
import { filesBeside } from '../review-files.ts';
import { fileFacts, reportInput, savedReview } from '../review-report.ts';
import { printable } from '../table.ts';
import { refuseInput, refuseToOverwrite, writeOutput } from '../write-output.ts';
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
export async function packageReview(file: string, options: PackageOptions): Promise<Answer> {
  const { out } = options;
  if (out === undefined) return refuseArgument('--out', 'give the ZIP file that is to be written');
  refuseToOverwrite(out, options.replace === true);
  const saved = savedReview(file);
  const review = usable(openReview(saved.name, new TextDecoder('utf-8').decode(saved.bytes))).value;
  const packed = packedReview(saved.name, review);
  const bytes = packed.renamed === null ? saved.bytes : Buffer.from(reviewText(packed.renamed), 'utf8');
  const pathOf = (name: string) => join(dirname(file), packed.originals.get(name) ?? name);
  refuseInput(
    out,
    [...review.sources, ...review.manifests].map((source) => join(dirname(file), source.file)),
  );
  const input = usable(
    reportInput({
      ...saved,
      name: packed.name,
      bytes,
      files: filesBeside(
        file,
        (name) => name,
        (name) => packed.originals.get(name) ?? name,
      ),
      facts: (name) => fileFacts(pathOf(name)),
    }),
  ).value;
  refuseUnless(input.evaluation.captures.length > 0 || input.review.sources.length === 0, input.problems);
  const problems = unfitForPackage(input.review, input.sources, '--out');
  if (problems.length === 0 && packed.asSaved !== null)
    problems.push(...[lostByRenaming(usable(reportInput(saved)).value, input)].filter((lost) => lost !== null));
  if (problems.length > 0) throw new Refusal(problems);

  const toPack: ToPack[] = [
    ...madeFiles(input).map(({ text, ...about }) => ({ ...about, content: Buffer.from(text, 'utf8') })),
    { ...asItCame(packed.name, 'review', 'The review: every decision'), content: bytes },
    ...(packed.asSaved === null
      ? []
      : [{ ...asItCame(packed.asSaved, 'review-as-saved', asSavedTitle), content: saved.bytes }]),
    ...input.sources.map((facts) => ({
      ...sourceAsItCame(facts),
      content: { path: pathOf(facts.file), facts },
    })),
  ];
  const written = await writePackage({ ...options, out }, toPack, review.title, input.program);
  return {
    document: { format: 'ascan-evidence', package: { file: out, ...written, files: toPack.length + 1 } },
    words: () =>
      `${printable(out)}\n${toPack.length + 1} files, ${written.bytes} bytes, SHA-256 ${written.sha256}\nKeep that hash apart from the package, in the signed record say: by it anyone can tell whether the package was changed.`,
    trusted: isTrusted(input.review, input.evaluation),
    problems: input.problems,
    warnings: [],
  };
}

async function writePackage(
  { out, replace = false }: { readonly out: string; readonly replace?: boolean },
  toPack: readonly ToPack[],
  title: string,
  program: { readonly name: string; readonly version: string },
): Promise<{ readonly bytes: number; readonly sha256: string }> {
  const files = toPack.map(({ content, ...about }): PackedFile => ({ ...about, ...factsOf(content) }));
  const hash = createHash('sha256');
  let bytes = 0;
  const write = (put: (part: Uint8Array) => void) => {
    const zip = zipWriter((part) => {
      hash.update(part);
      bytes += part.length;
      put(part);
    });
    zip.add(descriptorName, (take) => take(Buffer.from(descriptorText(files, { title, program }), 'utf8')));
    for (const { path, content } of toPack) zip.add(path, (take) => copyInto(content, take));
    zip.finish();
  };
  await writeOutput(out, write, replace);
  return { bytes, sha256: hash.digest('hex') };
}

function factsOf(content: ToPack['content']): { readonly bytes: number; readonly sha256: string } {
  if (content instanceof Uint8Array)
    return { bytes: content.length, sha256: createHash('sha256').update(content).digest('hex') };
  return { bytes: content.facts.bytes ?? 0, sha256: content.facts.sha256 ?? '' };
}

/** A file that can no longer be read is no package that cannot be written. */
function* partsToPack(path: string, name: string): Generator<Uint8Array> {
  try {
    yield* partsOfFile(path);
  } catch (error) {
    throw new Refusal([unreadable(name, error)]);
  }
}

/** Copies a file, and refuses where it is no longer what it was a moment ago. */
function copyInto(content: ToPack['content'], take: (part: Uint8Array) => void): void {
  if (content instanceof Uint8Array) {
    take(content);
    return;
  }
  const { path, facts } = content;
  const hash = createHash('sha256');
  for (const part of partsToPack(path, facts.file)) {
    hash.update(part);
    take(part);
  }
  if (hash.digest('hex') !== facts.sha256)
    throw new Refusal([
      problem(
        'source-changed',
        { file: facts.file },
        'the file was changed while it was packed; nothing was written, try again',
      ),
    ]);
}
