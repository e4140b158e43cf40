import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { files, nameFrom, pathBeside } from '../../electron/files.ts';
import { tokens } from '../../electron/tokens.ts';

let folder = '';
const at = (name: string) => join(folder, name);
const hash = (text: string) => createHash('sha256').update(text).digest('hex');

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'files-'));
  mkdirSync(at('shift/nine'), { recursive: true });
  mkdirSync(at('.hidden'));
  for (const name of [
    'a.csv',
    'b.TXT',
    'notes.pdf',
    '.secret.csv',
    'shift/c.csv',
    'shift/nine/d.dat',
    '.hidden/e.csv',
  ]) {
    writeFileSync(at(name), `content of ${name}`);
  }
  writeFileSync(at('plate.ascan-review'), '{"one": 1}');
});
afterEach(() => rmSync(folder, { recursive: true }));

describe('what the page is offered', () => {
  it('is a token, the name and the size, and no path', async () => {
    const [offered] = await files(tokens()).offer([at('a.csv')]);
    expect(offered).toEqual({ token: expect.stringMatching(/^[0-9a-f-]{36}$/), name: 'a.csv', bytes: 16 });
  });

  it('leaves out what is not there and what is a folder', async () => {
    expect(await files(tokens()).offer([at('gone.csv'), at('shift')])).toEqual([]);
  });

  it('of a folder is every capture and review below it by its name from there; nothing hidden, no other kind, no link to a folder', async () => {
    symlinkSync(at('shift'), at('again'));
    const offered = await files(tokens()).offerFolder(folder);
    expect(offered.map(({ name }) => name)).toEqual([
      'a.csv',
      'b.TXT',
      'plate.ascan-review',
      'shift/c.csv',
      'shift/nine/d.dat',
    ]);
  });

  it('says which folder cannot be read', async () => {
    await expect(files(tokens()).offerFolder(at('gone'))).rejects.toThrow('The folder gone cannot be read');
  });
});

describe('reading in parts', () => {
  it('gives the bytes asked for, and fewer at the end', async () => {
    const store = files(tokens());
    const [offered] = await store.offer([at('a.csv')]);
    const text = async (from: number, length: number) =>
      new TextDecoder().decode(await store.readPart(offered!.token, from, length));
    expect(await text(0, 7)).toBe('content');
    expect(await text(11, 100)).toBe('a.csv');
    expect(await text(16, 8)).toBe('');
  });

  it('knows no token that was not given out', async () => {
    await expect(files(tokens()).readPart('2b0d6f5c-4d1c-4c6e-9a35-0d4a4b0f5a11', 0, 1)).rejects.toThrow(
      'no file behind this token',
    );
  });

  it('says by its name alone that a file has gone since', async () => {
    const store = files(tokens());
    const [offered] = await store.offer([at('a.csv')]);
    rmSync(at('a.csv'));
    await expect(store.readPart(offered!.token, 0, 1)).rejects.toThrow(/^a\.csv can no longer be read/);
  });
});

describe('a review', () => {
  it('is read with its version, and saved to the same place', async () => {
    const store = files(tokens());
    const found = await store.readReview(at('plate.ascan-review'));
    expect(found).toMatchObject({ name: 'plate.ascan-review', text: '{"one": 1}', version: hash('{"one": 1}') });
    const saved = await store.saveReview(found.place.id, '{"two": 2}', found.version);
    expect(saved).toMatchObject({ kind: 'saved', version: hash('{"two": 2}') });
    expect(readFileSync(at('plate.ascan-review'), 'utf8')).toBe('{"two": 2}');
  });

  it('is not saved over what another window has saved since', async () => {
    const store = files(tokens());
    const { place, version } = await store.readReview(at('plate.ascan-review'));
    writeFileSync(at('plate.ascan-review'), '{"other": 9}');
    expect(await store.saveReview(place.id, '{"mine": 2}', version)).toMatchObject({
      kind: 'changed-since',
      at: expect.stringMatching(/^\d{4}-/),
    });
    expect(readFileSync(at('plate.ascan-review'), 'utf8')).toBe('{"other": 9}');
    expect(await store.saveReview(place.id, '{"mine": 2}', null)).toMatchObject({ kind: 'saved' });
  });

  it('saved by two windows at once goes to the first, and the second is told', async () => {
    const store = files(tokens());
    const { place, version } = await store.readReview(at('plate.ascan-review'));
    const [first, second] = await Promise.all([
      store.saveReview(place.id, '{"first": 1}', version),
      store.saveReview(place.id, '{"second": 2}', version),
    ]);
    expect([first.kind, second.kind]).toEqual(['saved', 'changed-since']);
    expect(readFileSync(at('plate.ascan-review'), 'utf8')).toBe('{"first": 1}');
  });

  it('finds a capture beside it, and calls it by the same name from its place', async () => {
    const store = files(tokens());
    const { place } = await store.readReview(at('plate.ascan-review'));
    const beside = await store.beside(place.id, 'shift/c.csv');
    expect(beside).toMatchObject({ name: 'shift/c.csv', bytes: 22 });
    expect(await store.beside(place.id, 'shift/gone.csv')).toBeNull();
    expect(store.namesFrom(place.id, [beside!.token])).toEqual(['shift/c.csv']);
  });
});

describe('a source', () => {
  it.each([
    ['opened by itself', (store: ReturnType<typeof files>) => store.offer([at('a.csv')])],
    ['opened with its folder', (store: ReturnType<typeof files>) => store.offerFolder(folder)],
    ['in other capitals', (store: ReturnType<typeof files>) => store.offer([at('a.csv')])],
  ])('is never written over: %s', async (how, open) => {
    const store = files(tokens());
    await open(store);
    const path = how.includes('capitals') ? at('A.CSV') : at('a.csv');
    await expect(store.saveText(path, 'a table')).rejects.toThrow('nothing is written over it; choose another name');
    await expect(store.saveReview(store.place(path).id, '{}', null)).rejects.toThrow('nothing is written over it');
    expect(readFileSync(at('a.csv'), 'utf8')).toBe('content of a.csv');
  });

  it('does not keep a table from being saved beside it', async () => {
    const store = files(tokens());
    await store.offerFolder(folder);
    await store.saveText(at('readings.csv'), 'gate,path');
    expect(readFileSync(at('readings.csv'), 'utf8')).toBe('gate,path');
  });
});

describe('names in a review', () => {
  it.each([
    ['beside it', 'a.csv', '/reviews/a.csv'],
    ['below it', 'shift/c.csv', '/reviews/shift/c.csv'],
    ['beside its folder', '../captures/a.csv', '/captures/a.csv'],
    ['an absolute path', '/etc/passwd.csv', null],
    ['a drive', 'C:/captures/a.csv', null],
    ['a backslash', 'shift\\c.csv', null],
    ['a NUL', 'a.csv\0', null],
    ['not a capture', '../../etc/passwd', null],
    ['a review', 'other.ascan-review', null],
  ])('%s: %s', (_name, name, path) => {
    expect(pathBeside('/reviews/plate.ascan-review', name)).toBe(path);
  });

  it.each([
    ['/reviews', '/reviews/shift/c.csv', 'shift/c.csv'],
    ['/reviews/2026', '/captures/a.csv', '../../captures/a.csv'],
    ['/reviews', '/reviews', null],
  ])('from %s, %s is called %s', (from, path, name) => {
    expect(nameFrom(from, path)).toBe(name);
  });
});
