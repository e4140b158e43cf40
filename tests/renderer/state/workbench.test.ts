import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, vi } from 'vitest';
import { evaluate } from '../../../core/evaluate.ts';
import { importBytes } from '../../../core/import/import-file.ts';
import { describedBy, readManifest } from '../../../core/import/manifest.ts';
import { openReview, reviewText } from '../../../core/review/open-review.ts';
import type { Review } from '../../../core/review/review.ts';
import type { Answer, Request } from '../../../renderer/engine/messages.ts';
import { freshRecipe } from '../../../renderer/state/source-list.ts';
import { createWorkbench, type WorkbenchStore } from '../../../renderer/state/workbench.ts';
import { coreEngine } from '../../build/engine.ts';
import { hostFile, hostInMemory, sampleFile } from '../../build/host.ts';

const sampleFolder = fileURLToPath(new URL('../../../sample-data/', import.meta.url));

const trace = (percent: number, rows = 60): string =>
  `# rectification: rf\ntime_us,amplitude_pct\n${Array.from(
    { length: rows },
    (_, i) => `${(i / 50).toFixed(2)},${i === 30 ? percent : (i % 3) - 1}`,
  ).join('\n')}\n`;
const broken = '# rectification: rf\ntime_us,amplitude_pct\n0.00,1\n0.01\n0.02,3\n';
const asking = `t,a\n${Array.from({ length: 40 }, (_, i) => `${(i / 50).toFixed(2)},${i === 20 ? 60 : (i % 3) - 1}`).join('\n')}\n`;

function workbench(host = hostInMemory()) {
  const asked: Request[] = [];
  const told: Answer[] = [];
  const store = createWorkbench(
    host,
    coreEngine(
      (request) => asked.push(request),
      (answer) => told.push(answer),
    ),
  );
  return { store, host, asked, told, actions: store.getState().actions, state: () => store.getState() };
}

/** Until nothing is being read or evaluated and the results are those of the review. */
async function settled(store: WorkbenchStore): Promise<void> {
  await vi.waitUntil(
    () => {
      const { evaluating, importing, evaluationOf, review, saving } = store.getState();
      return !evaluating && importing === null && !saving && evaluationOf === review;
    },
    { timeout: 20_000, interval: 5 },
  );
}

/** What the core says of the sample review, read from the folder without any of the window's parts. */
function evaluatedFromFolder(): { review: Review; evaluation: ReturnType<typeof evaluate> } {
  const opened = openReview('review.json', readFileSync(`${sampleFolder}review.json`, 'utf8'));
  if (!opened.ok) throw new Error('the sample review opens');
  const review = opened.value;
  const manifests = review.manifests.map(({ file }) => {
    const manifest = readManifest(`x/${file}`, readFileSync(sampleFolder + file));
    if (!manifest.ok) throw new Error('the sample manifest is read');
    return manifest.value;
  });
  const captures = review.sources.flatMap(({ file, sha256, recipe }) => {
    const imported = importBytes(file, readFileSync(sampleFolder + file), recipe, sha256);
    if (!imported.ok) throw new Error(`${file} is imported`);
    return imported.value.captures.map((capture) => ({
      ...manifests.reduce(describedBy, { ...capture, file: `x/${file}` }),
      file,
    }));
  });
  return { review, evaluation: evaluate(review, captures) };
}

describe('the workbench at its start', () => {
  it('is empty, with the person’s own style and what was left behind', async () => {
    const { state } = workbench();
    await vi.waitUntil(() => state().theme === 'dark');
    expect(state()).toMatchObject({
      unsaved: false,
      name: null,
      undoName: null,
      evaluation: null,
      selected: null,
      style: { units: 'inch', decimalMark: ',' },
      drafts: [],
    });
    expect(state().files.size).toBe(0);
  });
});

describe('the sample scenario', () => {
  it('opens with all its files, at its calibration, and the results of the core to the last digit', async () => {
    const { store, state, actions } = workbench();
    await actions.openSample();
    await settled(store);
    const { review, evaluation } = evaluatedFromFolder();
    expect(state().notices).toEqual([]);
    expect(state().review).toEqual(review);
    expect([...state().files.values()].map((file) => file.state)).toEqual(review.sources.map(() => 'ready'));
    expect(state().evaluation).toEqual(evaluation);
    expect(state().evaluation?.readings?.readings.length).toBeGreaterThan(5);
    expect(state().selected).toBe('reference-block.csv#amplitude_pct');
    expect(state()).toMatchObject({ unsaved: false, name: null, procedure: 'calibration' });
  });

  it('without its calibration opens at its highest reading', async () => {
    const { store, state, actions } = workbench();
    const { review, evaluation } = evaluatedFromFolder();
    const gates = review.readings!.gates.map((gate) => ({
      ...gate,
      span: { axis: 'time' as const, fromUs: 22, toUs: 30 },
    }));
    const text = reviewText({ ...review, calibration: null, drift: null, readings: { ...review.readings!, gates } });
    await actions.openReview({
      place: null,
      name: 'read.json',
      text,
      version: null,
      fileBeside: async (name) => sampleFile(name),
    });
    await settled(store);
    const heights = evaluation.readings!.readings.map((reading) => reading.amplitudePercent ?? 0);
    const highest = evaluation.readings!.readings[heights.indexOf(Math.max(...heights))];
    expect(state()).toMatchObject({ selected: highest!.captureId, procedure: 'readings' });
    // Whoever goes on from there is not taken elsewhere by what is read next.
    actions.edit({ kind: 'set-title', title: 'x' });
    await settled(store);
    expect(state().selected).toBe(highest!.captureId);
  });
});

describe('files that are given', () => {
  it('are taken in as one thing to undo, the broken one named at its line', async () => {
    const { store, state, actions } = workbench();
    await actions.addFiles([
      hostFile('a.csv', trace(70)),
      hostFile('bad.csv', broken),
      hostFile('b.csv', trace(50)),
      hostFile('asks.csv', asking),
    ]);
    await settled(store);
    expect([...state().files.values()].map(({ file, state: is }) => `${file} ${is}`)).toEqual([
      'a.csv ready',
      'b.csv ready',
      'asks.csv asking',
      'bad.csv broken',
    ]);
    expect(state().files.get('bad.csv')?.problems).toMatchObject([{ place: { file: 'bad.csv', line: 4 } }]);
    expect([...state().captures.keys()]).toEqual(['a.csv#amplitude_pct', 'b.csv#amplitude_pct']);
    expect(state().undoName).toBe('add 3 files');
    expect(state().selected).toBe('a.csv#amplitude_pct');

    actions.undo();
    await settled(store);
    expect([...state().files.keys()]).toEqual(['bad.csv']);
    expect(state()).toMatchObject({ selected: null, undoName: null, redoName: 'add 3 files', unsaved: false });

    actions.redo();
    await settled(store);
    expect([...state().captures.keys()]).toEqual(['a.csv#amplitude_pct', 'b.csv#amplitude_pct']);
  });

  it('that ask become captures when they are answered, and ask again when that is undone', async () => {
    const { store, state, actions } = workbench();
    await actions.addFiles([hostFile('asks.csv', asking)]);
    await settled(store);
    await actions.setRecipe('asks.csv', {
      ...freshRecipe,
      timeUnit: 'us',
      amplitudeUnit: 'percent',
      rectification: 'rf',
    });
    await settled(store);
    expect(state().files.get('asks.csv')?.state).toBe('ready');
    expect(state().undoName).toBe("change import of 'asks.csv'");
    actions.undo();
    await settled(store);
    expect(state().files.get('asks.csv')?.state).toBe('asking');
  });

  it('that were broken are taken in when a recipe mends them', async () => {
    const uneven = `# rectification: rf\ntime_us,amplitude_pct\n${[0, 1, 2, 4, 5, 6, 7, 8, 9, 10].map((t) => `${t}.00,${t}`).join('\n')}\n`;
    const { store, state, actions } = workbench();
    await actions.addFiles([hostFile('uneven.csv', uneven)]);
    await settled(store);
    expect(state().files.get('uneven.csv')).toMatchObject({ state: 'broken', inReview: false });
    await actions.setRecipe('uneven.csv', { ...freshRecipe, uneven: 'resample' });
    await settled(store);
    expect(state().files.get('uneven.csv')).toMatchObject({ state: 'ready', inReview: true });
    expect(state().review.sources[0]?.recipe.uneven).toBe('resample');
  });

  it('of one name from two folders are both kept, and told apart', async () => {
    const { store, state, actions } = workbench();
    await actions.addFiles([hostFile('a.csv', trace(70)), hostFile('a.csv', trace(60))]);
    await settled(store);
    expect([...state().files.keys()]).toEqual(['a.csv', 'a (2).csv']);
  });

  it('can be cancelled: what was read until then stays, as one thing to undo', async () => {
    const { store, state, actions } = workbench();
    const files = Array.from({ length: 100 }, (_, i) => hostFile(`scan-${i}.csv`, trace(i % 90)));
    const unsubscribe = store.subscribe(({ importing }) => {
      if ((importing?.done ?? 0) >= 24) actions.cancelImport();
    });
    await actions.addFiles(files);
    unsubscribe();
    await settled(store);
    const taken = state().review.sources.length;
    expect(taken).toBeGreaterThanOrEqual(24);
    expect(taken).toBeLessThan(100);
    expect(state().undoName).toBe(`add ${taken} files`);
    expect(state().importing).toBeNull();
  });

  it('are taken out, and come back by undo, without being read again by the host', async () => {
    const { store, state, actions } = workbench();
    const file = hostFile('a.csv', trace(70));
    const read = vi.spyOn(file, 'read');
    await actions.addFiles([file, hostFile('b.csv', trace(50))]);
    await settled(store);
    actions.removeFiles(['a.csv']);
    await settled(store);
    expect([...state().captures.keys()]).toEqual(['b.csv#amplitude_pct']);
    actions.undo();
    await settled(store);
    expect([...state().captures.keys()]).toEqual(['a.csv#amplitude_pct', 'b.csv#amplitude_pct']);
    expect(read).toHaveBeenCalledTimes(1);
  });

  it('in thousands are read in batches whose answers stay small', async () => {
    const { store, state, actions, asked, told } = workbench();
    const files = Array.from({ length: 1000 }, (_, i) => hostFile(`scan-${i}.csv`, trace(i % 90, 20)));
    await actions.addFiles(files);
    await settled(store);
    expect(state().captures.size).toBe(1000);
    const batches = asked.flatMap((request) => (request.call === 'import' ? [request.ask.files.length] : []));
    expect(Math.max(...batches)).toBeLessThanOrEqual(24);
    const pieces = told.map((answer) => (answer.kind === 'piece' ? answer.items.length : 0));
    expect(Math.max(...pieces)).toBeLessThanOrEqual(250);
  });
});

describe('a review whose files are gone or altered', () => {
  const folder = () =>
    new Map(['a.csv', 'b.csv'].map((name) => [name, hostFile(name, trace(name === 'a.csv' ? 70 : 50))]));

  async function saved(): Promise<string> {
    const { store, host, actions } = workbench();
    await actions.addFiles([...folder().values()]);
    await settled(store);
    await actions.save();
    return host.standing!;
  }

  it('says which are missing, and finds them by hash under another name', async () => {
    const host = hostInMemory(new Map([['b.csv', folder().get('b.csv')!]]));
    host.standing = await saved();
    const { store, state, actions } = workbench(host);
    await actions.openReview();
    await settled(store);
    expect([...state().files.values()].map(({ file, state: is }) => `${file} ${is}`)).toEqual([
      'a.csv missing',
      'b.csv ready',
    ]);
    await actions.addFiles([hostFile('moved/first shot.csv', trace(70))]);
    await settled(store);
    expect(state().files.get('a.csv')?.state).toBe('ready');
    expect(state()).toMatchObject({ unsaved: false, undoName: null });
    expect(state().review.sources).toHaveLength(2);
  });

  it('says which have changed, takes none of them unasked, and takes it where the person says so', async () => {
    const host = hostInMemory(new Map([...folder(), ['a.csv', hostFile('a.csv', trace(33))]]));
    host.standing = await saved();
    const { store, state, actions } = workbench(host);
    await actions.openReview();
    await settled(store);
    expect(state().files.get('a.csv')).toMatchObject({ state: 'changed', captures: [] });
    await actions.takeFound('a.csv');
    await settled(store);
    expect(state().files.get('a.csv')).toMatchObject({ state: 'ready', found: null });
    expect(state().captures.get('a.csv#amplitude_pct')?.extremaPercent.maximum).toBe(33);
    expect(state().undoName).toBe("change import of 'a.csv'");
    actions.undo();
    await settled(store);
    expect(state().files.get('a.csv')?.state).toBe('missing');
  });

  it('does not apply a manifest that has changed, and says so', async () => {
    const first = workbench();
    await first.actions.addFiles([...folder().values(), hostFile('manifest.csv', 'file,gain_db\na.csv,42\n')]);
    await settled(first.store);
    expect(first.state().captures.get('a.csv#amplitude_pct')?.gainDb).toBe(42);
    await first.actions.save();
    const host = hostInMemory(
      new Map([...folder(), ['manifest.csv', hostFile('manifest.csv', 'file,gain_db\na.csv,48\n')]]),
    );
    host.standing = first.host.standing;
    const { store, state, actions } = workbench(host);
    await actions.openReview();
    await settled(store);
    expect(state().captures.get('a.csv#amplitude_pct')?.gainDb).toBeNull();
    expect(state().notices).toMatchObject([{ code: 'manifest-changed', place: { file: 'manifest.csv' } }]);
    expect(state().evaluation?.problems).toMatchObject([{ code: 'manifest-missing' }]);
  });

  it('that is no review is refused with its reasons, and what is open stays', async () => {
    const host = hostInMemory();
    host.standing = '{"format": "something else"}';
    const { store, state, actions } = workbench(host);
    await actions.addFiles([hostFile('a.csv', trace(70))]);
    await settled(store);
    await actions.openReview();
    expect(state().notices).toMatchObject([{ code: 'not-a-review' }]);
    expect(state().captures.size).toBe(1);
  });
});

describe('saving', () => {
  it('writes the bytes of the review, takes the mark off, and a reopened review is as it was', async () => {
    const { store, state, host, actions } = workbench(hostInMemory(new Map([['a.csv', hostFile('a.csv', trace(70))]])));
    await actions.addFiles([hostFile('a.csv', trace(70))]);
    actions.edit({ kind: 'set-title', title: 'Frame 12: root' });
    await settled(store);
    expect(state().unsaved).toBe(true);
    expect(host.unsaved).toBe(true);
    expect(await actions.save()).toBe(true);
    expect(host.standing).toBe(reviewText(state().review));
    expect(state()).toMatchObject({ unsaved: false, name: 'frame-12.json' });
    expect(state().recent).toHaveLength(1);
    const before = state().review;
    await actions.newReview();
    expect(state().files.size).toBe(0);
    await actions.openReview();
    await settled(store);
    expect(state().review).toEqual(before);
    expect(state().captures.size).toBe(1);
  });

  it('does nothing where the dialog is closed', async () => {
    const { state, host, actions } = workbench();
    actions.edit({ kind: 'set-title', title: 'x' });
    host.closesDialog = true;
    expect(await actions.save()).toBe(false);
    expect(state()).toMatchObject({ unsaved: true, name: null, notices: [] });
  });

  it('is refused where another window has saved since; nothing is written unless the person says so', async () => {
    const host = hostInMemory();
    const [one, other] = [workbench(host), workbench(host)];
    one.actions.edit({ kind: 'set-title', title: 'first' });
    await one.actions.save();
    await other.actions.openReview();
    await settled(other.store);
    other.actions.edit({ kind: 'set-title', title: 'second' });
    await other.actions.save();
    one.actions.edit({ kind: 'set-title', title: 'third' });
    expect(await one.actions.save()).toBe(false);
    expect(one.state()).toMatchObject({ unsaved: true, conflict: { place: { id: 'place' } } });
    expect(host.standing).toContain('"second"');
    expect(await one.actions.resolveConflict('leave')).toBe(false);
    expect(host.standing).toContain('"second"');
    await one.actions.save();
    expect(await one.actions.resolveConflict('overwrite')).toBe(true);
    expect(host.standing).toContain('"third"');
    expect(one.state()).toMatchObject({ unsaved: false, conflict: null });
  });

  it('in another folder gives the files the names they have from there, through the whole history', async () => {
    const host = hostInMemory(new Map(), new Map([['a.csv', '../captures/a.csv']]));
    const { store, state, actions } = workbench(host);
    await actions.addFiles([hostFile('a.csv', trace(70))]);
    actions.edit({ kind: 'set-title', title: 'x' });
    await settled(store);
    await actions.save();
    await settled(store);
    expect(JSON.parse(host.standing!)).toMatchObject({ sources: [{ file: '../captures/a.csv' }] });
    expect(state().selected).toBe('../captures/a.csv#amplitude_pct');
    expect(state().unsaved).toBe(false);
    actions.undo();
    expect(state().review.sources[0]?.file).toBe('../captures/a.csv');
  });
});

describe('drafts', () => {
  it('are kept within a second of an edit, with the files in use, and dropped when all is saved', async () => {
    const { store, state, host, actions } = workbench();
    await actions.addFiles([hostFile('a.csv', trace(70))]);
    actions.edit({ kind: 'set-title', title: 'unsaved' });
    await vi.waitUntil(() => host.keptDrafts.some(({ text }) => text.includes('"unsaved"')), { timeout: 1000 });
    await settled(store);
    const draft = host.keptDrafts.at(-1)!;
    expect(draft.text).toBe(reviewText(state().review));
    expect([...draft.sources.values()].map(({ name }) => name)).toEqual(['a.csv']);
    const dropped = host.draftsDropped;
    await actions.save();
    expect(host.draftsDropped).toBeGreaterThan(dropped);
  });

  it('of a window that died are offered, and bring everything back as unsaved work', async () => {
    const dying = workbench();
    await dying.actions.addFiles([hostFile('a.csv', trace(70))]);
    dying.actions.edit({ kind: 'set-title', title: 'not lost' });
    await vi.waitUntil(() => dying.host.keptDrafts.some(({ text }) => text.includes('not lost')));
    const { text, sources } = dying.host.keptDrafts.at(-1)!;

    const host = hostInMemory();
    host.leftBehind.push({
      id: 'other-window',
      at: '2026-05-11T17:59:59Z',
      name: null,
      place: null,
      version: null,
      text,
      source: async (_file, sha256) => sources.get(sha256 ?? '') ?? null,
    });
    const { store, state, actions } = workbench(host);
    await vi.waitUntil(() => state().drafts.length === 1);
    await actions.recover('other-window');
    await settled(store);
    expect(state().review).toEqual(dying.state().review);
    expect([...state().captures.keys()]).toEqual(['a.csv#amplitude_pct']);
    expect(state()).toMatchObject({ unsaved: true, drafts: [] });
    expect(host.forgotten).toEqual(['other-window']);
    // It is this window's own draft by now, before the other's was let go.
    expect(host.keptDrafts.at(-1)?.text).toContain('not lost');
  });
});

describe('a gate that is dragged', () => {
  it('is read live in the selected capture alone; the whole follows when the drag ends', async () => {
    const { store, state, actions, asked } = workbench();
    await actions.openSample();
    await settled(store);
    const [gate] = state().review.readings!.gates;
    const dragged = (byMm: number) => ({
      kind: 'change-gate' as const,
      name: gate!.name,
      gate: { ...gate!, span: { axis: 'path' as const, fromMm: 24 + byMm, toMm: 36 + byMm } },
    });
    const evaluations = () => asked.filter(({ call }) => call === 'evaluate').length;
    const before = evaluations();
    actions.edit(dragged(1), 'merged');
    actions.edit(dragged(2), 'merged');
    await vi.waitUntil(() => state().live !== null);
    expect(state().live).toMatchObject({ captureId: state().selected, readings: [{ gate: gate!.name }] });
    expect(evaluations()).toBe(before);
    actions.edit(dragged(3), 'now');
    await settled(store);
    expect(evaluations()).toBe(before + 1);
    expect(state().live).toBeNull();
    expect(state().undoName).toBe(`move gate '${gate!.name}'`);
    actions.undo();
    await settled(store);
    expect(state().evaluation).toEqual(evaluatedFromFolder().evaluation);
  });
});

describe('what is shown', () => {
  it('stays on captures that are there, and a selected gate goes with its name', async () => {
    const { store, state, actions } = workbench();
    await actions.addFiles([hostFile('a.csv', trace(70)), hostFile('b.csv', trace(50))]);
    await settled(store);
    actions.select('b.csv#amplitude_pct');
    actions.overlay(['a.csv#amplitude_pct', 'b.csv#amplitude_pct', 'nothing']);
    expect(state().overlaid).toEqual(['a.csv#amplitude_pct']);
    actions.select('nothing');
    expect(state().selected).toBe('b.csv#amplitude_pct');
    const gate = { name: 'root', span: { axis: 'time' as const, fromUs: 0.2, toUs: 1 }, thresholdPercent: 20 };
    actions.edit({ kind: 'add-gate', gate, at: null });
    actions.selectGate('root');
    actions.edit({ kind: 'change-gate', name: 'root', gate: { ...gate, name: 'root run' } });
    expect(state().selectedGate).toBe('root run');
    actions.undo();
    expect(state().selectedGate).toBeNull();
    actions.removeFiles(['b.csv']);
    await settled(store);
    expect(state()).toMatchObject({ selected: 'a.csv#amplitude_pct', overlaid: [] });
  });

  const silence = (fromUs: number) =>
    `# rectification: rf\ntime_us,amplitude_pct\n${Array.from({ length: 500 }, (_, i) => `${(fromUs + i / 50).toFixed(2)},${i % 3}`).join('\n')}\n`;

  it.each([
    ['a part that both records have stays', { fromUs: 6, toUs: 9 }, { fromUs: 6, toUs: 9 }],
    ['a part that the next record does not reach gives way to the whole', { fromUs: 0, toUs: 2 }, null],
    ['the whole, however it came about, is the whole of the next record too', { fromUs: 0, toUs: 9.98 }, null],
  ])('on another capture: %s', async (_name, view, expected) => {
    const { store, state, actions } = workbench();
    await actions.addFiles([hostFile('a.csv', silence(0)), hostFile('b.csv', silence(5))]);
    await settled(store);
    actions.select('a.csv#amplitude_pct');
    actions.show(view);
    actions.select('b.csv#amplitude_pct');
    expect(state().view).toEqual(expected);
  });

  it('tells why an edit does not fit', () => {
    const { state, actions } = workbench();
    expect(actions.edit({ kind: 'remove-gate', name: 'root' })).toMatchObject([{ code: 'no-such-gate' }]);
    expect(state().undoName).toBeNull();
  });
});

describe('a saved review that is given to a page with a review', () => {
  const folder = () =>
    ['review.json', ...evaluatedFromFolder().review.sources.map(({ file }) => file), 'plate-weld/manifest.csv'].map(
      sampleFile,
    );

  it('takes its place where nothing is unsaved', async () => {
    const { store, state, actions } = workbench();
    await actions.addFiles([hostFile('a.csv', trace(70))]);
    await actions.save();
    await actions.addFiles(folder());
    await settled(store);
    expect(state().review).toEqual(evaluatedFromFolder().review);
    expect(state().given).toBeNull();
  });

  it.each(['open', 'leave'] as const)('waits for the answer where work is unsaved: %s', async (answer) => {
    const { store, state, actions } = workbench();
    await actions.addFiles([hostFile('a.csv', trace(70))]);
    await settled(store);
    const before = state().review;
    await actions.addFiles(folder());
    expect(state().given).toEqual({ name: 'review.json' });
    expect(state().review).toBe(before);
    await actions.answerGiven(answer);
    await settled(store);
    expect(state().given).toBeNull();
    expect(state().review).toEqual(answer === 'open' ? evaluatedFromFolder().review : before);
  });
});

describe('a folder with a review in it', () => {
  it('opens the review with the rest as its files', async () => {
    const { store, state, actions } = workbench();
    const names = [
      'review.json',
      ...evaluatedFromFolder().review.sources.map(({ file }) => file),
      'plate-weld/manifest.csv',
    ];
    await actions.addFiles(names.map(sampleFile));
    await settled(store);
    expect(state().evaluation).toEqual(evaluatedFromFolder().evaluation);
    expect(state()).toMatchObject({ unsaved: false, undoName: null });
  });
});
