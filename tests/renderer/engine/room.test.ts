import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { Holdings } from '../../../renderer/engine/holdings.ts';
import type { FileToImport, Progress } from '../../../renderer/engine/messages.ts';
import type { Control } from '../../../renderer/engine/pauses.ts';
import { usualRoom } from '../../../renderer/engine/room.ts';
import { freshRecipe } from '../../../renderer/state/source-list.ts';

/** As much as can be tested with: a thousand samples in place of a hundred million. */
const room = { ...usualRoom, samples: 1000 };
const patient: Control = { progress() {}, pause: async () => {} };

const captureOf = (file: string, samples: number, line = '0.5'): FileToImport => {
  const rows = Array.from({ length: samples }, (_, i) => `${(i / 100).toFixed(2)},${line}`);
  const text = `# rectification: rf\ntime_us,amplitude_pct\n${rows.join('\n')}\n`;
  return { file, content: new Blob([text]), recipe: freshRecipe };
};

/** Takes files in as sources of a review that has these and no others. */
async function holding(holdings: Holdings, files: readonly FileToImport[]) {
  const read = await holdings.takeIn(files, patient);
  const changed = read.map(({ file, sha256 }) => ({ file, sha256, recipe: freshRecipe, facts: [] }));
  await holdings.tell({ order: changed.map(({ file }) => file), changed, manifests: null }, patient);
  return read;
}

describe('what a window cannot hold is refused in a sentence', () => {
  it.each([
    ['a file that is longer than a browser hands over', { ...room, fileBytes: 5000 }, 600, 'file-too-large'],
    ['a record of more samples than there is room for', room, 1001, 'too-many-samples'],
    ['the same where it is read in pieces', room, 600_000, 'too-many-samples'],
  ])('%s', async (_, within, samples, code) => {
    const [read] = await new Holdings(within).takeIn([captureOf('long.csv', samples)], patient);
    expect(read).toMatchObject({ state: 'broken', problems: [{ code, place: { file: 'long.csv' } }] });
    expect(read?.problems[0]?.sentence).toMatch(/command line/);
  });

  it('a record as long as the room, and the file beside it for which none is left', async () => {
    const read = await new Holdings(room).takeIn([captureOf('whole.csv', 1000), captureOf('more.csv', 2)], patient);
    expect(read.map(({ state }) => state)).toEqual(['ready', 'broken']);
  });

  it('the bounds of a window are those that README states', () => {
    const readme = readFileSync(new URL('../../../README.md', import.meta.url), 'utf8');
    expect(readme).toContain(`files of up to ${usualRoom.fileBytes / 1e9} GB`);
    expect(readme).toContain(`${usualRoom.samples / 1e6} million samples`);
  });
});

describe('room that was taken', () => {
  it('is there again when the files are out of the review, and they come back by an undo', async () => {
    const holdings = new Holdings(room);
    const first = await holding(holdings, [captureOf('first.csv', 900)]);
    expect((await holding(holdings, [captureOf('second.csv', 800)]))[0]?.state).toBe('broken');
    // Second and nothing else: the review has let go of the first.
    expect((await holding(holdings, [captureOf('second.csv', 800)]))[0]?.state).toBe('ready');
    const again = first.map(({ file, sha256 }) => ({ file, sha256, recipe: freshRecipe, facts: [] }));
    await holdings.tell({ order: [], changed: [], manifests: null }, patient);
    const back = await holdings.tell({ order: ['first.csv'], changed: again, manifests: null }, patient);
    expect(back.sources).toMatchObject([{ state: 'ready', captures: [{ sampleCount: 900 }] }]);
  });

  it('is not taken twice by a file that is read again', async () => {
    const holdings = new Holdings(room);
    for (let i = 0; i < 3; i++)
      expect((await holding(holdings, [captureOf('same.csv', 900)]))[0]?.state, `time ${i + 1}`).toBe('ready');
  });

  it('is all there for the next review', async () => {
    const holdings = new Holdings(room);
    await holding(holdings, [captureOf('old.csv', 900)]);
    holdings.forget();
    expect((await holding(holdings, [captureOf('new.csv', 950)]))[0]?.state).toBe('ready');
  });
});

it('tells how far it is within one long file', async () => {
  const told: Progress[] = [];
  const heard: Control = { ...patient, progress: (progress) => told.push(progress) };
  await new Holdings().takeIn([captureOf('short.csv', 10), captureOf('long.csv', 1_000_000)], heard);
  const within = told.filter(({ done }) => done > 1 && done < 2);
  expect(within.length).toBeGreaterThan(1);
  expect(within.map(({ done }) => done)).toEqual(within.map(({ done }) => done).sort((a, b) => a - b));
  expect(told.at(-1)).toEqual({ done: 2, total: 2 });
});
