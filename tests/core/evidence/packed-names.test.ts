import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { foldedName, nameFault, packedNames } from '../../../core/evidence/packed-names.ts';

const packed = (files: readonly string[], others: readonly string[] = []) => [...packedNames(files, others).values()];

describe('what files are called in a package', () => {
  it.each([
    ['a plain name stays', 'shift/check-1.csv', 'shift/check-1.csv'],
    ['letters of any script stay', 'Prüfung/探触子.csv', 'Prüfung/探触子.csv'],
    ['a folder above', '../yard/a.csv', 'above/yard/a.csv'],
    ['an absolute path', '/etc/passwd.csv', 'etc/passwd.csv'],
    ['a drive', 'C:\\captures\\a.csv', 'C__captures_a.csv'],
    ['a folder that is none', './a.csv', 'a.csv'],
    ['two dots in a row (the published JSON schema of Data Package v1 refuses them)', 'a..b.csv', 'a.b.csv'],
    ['a hidden file', '.a.csv', '_a.csv'],
    ['a home folder', '~/a.csv', '_/a.csv'],
    ['a device of Windows', 'con.csv', '_con.csv'],
    ['a dot at the end, which Windows drops', 'a./b', 'a_/b'],
    ['what turns the direction of writing', 'a\u202Evsc', 'a_vsc'],
    ['a NUL', 'a\0b', 'a_b'],
    ['nothing but a folder above', '..', 'above'],
  ])('%s', (_name, file, name) => {
    expect(packed([file])).toEqual([name]);
  });

  it('names that differ in capitals or in the way an accent is written are told apart', () => {
    expect(packed(['A.csv', 'a.csv', 'é.csv', 'e\u0301.csv'])).toEqual(['A.csv', 'a-2.csv', 'é.csv', 'e\u0301-2.csv']);
  });
  it('names that are taken already are left', () =>
    expect(packed(['review.json'], ['Review.json'])).toEqual(['review-2.json']));
  it('a file named twice has one name', () => expect(packed(['a', 'a'])).toEqual(['a']));

  it('any names become ones that any system and the standard can take, each its own', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'binary' }), { maxLength: 8 }), (files) => {
        const names = packed(files);
        expect(new Set(names.map(foldedName)).size).toBe(new Set(files).size);
        for (const name of names) {
          expect(nameFault(name)).toBeNull();
          // `path` in the JSON schema of Data Package v1 (data-resource.json).
          expect(name).toMatch(/^(?=^[^./~])(^((?!\.{2}).)*$).*$/);
        }
      }),
    );
  });
});
