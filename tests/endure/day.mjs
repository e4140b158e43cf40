// npm run endure -- day [--rounds 200] [--block 10] [--moves 100] [--page FOLDER]: a long day in one window.
//
// Each round opens a review, works in it and closes it; after each block of rounds, with nothing open and the garbage collected, what the window holds is counted.
// Exit status 1: something has grown beyond its bound.

import { parseArgs } from 'node:util';
import { ratioInTurn } from '../browser/frames.mjs';
import { counterOf } from './window/counts.mjs';
import { frameMs, round, scanFiles } from './window/day.mjs';
import { judge } from './window/judge.mjs';
import { openBrowser, openWindow, root } from './window/open-window.mjs';

const { values } = parseArgs({
  options: {
    rounds: { type: 'string', default: '200' },
    block: { type: 'string', default: '10' },
    moves: { type: 'string', default: '100' },
    page: { type: 'string', default: `${root}build/renderer` },
  },
});
const [rounds, block, moves] = [Number(values.rounds), Number(values.block), Number(values.moves)];

/** The old window's frames against those of a new one, in turn. */
const frameRatio = 1.25;
/** A download's address is kept for a minute, so that the browser can begin to read it. */
const addressesKeptMs = 61_000;

const opened = await openBrowser({ unpaced: true, page: values.page });
try {
  const { page, complaints } = await openWindow(opened);
  const scan = scanFiles(`${root}build/endure`);
  const count = await counterOf(page);
  const samples = [];
  const began = Date.now();
  let moved = 0;
  for (let r = 0; r < rounds; r++) {
    moved += await round(page, r, { moves, scan });
    if ((r + 1) % block !== 0) continue;
    const drawn = await frameMs(page);
    if (r + 1 === rounds) await page.waitForTimeout(addressesKeptMs);
    samples.push({
      rounds: r + 1,
      minutes: Math.round((Date.now() - began) / 6000) / 10,
      frameMs: Math.round(drawn * 10) / 10,
      ...(await count()),
    });
    console.log(JSON.stringify(samples.at(-1)));
  }
  const fresh = (await openWindow(opened)).page;
  const frames = await ratioInTurn([page, fresh], frameMs);
  const judged = judge(samples);
  for (const words of judged.held) console.log(`held      ${words}`);
  const faults = [...judged.faults, ...complaints.map((words) => `The page complained: ${words}`)];
  console.log(`Frames of the old window over those of a new one: ${frames.ratio.toFixed(2)}× (at most ${frameRatio}×)`);
  if (frames.ratio > frameRatio) faults.push('Frames have become slower.');
  for (const fault of faults) console.log(`NOT HELD  ${fault}`);
  if (faults.length === 0) console.log(`Held over ${rounds} rounds, in which ${moved} captures were shown.`);
  process.exitCode = faults.length === 0 ? 0 : 1;
} finally {
  await opened.close();
}
