import { madeFiles, reviewFolder } from '../../core/evidence/contents.ts';
import { descriptorName, descriptorText, type PackedFile } from '../../core/evidence/descriptor.ts';
import type { ReviewFiles } from '../../core/evidence/evaluate-files.ts';
import {
  asItCame,
  asSavedTitle,
  lostByRenaming,
  packedReview,
  sourceAsItCame,
  unfitForPackage,
} from '../../core/evidence/plan-package.ts';
import { packageBounds, readZipDirectory, readZipEntry } from '../../core/evidence/read-zip.ts';
import { type FileFacts, reportInputOf } from '../../core/evidence/review-report.ts';
import { type OpenedPackage, type Verification, verifyPackage } from '../../core/evidence/verify-package.ts';
import { zipWriter } from '../../core/evidence/write-zip.ts';
import { importBytes } from '../../core/import/import-file.ts';
import { failure, type Outcome, problem, success } from '../../core/outcome.ts';
import { programName } from '../../core/program-name.ts';
import { reportPage } from '../../core/report/page/page.ts';
import type { ReportInput } from '../../core/report/page/report-input.ts';
import { reviewText } from '../../core/review/open-review.ts';
import type { Review } from '../../core/review/review.ts';
import { metricStyle } from '../../core/units/figure-style.ts';
import type { Packed, ReportAsked } from './messages.ts';
import type { Control } from './pauses.ts';
import { bytesOf, sha256Of } from './taking-in.ts';

/** The review's files as the worker holds them. */
export interface HeldFiles {
  readonly files: ReviewFiles;
  facts(name: string): FileFacts;
  /** The bytes of one of them; it is there. */
  read(name: string): Promise<Uint8Array<ArrayBuffer>>;
}

const programNamed = (version: string) => ({ name: programName, version });

/** The report of the review as it stands, as one page. */
export function reportOf(review: Review, held: HeldFiles, asked: ReportAsked): Outcome<string> {
  const { name, sha256, version, style } = asked;
  const { files, facts } = held;
  const input = reportInputOf({ name, sha256, review, files, facts, program: programNamed(version), style });
  return input.ok ? success(reportPage(input.value)) : input;
}

/** Captures, review, results and report as one ZIP file, byte for byte what the command line makes of the same review. */
export async function packageOf(
  review: Review,
  held: HeldFiles,
  { name, version }: Pick<ReportAsked, 'name' | 'version'>,
  control: Control,
): Promise<Outcome<Packed>> {
  const program = programNamed(version);
  const saved = utf8(reviewText(review));
  const packed = packedReview(name, review);
  const within = packed.renamed ?? review;
  const bytes = packed.renamed === null ? saved : utf8(reviewText(packed.renamed));
  const heldAs = (file: string) => packed.originals.get(file) ?? file;
  const common = { program, style: metricStyle };
  const input = reportInputOf({
    ...common,
    name: packed.name,
    sha256: await sha256Of(bytes),
    review: within,
    files: under(held.files, heldAs),
    facts: (file) => held.facts(heldAs(file)),
  });
  if (!input.ok) return input;
  await control.pause();
  const problems = unfitForPackage(input.value.review, input.value.sources, 'package');
  if (problems.length === 0 && packed.asSaved !== null) {
    const asSaved = reportInputOf({
      ...common,
      name,
      sha256: await sha256Of(saved),
      review,
      files: held.files,
      facts: held.facts,
    });
    if (!asSaved.ok) return asSaved;
    const lost = lostByRenaming(asSaved.value, input.value);
    if (lost !== null) problems.push(lost);
  }
  if (problems.length > 0) return failure(...problems);
  const own = [
    ...madeFiles(input.value).map(({ text, ...about }) => ({ ...about, content: utf8(text) })),
    { ...asItCame(packed.name, 'review', 'The review: every decision'), content: bytes },
    ...(packed.asSaved === null
      ? []
      : [{ ...asItCame(packed.asSaved, 'review-as-saved', asSavedTitle), content: saved }]),
  ];
  return success(await written(own, input.value, (file) => held.read(heldAs(file)), control));
}

type Own = Omit<PackedFile, 'bytes' | 'sha256'> & { readonly content: Uint8Array<ArrayBuffer> };

async function written(
  own: readonly Own[],
  { sources, review, program }: ReportInput,
  read: (file: string) => Promise<Uint8Array<ArrayBuffer>>,
  control: Control,
): Promise<Packed> {
  const described: PackedFile[] = [];
  for (const { content, ...about } of own)
    described.push({ ...about, bytes: content.length, sha256: await sha256Of(content) });
  for (const source of sources)
    described.push({ ...sourceAsItCame(source), bytes: source.bytes ?? 0, sha256: source.sha256 ?? '' });
  const parts: Uint8Array<ArrayBuffer>[] = [];
  const zip = zipWriter((part) => parts.push(new Uint8Array(part)));
  zip.add(descriptorName, (take) => take(utf8(descriptorText(described, { title: review.title, program }))));
  for (const { path, content } of own) zip.add(path, (take) => take(content));
  let done = 0;
  for (const source of sources) {
    const bytes = await read(source.file);
    zip.add(sourceAsItCame(source).path, (take) => take(bytes));
    control.progress({ done: ++done, total: sources.length });
    await control.pause();
  }
  zip.finish();
  const content = new Blob(parts, { type: 'application/zip' });
  return { content, sha256: await sha256Of(await bytesOf(content)), files: described.length + 1 };
}

/** The same files by other names. */
function under(files: ReviewFiles, heldAs: (file: string) => string): ReviewFiles {
  return {
    shown: (name) => name,
    imported(name, recipe) {
      const imported = files.imported(heldAs(name), recipe);
      if (!imported.ok) return imported;
      const captures = imported.value.captures.map((capture) => ({
        ...capture,
        file: name,
        id: `${name}#${capture.trace}`,
      }));
      return { ...imported, value: { ...imported.value, captures } };
    },
    bytes: (name) => files.bytes(heldAs(name)),
  };
}

/** A package is held in memory whole here, and so is what is in it: a larger one is for the command line. */
const mostBytes = 512 * 2 ** 20;

/** Recomputes every hash and every result of a package. */
export async function verificationOf(
  file: string,
  content: Blob,
  version: string,
  control: Control,
): Promise<Outcome<Verification & { readonly sha256: string; readonly bytes: number }>> {
  if (content.size > mostBytes) return failure(tooLarge(file, content.size));
  const zip = await bytesOf(content);
  const source = { size: zip.length, read: (from: number, length: number) => zip.subarray(from, from + length) };
  const directory = readZipDirectory(file, source);
  if (!directory.ok) return directory;
  const expanded = directory.value.reduce((sum, entry) => sum + entry.bytes, 0);
  if (expanded > mostBytes) return failure(tooLarge(file, expanded));
  const found = new Map<string, Outcome<{ readonly bytes: Uint8Array<ArrayBuffer>; readonly sha256: string }>>();
  for (const entry of directory.value) {
    const whole = new Uint8Array(entry.bytes);
    let filled = 0;
    const problems = readZipEntry(file, source, entry, (part) => {
      whole.set(part, filled);
      filled += part.length;
    });
    found.set(
      entry.name,
      problems.length > 0 ? failure(...problems) : success({ bytes: whole, sha256: await sha256Of(whole) }),
    );
    control.progress({ done: found.size, total: directory.value.length });
    await control.pause();
  }
  const packed = openedPackage(found);
  const verified = verifyPackage(file, packed, filesIn(packed), version);
  return verified.ok
    ? { ...verified, value: { ...verified.value, sha256: await sha256Of(zip), bytes: zip.length } }
    : verified;
}

function tooLarge(file: string, bytes: number) {
  const sentence = `the package holds ${bytes} bytes; at most ${mostBytes} are verified in a window, and larger ones by the command verify`;
  return problem('package-too-large', { file }, sentence);
}

function openedPackage(
  found: ReadonlyMap<string, Outcome<{ readonly bytes: Uint8Array; readonly sha256: string }>>,
): OpenedPackage {
  const bytes: OpenedPackage['bytes'] = (name) =>
    found.get(name) ??
    failure(problem('not-in-package', { file: name }, 'the file is not in the package; copy the package again, whole'));
  return {
    names: new Set(found.keys()),
    bytes,
    facts(name) {
      const read = bytes(name);
      return read.ok ? success({ bytes: read.value.bytes.length, sha256: read.value.sha256 }) : read;
    },
    text(name) {
      const read = bytes(name);
      if (!read.ok) return read;
      if (read.value.bytes.length > packageBounds.documentBytes)
        return failure(
          problem(
            'document-too-large',
            { file: name },
            `the file has ${read.value.bytes.length} bytes; documents of at most ${packageBounds.documentBytes} are read`,
          ),
        );
      return success(new TextDecoder('utf-8').decode(read.value.bytes));
    },
  };
}

/** The files that a packed review names. */
function filesIn(packed: OpenedPackage): ReviewFiles {
  const path = (name: string) => `${reviewFolder}/${name}`;
  return {
    shown: (name) => name,
    imported(name, recipe) {
      const read = packed.bytes(path(name));
      return read.ok ? importBytes(name, read.value.bytes, recipe, read.value.sha256) : read;
    },
    bytes: (name) => packed.bytes(path(name)),
  };
}

function utf8(text: string): Uint8Array<ArrayBuffer> {
  return new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;
}
