import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { crc32 } from './crc32.ts';
import { inflateParts } from './inflate.ts';
import { foldedName, nameFault } from './packed-names.ts';

/** A file that can be read at any place: on a disk, or in memory. */
export interface ByteSource {
  readonly size: number;
  /** Exactly these bytes; the caller asks for none beyond the end. */
  read(from: number, length: number): Uint8Array;
}

export interface ZipEntry {
  readonly name: string;
  readonly bytes: number;
  readonly compressedBytes: number;
  readonly crc: number;
  readonly isDeflated: boolean;
  readonly headerAt: number;
  /** Where the next file, or the list, begins: nothing of this one may reach there. */
  readonly endsBefore: number;
}

/** What is read of a package at most. A larger one is refused by its stated sizes before anything of it is expanded. */
export const packageBounds = {
  entries: 20_000,
  /** All files together, expanded. */
  totalBytes: 4 * 2 ** 30,
  entryBytes: 2 ** 30,
  /** Documents that are held in memory whole. */
  documentBytes: 128 * 2 ** 20,
  /** Saved waveforms come down to a tenth or so; what comes down further than this, and is large, is made to fill a memory. */
  ratio: 200,
  ratioFromBytes: 10 * 2 ** 20,
} as const;

/** The lists of files that a ZIP file ends with may be so long at most. */
const mostDirectoryBytes = 32 * 2 ** 20;

const endSignature = 0x06054b50;
const directorySignature = 0x02014b50;
const headerSignature = 0x04034b50;
const endBytes = 22;
const mostComment = 0xffff;

/**
 * The list of files in a ZIP file from a stranger. It is read whole and believed in nothing: names must stay inside, no two may be one, no two files may share bytes,
 * and all sizes are bounded before anything is expanded. Encryption, parts on several disks and files of 4 GiB are refused.
 * Problems: `not-a-zip`, `zip-cut-off`, `zip-directory`, `zip-too-large`, `zip-name`, `zip-name-twice`, `zip-overlap`, `zip-method`.
 * Source: PKWARE APPNOTE 6.3, 4.3.
 */
export function readZipDirectory(file: string, source: ByteSource): Outcome<readonly ZipEntry[]> {
  const refuse = (code: string, sentence: string) => failure(problem(code, { file }, sentence));
  if (source.size < 4 || !startsLikeZip(source))
    return refuse('not-a-zip', 'this is not a ZIP file; give a package that the command package made');
  const end = findEnd(source);
  if (end === null)
    return refuse(
      'zip-cut-off',
      'the ZIP file is cut off: the list of its files, which stands at its end, is missing; copy it again, whole',
    );
  const { count, size, from } = end;
  if (count > packageBounds.entries)
    return refuse('zip-too-large', `the ZIP file names ${count} files; at most ${packageBounds.entries} are read`);
  if (size > mostDirectoryBytes || from + size > end.at)
    return refuse(
      'zip-directory',
      'the list of files in the ZIP file does not lie where it says; copy it again, whole',
    );
  const entries = directoryEntries(source.read(from, size), count);
  if (entries === null)
    return refuse('zip-directory', 'the list of files in the ZIP file is damaged; copy it again, whole');
  const problems = [
    ...entries.flatMap((entry) => entryProblems(file, entry)),
    ...nameProblems(file, entries),
    ...sizeProblems(file, entries),
  ];
  if (problems.length > 0) return failure(...problems.slice(0, 20));
  const placed = inTheirPlaces(entries, from);
  const overlap = placed.find((entry) => entry.headerAt + 30 + entry.compressedBytes > entry.endsBefore);
  if (overlap !== undefined) return refuse('zip-overlap', sharesBytes(overlap.name));
  return success(placed.filter((entry) => !entry.name.endsWith('/')));
}

interface Listed {
  readonly entry: Omit<ZipEntry, 'endsBefore'>;
  readonly encrypted: boolean;
  readonly method: number;
}

function startsLikeZip(source: ByteSource): boolean {
  const signature = view(source.read(0, 4)).getUint32(0, true);
  return signature === headerSignature || signature === endSignature;
}

function findEnd(source: ByteSource) {
  const length = Math.min(source.size, endBytes + mostComment);
  const start = source.size - length;
  const tail = source.read(start, length);
  const data = view(tail);
  for (let at = length - endBytes; at >= 0; at--) {
    if (data.getUint32(at, true) !== endSignature) continue;
    // What stands behind it must be its own comment, to the last byte.
    if (at + endBytes + data.getUint16(at + 20, true) !== length) continue;
    const disks = data.getUint16(at + 4, true) + data.getUint16(at + 6, true);
    const count = data.getUint16(at + 10, true);
    if (disks !== 0 || count !== data.getUint16(at + 8, true)) return null;
    return { at: start + at, count, size: data.getUint32(at + 12, true), from: data.getUint32(at + 16, true) };
  }
  return null;
}

function directoryEntries(bytes: Uint8Array, count: number): Listed[] | null {
  const data = view(bytes);
  const entries: Listed[] = [];
  let at = 0;
  for (let i = 0; i < count; i++) {
    if (at + 46 > bytes.length || data.getUint32(at, true) !== directorySignature) return null;
    const [nameLength, extraLength, commentLength] = [28, 30, 32].map((offset) => data.getUint16(at + offset, true));
    const next = at + 46 + nameLength + extraLength + commentLength;
    const name = nameOf(bytes.subarray(at + 46, at + 46 + nameLength));
    if (next > bytes.length || name === null) return null;
    const flags = data.getUint16(at + 8, true);
    const method = data.getUint16(at + 10, true);
    entries.push({
      entry: {
        name,
        crc: data.getUint32(at + 16, true),
        compressedBytes: data.getUint32(at + 20, true),
        bytes: data.getUint32(at + 24, true),
        isDeflated: method === 8,
        headerAt: data.getUint32(at + 42, true),
      },
      encrypted: (flags & 0x2041) !== 0,
      method,
    });
    at = next;
  }
  return at === bytes.length ? entries : null;
}

function nameOf(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return null;
  }
}

function entryProblems(file: string, { entry, encrypted, method }: Listed): Problem[] {
  const { name, bytes, compressedBytes } = entry;
  const say = (code: string, sentence: string) => [problem(code, { file }, sentence)];
  const fault = nameFault(name.replace(/\/$/, ''));
  if (fault !== null) return say('zip-name', `"${name}" cannot be the name of a file in a package: ${fault}`);
  if (encrypted) return say('zip-method', `${name} is encrypted; a package is open to everyone`);
  if (method !== 0 && method !== 8)
    return say(
      'zip-method',
      `${name} is compressed in a way that is not read here (method ${method}); deflate or none is`,
    );
  if (method === 0 && bytes !== compressedBytes)
    return say('zip-directory', `${name} has two sizes that contradict each other; the list of files is damaged`);
  if (name.endsWith('/') && bytes > 0)
    return say(
      'zip-name',
      `"${name}" is named like a folder and holds ${bytes} bytes; such a ZIP file is made to deceive`,
    );
  if (bytes > packageBounds.entryBytes)
    return say(
      'zip-too-large',
      `${name} would expand to ${bytes} bytes; at most ${packageBounds.entryBytes} are read of one file`,
    );
  if (bytes > packageBounds.ratioFromBytes && bytes > packageBounds.ratio * compressedBytes)
    return say(
      'zip-too-large',
      `${name} would expand to ${bytes} bytes from ${compressedBytes}, more than ${packageBounds.ratio} times as many: no saved waveform does`,
    );
  return [];
}

function nameProblems(file: string, entries: readonly Listed[]): Problem[] {
  const seen = new Map<string, string>();
  return entries.flatMap(({ entry: { name } }) => {
    const folded = foldedName(name);
    const other = seen.get(folded);
    seen.set(folded, name);
    if (other === undefined) return [];
    const same = other === name ? 'stands twice in the ZIP file' : `and ${other} differ in capitals or accents alone`;
    return [problem('zip-name-twice', { file }, `${name} ${same}: which of the two is meant cannot be told`)];
  });
}

function sizeProblems(file: string, entries: readonly Listed[]): Problem[] {
  const total = entries.reduce((sum, { entry }) => sum + entry.bytes, 0);
  if (total <= packageBounds.totalBytes) return [];
  return [
    problem(
      'zip-too-large',
      { file },
      `the files would expand to ${total} bytes together; at most ${packageBounds.totalBytes} are read`,
    ),
  ];
}

/** The files in the order of the list, each with where the one behind it begins. */
function inTheirPlaces(entries: readonly Listed[], directoryAt: number): ZipEntry[] {
  const starts = [...entries.map(({ entry }) => entry.headerAt), directoryAt].sort((a, b) => a - b);
  // Of two that begin at one place, the second comes right behind the first: neither has room.
  const behind = new Map<number, number>();
  for (let i = 0; i + 1 < starts.length; i++) if (!behind.has(starts[i])) behind.set(starts[i], starts[i + 1]);
  return entries.map(({ entry }) => ({ ...entry, endsBefore: behind.get(entry.headerAt) ?? directoryAt }));
}

function sharesBytes(name: string): string {
  return `${name} shares its bytes with another file or with the list; such a ZIP file is made to deceive`;
}

/**
 * Reads one file of a ZIP file part by part, and never more of it than it says it has. Gives what is wrong with it: `zip-entry` (its own head contradicts the list), `zip-overlap`,
 * `zip-damaged` (it does not expand, is longer or shorter than stated, or its CRC-32 differs); nothing where it is whole.
 */
export function readZipEntry(
  file: string,
  source: ByteSource,
  entry: ZipEntry,
  take: (part: Uint8Array) => void,
): readonly Problem[] {
  const say = (code: string, sentence: string) => [problem(code, { file }, sentence)];
  const dataAt = dataOf(source, entry);
  if (dataAt === null)
    return say('zip-entry', `${entry.name}: what stands before its bytes contradicts the list of files`);
  if (dataAt + entry.compressedBytes > entry.endsBefore) return say('zip-overlap', sharesBytes(entry.name));
  let bytes = 0;
  let crc = 0;
  const taken = (part: Uint8Array): boolean => {
    if (bytes + part.length > entry.bytes) {
      bytes = Number.POSITIVE_INFINITY;
      return false;
    }
    bytes += part.length;
    crc = crc32(part, crc);
    take(part);
    return true;
  };
  const read = (from: number, length: number) => source.read(dataAt + from, length);
  const whole = entry.isDeflated
    ? inflateParts(read, entry.compressedBytes, taken)
    : storedParts(read, entry.bytes, taken);
  if (bytes > entry.bytes)
    return say(
      'zip-damaged',
      `${entry.name} is longer than the ${entry.bytes} bytes that it says it has; no more of it was read`,
    );
  if (!whole || bytes < entry.bytes)
    return say('zip-damaged', `${entry.name} is damaged: its data end after ${bytes} of ${entry.bytes} bytes`);
  if (crc !== entry.crc)
    return say('zip-damaged', `${entry.name} is damaged: its CRC-32 is ${hex(crc)}, and ${hex(entry.crc)} is stated`);
  return [];
}

function dataOf(source: ByteSource, { headerAt, name, compressedBytes }: ZipEntry): number | null {
  if (headerAt + 30 > source.size) return null;
  const head = view(source.read(headerAt, 30));
  if (head.getUint32(0, true) !== headerSignature) return null;
  const nameLength = head.getUint16(26, true);
  const dataAt = headerAt + 30 + nameLength + head.getUint16(28, true);
  if (dataAt + compressedBytes > source.size) return null;
  return nameOf(source.read(headerAt + 30, nameLength)) === name ? dataAt : null;
}

function storedParts(
  read: (from: number, length: number) => Uint8Array,
  size: number,
  take: (part: Uint8Array) => boolean,
): boolean {
  const partBytes = 1 << 20;
  for (let from = 0; from < size; from += partBytes)
    if (!take(read(from, Math.min(partBytes, size - from)))) return false;
  return true;
}

const hex = (crc: number) => crc.toString(16).padStart(8, '0');

function view(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
}
