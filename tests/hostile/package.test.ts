import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { deflateSync } from 'fflate';
import { beforeAll, describe, expect, it } from 'vitest';
import { packageBounds, readZipDirectory, readZipEntry } from '../../core/evidence/read-zip.ts';
import { packageReview } from '../../electron/cli/commands/package.ts';
import { verify } from '../../electron/cli/commands/verify.ts';
import { Refusal } from '../../electron/cli/refusal.ts';
import { sampleReview } from '../build/sample-report.ts';
import { type EntryToWrite, sourceOf, zipBytes } from '../build/zip.ts';

const bytes = (text: string) => new TextEncoder().encode(text);
const folder = mkdtempSync(join(tmpdir(), 'workbench-hostile-'));

/** What reading a ZIP file whole comes to: its problems, those of the list first. */
function problemsOf(zip: Uint8Array): string[] {
  const source = sourceOf(zip);
  const entries = readZipDirectory('a.zip', source);
  if (!entries.ok) return entries.problems.map(({ code }) => code);
  return entries.value.flatMap((entry) => readZipEntry('a.zip', source, entry, () => {}).map(({ code }) => code));
}

const plain: EntryToWrite = { name: 'a.csv', data: bytes('1,2') };
const zeros = (length: number) => deflateSync(new Uint8Array(length), { level: 9 });

describe('a ZIP file made to harm, or harmed', () => {
  const whole = zipBytes([plain, { name: 'b.csv', data: bytes('3,4') }]);
  const longExpansion = { name: 'a.csv', data: zeros(40 * 2 ** 20), method: 8 };

  it.each<[string, Uint8Array, string[]]>([
    ['nothing at all', new Uint8Array(0), ['not-a-zip']],
    ['text', bytes('time_us,amplitude_pct\n1,2\n'), ['not-a-zip']],
    ['another program’s bytes before it', zipBytes([plain], { before: bytes('#!/bin/sh\n') }), ['not-a-zip']],
    ['cut off in the list', whole.subarray(0, whole.length - 10), ['zip-cut-off']],
    ['cut off in the data', whole.subarray(0, 40), ['zip-cut-off']],
    ['bytes behind its end', new Uint8Array([...whole, 1, 2, 3]), ['zip-cut-off']],
    ['a list of more files than it has', zipBytes([plain], { count: 2 }), ['zip-directory']],
    [
      'a list of fewer files than it has',
      zipBytes([plain, { ...plain, name: 'b.csv' }], { count: 1 }),
      ['zip-directory'],
    ],
    ['more files than are read', zipBytes([plain], { count: packageBounds.entries + 1 }), ['zip-too-large']],
    ['a folder above', zipBytes([{ ...plain, name: '../a.csv' }]), ['zip-name']],
    ['a folder above, further in', zipBytes([{ ...plain, name: 'review/../../a.csv' }]), ['zip-name']],
    ['an absolute path', zipBytes([{ ...plain, name: '/etc/a.csv' }]), ['zip-name']],
    ['a drive', zipBytes([{ ...plain, name: 'c:/a.csv' }]), ['zip-name']],
    ['a backslash', zipBytes([{ ...plain, name: '..\\a.csv' }]), ['zip-name']],
    ['no name', zipBytes([{ ...plain, name: '' }]), ['zip-name']],
    ['a part without a name', zipBytes([{ ...plain, name: 'review//a.csv' }]), ['zip-name']],
    ['a NUL in a name', zipBytes([{ ...plain, name: 'a.csv\0.html' }]), ['zip-name']],
    ['a name that turns the direction of writing', zipBytes([{ ...plain, name: 'a\u202Evsc.html' }]), ['zip-name']],
    ['a folder that holds bytes', zipBytes([{ ...plain, name: 'review/' }]), ['zip-name']],
    ['one name twice', zipBytes([plain, plain]), ['zip-name-twice']],
    ['names that differ in capitals alone', zipBytes([plain, { ...plain, name: 'A.CSV' }]), ['zip-name-twice']],
    [
      'names that differ in how an accent is written',
      zipBytes([
        { ...plain, name: 'é.csv' },
        { ...plain, name: 'e\u0301.csv' },
      ]),
      ['zip-name-twice'],
    ],
    ['encrypted', zipBytes([{ ...plain, flags: 0x801 }]), ['zip-method']],
    ['a compression that is not read', zipBytes([{ ...plain, method: 14 }]), ['zip-method']],
    [
      'one file within the bytes of another',
      zipBytes([plain, { ...plain, name: 'b.csv', headerAt: 0 }]),
      ['zip-overlap'],
    ],
    ['a file that begins beyond the end', zipBytes([{ ...plain, headerAt: 5000 }]), ['zip-overlap']],
    ['a file that reaches into the list', zipBytes([{ ...plain, headerAt: 20 }]), ['zip-overlap']],
    ['another name before the data than in the list', zipBytes([{ ...plain, nameInHeader: 'b.csv' }]), ['zip-entry']],
    ['a wrong CRC-32', zipBytes([{ ...plain, crc: 1 }]), ['zip-damaged']],
    ['two sizes that contradict each other', zipBytes([{ ...plain, bytes: 4 }]), ['zip-directory']],
    [
      'data that do not expand',
      zipBytes([{ name: 'a.csv', data: bytes('\xff\xff\xff'), method: 8, bytes: 10 }]),
      ['zip-damaged'],
    ],
    [
      'data that end too early',
      zipBytes([{ name: 'a.csv', data: zeros(100).subarray(0, 4), method: 8, bytes: 100 }]),
      ['zip-damaged'],
    ],
    [
      'fewer bytes than stated',
      zipBytes([{ name: 'a.csv', data: zeros(100), method: 8, bytes: 101, crc: 0 }]),
      ['zip-damaged'],
    ],
    ['a bomb that states its size', zipBytes([{ ...longExpansion, bytes: 40 * 2 ** 20 }]), ['zip-too-large']],
    ['a bomb that states a small one', zipBytes([{ ...longExpansion, bytes: 1000 }]), ['zip-damaged']],
    [
      'one file beyond what is read of one',
      zipBytes([{ ...plain, method: 8, bytes: packageBounds.entryBytes + 1 }]),
      ['zip-too-large'],
    ],
  ])('%s', (_name, zip, codes) => {
    expect(problemsOf(zip)).toEqual(codes);
  });

  it('files that are too large only together', () => {
    const data = new Uint8Array(packageBounds.entryBytes / packageBounds.ratio + 1);
    const entries = Array.from({ length: 5 }, (_, i) => ({
      name: `${i}.csv`,
      data,
      method: 8,
      bytes: packageBounds.entryBytes,
      crc: 0,
    }));
    expect(problemsOf(zipBytes(entries))).toEqual(['zip-too-large']);
  });

  it('a bomb that lies about its size is expanded no further than the size it states, and the part in which that shows', () => {
    const zip = zipBytes([{ ...longExpansion, bytes: 1000 }]);
    const source = sourceOf(zip);
    const entries = readZipDirectory('a.zip', source);
    let taken = 0;
    if (entries.ok) readZipEntry('a.zip', source, entries.value[0], (part) => (taken += part.length));
    expect(entries.ok).toBe(true);
    expect(taken).toBeLessThanOrEqual(1000);
  });

  it('every problem has a sentence of its own, with the name of the file in it where one is meant', () => {
    const lists = readZipDirectory('a.zip', sourceOf(zipBytes([{ ...plain, name: '../a.csv' }])));
    expect(lists.ok || lists.problems[0].sentence).toBe(
      '"../a.csv" cannot be the name of a file in a package: it leads out of the package',
    );
  });
});

describe('a package with any of its bytes changed', () => {
  const packed = join(folder, 'sample.zip');
  let zip: Uint8Array;
  beforeAll(async () => {
    await packageReview(sampleReview, { out: packed });
    const { readFileSync } = await import('node:fs');
    zip = readFileSync(packed);
  }, 60_000);

  it('is never taken for what was packed, and never breaks the program', () => {
    const changed = join(folder, 'changed.zip');
    fc.assert(
      fc.property(fc.nat(), fc.integer({ min: 1, max: 255 }), (place, by) => {
        const bad = zip.slice();
        bad[place % bad.length] ^= by;
        writeFileSync(changed, bad);
        try {
          const { trusted } = verify(changed);
          // A few bytes say nothing of the content: times, versions and attributes of files.
          if (trusted) expect(isWithoutMeaning(zip, place % zip.length)).toBe(true);
        } catch (error) {
          expect(error).toBeInstanceOf(Refusal);
        }
      }),
      { numRuns: 25 },
    );
  });

  it('cut off anywhere it is refused', () => {
    const cut = join(folder, 'cut.zip');
    fc.assert(
      fc.property(fc.integer({ min: 0, max: zip.length - 1 }), (length) => {
        writeFileSync(cut, zip.subarray(0, length));
        expect(() => verify(cut)).toThrow(Refusal);
      }),
      { numRuns: 25 },
    );
  });
});

/** Whether a byte of a ZIP file lies in a field that says nothing of names, sizes or data (APPNOTE 4.3.7, 4.3.9, 4.3.12). */
function isWithoutMeaning(zip: Uint8Array, place: number): boolean {
  const source = sourceOf(zip);
  const entries = readZipDirectory('a.zip', source);
  if (!entries.ok) return false;
  const data = new DataView(zip.buffer, zip.byteOffset, zip.length);
  const inHeader = entries.value.some(({ headerAt, compressedBytes }) => {
    const nameLength = data.getUint16(headerAt + 26, true);
    const name = headerAt + 30;
    const dataAt = name + nameLength;
    // All of the head but signature, lengths and name, and the sizes behind the data: the list at the end has them too.
    const ofHead = place >= headerAt + 4 && place < headerAt + 26;
    return ofHead || (place >= dataAt + compressedBytes && place < dataAt + compressedBytes + 16);
  });
  if (inHeader) return true;
  const end = zip.length - 22;
  let at = data.getUint32(end + 16, true);
  while (at < end) {
    const next =
      at + 46 + data.getUint16(at + 28, true) + data.getUint16(at + 30, true) + data.getUint16(at + 32, true);
    // Versions, flags that are not read, times; then disk, attributes.
    if (place >= at + 4 && place < at + 16) return true;
    if (place >= at + 34 && place < at + 42) return true;
    at = next;
  }
  return false;
}
