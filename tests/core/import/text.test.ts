import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeLatin1, decodeUtf8, Utf16ToUtf8 } from '../../../core/import/text.ts';
import { bytesOf } from './csv-bytes.ts';

describe('bytes that are not UTF-8', () => {
  it.each([
    ['a lone continuation byte', [0x80]],
    ['µ in Latin-1', [0xb5]],
    ['a sequence cut short', [0xc2]],
    ['a sequence broken off', [0xe2, 0x82, 0x41]],
    ['an overlong slash', [0xc0, 0xaf]],
    ['an overlong sequence of three', [0xe0, 0x80, 0xaf]],
    ['a surrogate', [0xed, 0xa0, 0x80]],
    ['beyond Unicode', [0xf4, 0x90, 0x80, 0x80]],
    ['a byte that never occurs', [0xff]],
  ])('%s', (_name, bytes) => {
    expect(decodeUtf8(Uint8Array.from(bytes), 0, bytes.length)).toBeNull();
  });
});

const text = fc.string({ unit: 'binary', maxLength: 300 });

describe('decoding undoes encoding', () => {
  it('UTF-8', () => {
    fc.assert(
      fc.property(text, (original) => {
        const bytes = bytesOf(original);
        expect(decodeUtf8(bytes, 0, bytes.length)).toBe(original);
      }),
    );
  });

  it('Latin-1', () => {
    const bytes = Uint8Array.from({ length: 10_000 }, (_, i) => i % 256);
    expect(bytesOf(decodeLatin1(bytes, 0, bytes.length), 'latin-1')).toEqual(bytes);
  });

  it('UTF-16 of either order, in pieces of any size', () => {
    fc.assert(
      fc.property(
        text,
        fc.constantFrom('utf-16le' as const, 'utf-16be' as const),
        fc.integer({ min: 1, max: 9 }),
        (original, encoding, size) => {
          const bytes = bytesOf(original, encoding);
          const transcoder = new Utf16ToUtf8(encoding);
          const pieces: number[] = [];
          for (let at = 0; at < bytes.length; at += size)
            pieces.push(...transcoder.push(bytes.subarray(at, at + size)));
          expect(Uint8Array.from(pieces)).toEqual(bytesOf(original));
        },
      ),
    );
  });
});
