import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { drafts } from '../../electron/drafts.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'drafts-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const [mine, other] = ['2b0d6f5c-4d1c-4c6e-9a35-0d4a4b0f5a11', '9d0d6f5c-4d1c-4c6e-9a35-0d4a4b0f5a22'];
const draft = (text: string) => ({
  at: '2026-03-02T06:05:00.000Z',
  name: null,
  path: null,
  version: null,
  text,
  sources: [{ file: 'a.csv', sha256: 'ab', path: '/captures/a.csv' }],
});

it('a draft is what was kept last, and each window has its own', async () => {
  const kept = drafts(join(folder, 'drafts'));
  await Promise.all(['one', 'two', 'three'].map((text) => kept.keep(mine, draft(text))));
  await kept.keep(other, draft('theirs'));
  expect(await kept.read(mine)).toEqual(draft('three'));
  expect((await kept.read(other))?.text).toBe('theirs');
  expect([...(await kept.ids())].sort()).toEqual([mine, other]);
});

it('a draft that was dropped while it was being kept is gone', async () => {
  const kept = drafts(folder);
  await Promise.all([kept.keep(mine, draft('late')), kept.drop(mine)]);
  expect(await kept.ids()).toEqual([]);
  expect(readdirSync(folder)).toEqual([]);
});

it('what is no draft is passed over, and what is damaged cannot be read', async () => {
  const kept = drafts(folder);
  writeFileSync(join(folder, 'notes.json'), '{}');
  writeFileSync(join(folder, `${mine}.json`), '{"at": ');
  writeFileSync(join(folder, `${other}.json`), '{"at": "yesterday"}');
  expect([...(await kept.ids())].sort()).toEqual([mine, other]);
  expect(await kept.read(mine)).toBeNull();
  expect(await kept.read(other)).toBeNull();
});

it('where there is no folder yet there are no drafts', async () => {
  expect(await drafts(join(folder, 'not/yet')).ids()).toEqual([]);
});
