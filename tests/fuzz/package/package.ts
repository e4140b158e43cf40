import { posix, win32 } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { packageBounds, readZipDirectory, readZipEntry } from '../../../core/evidence/read-zip.ts';
import type { Problem } from '../../../core/outcome.ts';
import { type EntryToWrite, sourceOf, zipBytes } from '../../build/zip.ts';
import type { Chance } from '../chance.ts';
import { changed, spliced } from '../change.ts';
import { edgeWords } from '../edges.ts';
import type { Input, Subject, Verdict } from '../subject.ts';
import { slowZip } from './slow-zip.ts';

type WrittenZip = readonly { readonly name: string; readonly bytes: Uint8Array }[];

/** Evidence packages from strangers, as ZIP files. */
export const evidencePackage: Subject<WrittenZip> = {
  name: 'package',
  ending: 'zip',
  make: madeZip,
  change: (bytes, other, chance) => changed(bytes, other, chance, [onFields]),
  judge: ({ bytes, truth }) => judgeZip(bytes, truth),
};

const plainNames = [
  'datapackage.json',
  'review/review.json',
  'review/a.csv',
  'results/readings.csv',
  'report.html',
  'review/é.csv',
  'B.csv',
];
const badNames = [
  '../a',
  'a/../../b',
  '/etc/a',
  '\\\\host\\a',
  'c:a',
  'C:\\a',
  'a\\b',
  'a//b',
  './a',
  'a/.',
  '',
  'a\u0000b',
  'a\u202eb',
  'A.csv',
  'a.csv',
  'e\u0301.csv',
  'folder/',
  '~/a',
  'con',
  'a'.repeat(70_000),
  ...edgeWords,
];

function madeZip(chance: Chance): Input<WrittenZip> {
  const isClean = chance.oneIn(3);
  const names = isClean
    ? plainNames.slice(chance.below(3), 3 + chance.below(4))
    : Array.from({ length: 1 + chance.small(12) }, () => chance.pick(chance.oneIn(2) ? plainNames : badNames));
  const written = names.map((name) => ({ name: name.slice(0, 65_535), bytes: content(chance) }));
  const entries = written.map(({ name, bytes }): EntryToWrite => {
    const isDeflated = chance.oneIn(2);
    const entry = {
      name,
      data: isDeflated ? new Uint8Array(deflateRawSync(bytes)) : bytes,
      method: isDeflated ? 8 : 0,
      bytes: bytes.length,
      crc: crcOf(bytes),
    };
    return isClean ? entry : lying(entry, chance);
  });
  const end =
    isClean || !chance.oneIn(4) ? {} : { count: entries.length + chance.pick([-1, 1, 0xffff - entries.length]) };
  const comment = chance.oneIn(8)
    ? { comment: chance.pick(['made by hand', 'PK\u0005\u0006', 'PK\u0005\u0006'.padEnd(26, '\u0000')]) }
    : {};
  return { bytes: zipBytes(entries, { ...end, ...comment }), truth: isClean ? written : null };
}

function content(chance: Chance): Uint8Array {
  if (chance.oneIn(6)) return new Uint8Array(chance.pick([0, 1, 100_000]));
  return new TextEncoder().encode('time_us,amplitude_pct\n'.concat('0.01,5\n'.repeat(chance.small(400))));
}

function crcOf(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0);
  }
  return (crc ^ 0xffffffff) >>> 0;
}

function lying(entry: EntryToWrite, chance: Chance): EntryToWrite {
  const size = () =>
    chance.pick([
      0,
      1,
      entry.data.length,
      entry.data.length + 1,
      0xffffffff,
      0x7fffffff,
      packageBounds.entryBytes + 1,
      1000,
    ]);
  return {
    ...entry,
    ...(chance.oneIn(8) ? { bytes: size() } : {}),
    ...(chance.oneIn(10) ? { crc: chance.below(2 ** 32) } : {}),
    ...(chance.oneIn(10) ? { flags: chance.pick([1, 0x40, 0x2000, 8, 0x801, 0xffff]) } : {}),
    ...(chance.oneIn(10) ? { method: chance.pick([0, 1, 6, 8, 9, 12, 14, 93, 99]) } : {}),
    ...(chance.oneIn(10) ? { nameInHeader: chance.pick([...plainNames, ...badNames]).slice(0, 65_535) } : {}),
    ...(chance.oneIn(8) ? { headerAt: chance.pick([0, 1, 30, 100, 0xffffffff, chance.below(2000)]) } : {}),
    ...(chance.oneIn(6) ? { extraInHeader: chance.pick([1, 4, 30, 100, 2000, 65_535]) } : {}),
  };
}

/** A field of a head or of the list set to a number at the edge: sizes, places, counts, flags, the marks of ZIP64. */
function onFields(bytes: Uint8Array, _other: Uint8Array, chance: Chance): Uint8Array {
  const heads: number[] = [];
  for (let at = Buffer.from(bytes).indexOf('PK'); at >= 0; at = Buffer.from(bytes).indexOf('PK', at + 1))
    heads.push(at);
  if (heads.length === 0) return bytes;
  const at = chance.pick(heads) + 4 + 2 * chance.below(21);
  const value = chance.pick([0, 1, 8, 0xff, 0xffff, 0x7fff, 45, bytes.length & 0xffff, 30, 46]);
  const field = Uint8Array.of(value & 0xff, value >> 8);
  return spliced(
    bytes,
    Math.min(at, bytes.length),
    Math.min(at + 2, bytes.length),
    chance.oneIn(3) ? Uint8Array.of(...field, 0xff, 0xff).subarray(0, 2) : field,
  );
}

/** `reader` is the product's own, unless a test puts another in its place. */
export function judgeZip(
  zip: Uint8Array,
  truth: WrittenZip | null,
  reader = { readZipDirectory, readZipEntry },
): Verdict {
  const source = sourceOf(zip);
  const directory = reader.readZipDirectory('a.zip', source);
  const faults: string[] = [];
  if (!directory.ok) {
    faults.push(...wrongProblems(directory.problems));
    if (truth !== null) faults.push(`refused although well made: ${directory.problems[0].code}`);
    return { outcome: `refused ${codesOf(directory.problems)}`, faults };
  }
  const slow = slowZip(zip);
  const problems: Problem[] = [];
  const taken = new Set<string>();
  let total = 0;
  for (const entry of directory.value) {
    const parts: Uint8Array[] = [];
    const wrong = reader.readZipEntry('a.zip', source, entry, (part) => parts.push(part.slice()));
    const bytes = Buffer.concat(parts);
    total += bytes.length;
    problems.push(...wrong);
    faults.push(...wrongProblems(wrong), ...unsafe(entry.name, taken));
    if (bytes.length > entry.bytes) faults.push(`${entry.name} gave ${bytes.length} bytes of ${entry.bytes} stated`);
    const known = slow?.entries.find(({ name }) => name === entry.name);
    if (wrong.length > 0) continue;
    if (known?.bytes == null || !known.bytes.equals(bytes))
      faults.push(`${entry.name.slice(0, 40)} was read, and the slow reader finds other bytes`);
    else if (
      slow?.entries.some(
        (other) => other !== known && other.from < known.to && known.from < other.to && other.bytes !== null,
      )
    )
      faults.push(`${entry.name.slice(0, 40)} was read, and shares its bytes with another file`);
    else if (slow !== null && known.to > slow.directoryAt)
      faults.push(`${entry.name.slice(0, 40)} was read, and reaches into the list of files`);
    const written = truth?.find(({ name }) => name === entry.name);
    if (truth !== null && (written === undefined || !bytes.equals(written.bytes)))
      faults.push(`${entry.name} is not what was packed`);
  }
  if (total > packageBounds.totalBytes) faults.push(`${total} bytes were expanded`);
  if (truth !== null && (problems.length > 0 || directory.value.length !== truth.length))
    faults.push('a well made package was not read whole');
  return { outcome: `read ${Math.min(4, directory.value.length)} ${codesOf(problems)}`, faults };
}

function wrongProblems(problems: readonly Problem[]): string[] {
  return problems.length > 20 || problems.some(({ place, sentence }) => place.file !== 'a.zip' || sentence.length < 12)
    ? [`a problem without its file or sentence: ${codesOf(problems)}`]
    : [];
}

function codesOf(problems: readonly Problem[]): string {
  return [
    ...new Set(
      problems.map(
        ({ code, sentence }) =>
          `${code} ${sentence
            .replace(/^.*?(?=:|cannot|is|shares|would|has|stands)/s, '')
            .slice(0, 24)
            .replace(/\d+/g, '0')}`,
      ),
    ),
  ]
    .sort()
    .join('+');
}

/** A name that a file system would take for a place outside, or for a file that is there already. */
function unsafe(name: string, taken: Set<string>): string[] {
  const faults: string[] = [];
  if (posix.isAbsolute(name) || win32.isAbsolute(name) || /^[a-z]:/i.test(name))
    faults.push('an absolute name was read');
  if (win32.normalize(name).split('\\').includes('..') || name.includes('\\'))
    faults.push('a name that leads out was read');
  if (posix.normalize(name) !== name || name === '' || name === '.') faults.push('a name that is not plain was read');
  if ([...name].some((character) => character < ' ' || (character >= '\u007f' && character < '\u00a0')))
    faults.push('a name with a control character was read');
  const folded = name.normalize('NFC').toLowerCase();
  if (taken.has(folded)) faults.push('one name was read twice');
  taken.add(folded);
  return faults;
}
