import fc from 'fast-check';
import { unzipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { crc32 } from '../../../core/evidence/crc32.ts';
import { readZipDirectory, readZipEntry } from '../../../core/evidence/read-zip.ts';
import { zipWriter } from '../../../core/evidence/write-zip.ts';
import { joined, sourceOf, zipBytes } from '../../build/zip.ts';

type Files = readonly (readonly [name: string, bytes: Uint8Array])[];

function written(files: Files, part = 1000): Uint8Array {
  const parts: Uint8Array[] = [];
  const zip = zipWriter((bytes) => parts.push(bytes.slice()));
  for (const [name, bytes] of files)
    zip.add(name, (take) => {
      for (let from = 0; from < bytes.length; from += part) take(bytes.subarray(from, from + part));
    });
  zip.finish();
  return joined(parts);
}

function readBack(zip: Uint8Array): Record<string, Uint8Array> {
  const source = sourceOf(zip);
  const entries = readZipDirectory('a.zip', source);
  if (!entries.ok) throw new Error(entries.problems.map(({ sentence }) => sentence).join());
  return Object.fromEntries(
    entries.value.map((entry) => {
      const parts: Uint8Array[] = [];
      expect(readZipEntry('a.zip', source, entry, (part) => parts.push(part.slice()))).toEqual([]);
      return [entry.name, joined(parts)];
    }),
  );
}

const bytes = (text: string) => new TextEncoder().encode(text);

describe('CRC-32', () => {
  // The check value of the catalogue of parametrised CRC algorithms, CRC-32/ISO-HDLC.
  it('of "123456789" is cbf43926, whole or in parts', () => {
    expect(crc32(bytes('123456789'))).toBe(0xcbf43926);
    expect(crc32(bytes('6789'), crc32(bytes('12345')))).toBe(0xcbf43926);
  });
  it('of nothing is 0', () => expect(crc32(bytes(''))).toBe(0));
});

describe('a ZIP file of our own', () => {
  const files: Files = [
    ['datapackage.json', bytes('{}')],
    ['review/Prüfung/a.csv', bytes('time,amplitude\n'.repeat(20_000))],
    ['empty.csv', bytes('')],
  ];

  it('gives back what went in, by our reader and by another one', () => {
    const zip = written(files);
    expect(readBack(zip)).toEqual(Object.fromEntries(files));
    // fflate's own reader, which knows nothing of ours.
    const other = unzipSync(zip);
    for (const [name, content] of files) expect(Buffer.from(other[name]).equals(Buffer.from(content))).toBe(true);
  });

  it('is the same however its bytes came in, and whenever', () => {
    expect(Buffer.from(written(files, 7)).equals(Buffer.from(written(files, 1 << 20)))).toBe(true);
  });

  it('bears the one fixed time', () => {
    const zip = written([['a', bytes('x')]]);
    // MS-DOS date and time (APPNOTE 4.4.6): 1 January 1980, 12:00.
    expect([zip[10], zip[11], zip[12], zip[13]]).toEqual([0, 0x60, 0x21, 0]);
  });

  it('any bytes come back', () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 3000 }), { maxLength: 5 }), (contents) => {
        const named = contents.map((content, i) => [`file-${i}`, content] as const);
        expect(readBack(written(named))).toEqual(Object.fromEntries(named));
      }),
      { numRuns: 40 },
    );
  });
});

describe('a ZIP file that another program made', () => {
  it('stored entries, folders named, and a comment at the end', () => {
    const zip = zipBytes(
      [
        { name: 'review/', data: bytes('') },
        { name: 'review/a.csv', data: bytes('1,2') },
      ],
      { comment: 'PK' },
    );
    expect(readBack(zip)).toEqual({ 'review/a.csv': bytes('1,2') });
  });
});
