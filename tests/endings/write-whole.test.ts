import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { diskWords } from '../../electron/disk/disk-words.ts';
import { type Content, type WriteManner, writeWhole } from '../../electron/disk/write-whole.ts';
import { mayMount, smallDisk } from './mounted.ts';

let folder = '';
const at = (...names: string[]) => join(folder, ...names);
const text = (path: string) => readFileSync(path, 'utf8');

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'write-whole-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

/** The sentence of a write that is refused. */
async function refused(path: string, content: Content = 'new', manner: WriteManner = {}): Promise<string> {
  const error = await writeWhole(path, content, manner).then(
    () => null,
    (cause: unknown) => cause,
  );
  if (error === null) return 'it was written';
  const { reason, advice } = diskWords(error);
  return `${reason}; ${advice}`;
}

describe('a file that is written', () => {
  it('stands whole in the place of the old one, with nothing beside it', async () => {
    writeFileSync(at('it.txt'), 'a long text that stood here before');
    await writeWhole(at('it.txt'), 'short');
    expect(text(at('it.txt'))).toBe('short');
    expect(readdirSync(folder)).toEqual(['it.txt']);
  });

  it('told in parts is what the parts are together', async () => {
    await writeWhole(at('it.bin'), (put) => {
      for (const part of ['one ', 'two ', 'three']) put(Buffer.from(part));
    });
    expect(text(at('it.bin'))).toBe('one two three');
  });

  it('through a link stands where the link leads, and the link stays', async () => {
    mkdirSync(at('elsewhere'));
    writeFileSync(at('elsewhere', 'it.txt'), 'old');
    symlinkSync(join('elsewhere', 'it.txt'), at('link.txt'));
    symlinkSync('link.txt', at('link-to-link.txt'));
    await writeWhole(at('link-to-link.txt'), 'new');
    expect(lstatSync(at('link-to-link.txt')).isSymbolicLink()).toBe(true);
    expect(text(at('elsewhere', 'it.txt'))).toBe('new');
    expect(readdirSync(at('elsewhere'))).toEqual(['it.txt']);
  });

  it.each([0o600, 0o640, 0o666])('keeps the rights that the old one had: %o', async (mode) => {
    writeFileSync(at('it.txt'), 'old');
    chmodSync(at('it.txt'), mode);
    await writeWhole(at('it.txt'), 'new');
    expect(statSync(at('it.txt')).mode & 0o777).toBe(mode);
  });

  it('may have the longest name that the disk takes', async () => {
    const name = `${'n'.repeat(251)}.txt`;
    await writeWhole(at(name), 'new');
    expect(readdirSync(folder)).toEqual([name]);
  });
});

describe('a write that cannot be made says why and what to do, changes nothing and leaves nothing', () => {
  const rows: readonly [what: string, path: () => string, says: RegExp][] = [
    ['over a folder', () => at('folder'), /^a folder has this name; choose another name$/],
    ['below a file', () => at('old.txt', 'it.txt'), /^a file stands where a folder is named; choose another folder$/],
    ['over what is marked as read-only', () => at('read-only.txt'), /^the file there is marked as read-only; choose/],
    ['over a pipe', () => at('pipe'), /^what stands there is no file; choose another name$/],
    [
      'through a link to nothing',
      () => at('to-nothing'),
      /^it is a link to a file that is not there; connect the drive/,
    ],
    ['through links in a circle', () => at('circle'), /^its links lead in a circle; name the file itself$/],
    ['under too long a name', () => at('n'.repeat(256)), /^its name or path is too long; choose a shorter one$/],
    ['under too long a path', () => at(...Array(60).fill('n'.repeat(100)), 'x'), /^its name or path is too long; /],
  ];

  it.each(rows)('%s', async (_what, path, says) => {
    mkdirSync(at('folder'));
    for (const name of ['old.txt', 'read-only.txt']) writeFileSync(at(name), 'old');
    chmodSync(at('read-only.txt'), 0o444);
    execFileSync('mkfifo', [at('pipe')]);
    symlinkSync(at('gone', 'file'), at('to-nothing'));
    symlinkSync('circle', at('circle'));
    const names = readdirSync(folder);

    expect(await refused(path())).toMatch(says);
    expect(readdirSync(folder)).toEqual(names);
    expect([text(at('old.txt')), text(at('read-only.txt'))]).toEqual(['old', 'old']);
  });

  it('where a part of it cannot be told', async () => {
    const failing: Content = (put) => {
      put(Buffer.from('half'));
      throw new Error('the capture is gone');
    };
    await expect(writeWhole(at('new', 'er', 'it.bin'), failing)).rejects.toThrow('the capture is gone');
    // Not even the folders that were made for it.
    expect(readdirSync(folder)).toEqual([]);
  });

  it('where its folder is not there and none is to be made: the drive may not be connected', async () => {
    expect(await refused(at('drive', 'review.json'), 'new', { makeFolders: false })).toMatch(
      /^its folder is not there; connect the drive that it is on, or choose another place$/,
    );
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe('a new file', () => {
  it('is never written over one that came there meanwhile: of several at once one is written, and the others are told', async () => {
    const all = await Promise.all(
      Array.from({ length: 8 }, (_, i) => refused(at('it.txt'), `by ${i}`, { replace: false })),
    );
    expect(all.filter((said) => said === 'it was written')).toHaveLength(1);
    expect(all.filter((said) => said === 'there is such a file already; choose another name')).toHaveLength(7);
    expect(text(at('it.txt'))).toBe(`by ${all.indexOf('it was written')}`);
    expect(readdirSync(folder)).toEqual(['it.txt']);
  });
});

describe.skipIf(!mayMount)('a small disk (skipped where this person may mount none)', () => {
  const large = new Uint8Array(200_000).fill(7);
  const inParts: Content = (put) => {
    for (let from = 0; from < large.length; from += 50_000) put(large.subarray(from, from + 50_000));
  };

  it.each([
    ['at hand', large],
    ['told in parts', inParts],
  ])('that is full: the old file is whole, and nothing is left (%s)', async (_name, content) => {
    const disk = smallDisk('64k')!;
    try {
      const path = join(disk.path, 'review.json');
      writeFileSync(path, 'old');
      expect(await refused(path, content)).toBe('the disk is full; make room on it, or choose another place');
      expect([text(path), readdirSync(disk.path)]).toEqual(['old', ['review.json']]);
      // There is room again for what is small.
      await writeWhole(path, 'new');
      expect(text(path)).toBe('new');
    } finally {
      disk.remove();
    }
  });

  it('that can only be read', async () => {
    const disk = smallDisk('64k')!;
    try {
      const path = join(disk.path, 'review.json');
      writeFileSync(path, 'old');
      disk.makeReadOnly();
      expect(await refused(path)).toBe('the disk can only be read; choose another place');
      expect(await refused(join(disk.path, 'new', 'it.txt'))).toBe('the disk can only be read; choose another place');
      expect([text(path), readdirSync(disk.path)]).toEqual(['old', ['review.json']]);
    } finally {
      disk.remove();
    }
  });
});
