import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openReview, reviewText } from '../../core/review/open-review.ts';
import { emptyReview } from '../../core/review/review.ts';
import { carryOut, type WorkbenchWindow } from '../../electron/carry-out.ts';
import { drafts } from '../../electron/drafts.ts';
import { files } from '../../electron/files.ts';
import { tokens } from '../../electron/tokens.ts';
import { desktopHost } from '../../renderer/host/desktop-host.ts';
import type { Draft } from '../../renderer/host/host.ts';
import { createWorkbench } from '../../renderer/state/workbench.ts';
import { coreEngine } from '../build/engine.ts';
import { hostInMemory } from '../build/host.ts';
import { bridgeDouble } from '../electron/bridge-double.ts';
import { answersToCome, BrowserWindow } from '../electron/electron-double.ts';

const titled = (title: string) => reviewText({ ...emptyReview, title });

describe('a draft that was left behind', () => {
  const left: Draft = {
    id: 'left',
    at: '2026-03-02T06:05:00Z',
    name: null,
    place: null,
    version: null,
    text: titled('Nearly lost'),
    source: async () => null,
  };

  it.each([
    ['is let go of when this window has kept it', false, ['left']],
    ['stays as long as this window cannot keep it', true, []],
  ])('and recovered %s', async (_what, isFull, forgotten) => {
    const host = hostInMemory();
    host.leftBehind = [left];
    if (isFull) Object.assign(host, { keepDraft: async () => Promise.reject(new Error('There is no room left.')) });
    const store = createWorkbench(host, coreEngine());
    await vi.waitFor(() => expect(store.getState().drafts).toHaveLength(1));
    await store.getState().actions.recover('left');
    expect(store.getState().review.title).toBe('Nearly lost');
    expect(host.forgotten).toEqual(forgotten);
    if (isFull) expect(store.getState().notices.map(({ sentence }) => sentence)).toEqual(['There is no room left.']);
  });
});

describe('the desktop window', () => {
  let folder = '';
  const at = (...names: string[]) => join(folder, ...names);
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'window-'));
    mkdirSync(at('reviews'));
    writeFileSync(at('reviews', 'plate.ascan-review'), titled('As it was'));
    answersToCome.splice(0);
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  const running: WorkbenchWindow[] = [];
  /** One program for all windows of a test: what they share, and a window of it. */
  function program() {
    const store = tokens();
    const carried = carryOut({
      tokens: store,
      files: files(store),
      drafts: drafts(at('profile', 'drafts')),
      profile: (name) => at('profile', name),
      openWindows: () => running,
      now: () => new Date('2026-03-02T06:05:00Z'),
    });
    return async () => {
      const window = new BrowserWindow({ webPreferences: {} });
      const facts = { window, draftId: crypto.randomUUID(), toOpen: null, unsaved: false, mayClose: false };
      const known = facts as unknown as WorkbenchWindow;
      running.push(known);
      const workbench = createWorkbench(desktopHost(bridgeDouble(carried, known).bridge), coreEngine());
      answersToCome.push({ canceled: false, filePaths: [at('reviews', 'plate.ascan-review')] });
      await workbench.getState().actions.openReview();
      expect(workbench.getState().review.title).toBe('As it was');
      const { actions } = workbench.getState();
      return { workbench, actions, retitle: (title: string) => actions.edit({ kind: 'set-title', title }) };
    };
  }
  const standing = () => {
    const opened = openReview('plate', readFileSync(at('reviews', 'plate.ascan-review'), 'utf8'));
    return opened.ok ? opened.value.title : 'no review';
  };

  it('two of them on one review: the second is told before it writes over the first, and both keep their work', async () => {
    const open = program();
    const [first, second] = [await open(), await open()];
    first.retitle('By the first');
    second.retitle('By the second');
    expect(await Promise.all([first.actions.save(), second.actions.save()])).toEqual([true, false]);
    expect(standing()).toBe('By the first');
    expect(second.workbench.getState()).toMatchObject({
      unsaved: true,
      conflict: { place: { name: 'plate.ascan-review' } },
    });
    expect(second.workbench.getState().review.title).toBe('By the second');
    expect(await second.actions.resolveConflict('overwrite')).toBe(true);
    expect(standing()).toBe('By the second');
  });

  it('whose profile’s disk is full saves a review all the same, and knows it as saved', async () => {
    const { actions, workbench, retitle } = await program()();
    // Nothing can be written there any more: a file stands where its folder is to be.
    rmSync(at('profile'), { recursive: true, force: true });
    writeFileSync(at('profile'), '');
    retitle('Saved all the same');
    expect(await actions.save()).toBe(true);
    retitle('And once more');
    expect(await actions.save()).toBe(true);
    expect([standing(), workbench.getState().unsaved, workbench.getState().conflict]).toEqual([
      'And once more',
      false,
      null,
    ]);
  });

  it('whose draft cannot be kept says so, and what to do', async () => {
    const { workbench, retitle } = await program()();
    rmSync(at('profile'), { recursive: true, force: true });
    writeFileSync(at('profile'), '');
    retitle('Not kept');
    await vi.waitFor(
      () =>
        expect(workbench.getState().notices.map(({ sentence }) => sentence)).toEqual([
          'What is not saved yet could not be kept safe (a file stands where a folder is named). Save the review now, so that nothing is lost.',
        ]),
      { timeout: 10_000 },
    );
  });

  it('whose review’s drive is gone makes no folder in its place: the work stays unsaved, with a sentence', async () => {
    const { actions, workbench, retitle } = await program()();
    rmSync(at('reviews'), { recursive: true });
    retitle('Not written to nowhere');
    expect(await actions.save()).toBe(false);
    expect(workbench.getState().notices.map(({ sentence }) => sentence)).toEqual([
      'plate.ascan-review cannot be written: its folder is not there; connect the drive that it is on, or choose another place.',
    ]);
    expect([workbench.getState().unsaved, readdirSync(folder).includes('reviews')]).toEqual([true, false]);
  });

  it('writes over no capture, not even through a link or under another capital', async () => {
    const store = tokens();
    const person = files(store);
    writeFileSync(at('a.csv'), 'a capture');
    (await import('node:fs')).symlinkSync(at('a.csv'), at('link.csv'));
    await person.offer([at('a.csv')]);
    for (const name of ['a.csv', 'link.csv', 'A.CSV'])
      await expect(person.saveText(at(name), 'a table')).rejects.toThrow(
        /nothing is written over it; choose another name/,
      );
    expect(readFileSync(at('a.csv'), 'utf8')).toBe('a capture');
  });
});
