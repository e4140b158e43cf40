// npm run endure -- day [--rounds 200] [--block 10] [--moves 100] [--page FOLDER]: a long day in one window.
//
// Each round opens a review, works in it and closes it; after each block of rounds, with nothing open and the garbage collected, what the window holds is counted.
// Exit status 1: something has grown beyond its bound.

import { parseArgs } from 'node:util';
import { counted, counterOf } from './window/counts.mjs';
import { frameMs, round, scanFiles } from './window/day.mjs';
import { ratioInTurn } from './window/frames.mjs';
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

/** Of the level at noon: so much the second half of the day may add. */
const bands = { heapMb: 0.03, arraysMb: 0.03, workerMb: 0.03, workerArraysMb: 0.03, nodes: 0.03, observers: 0.03 };
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
  for (let r = 0; r < rounds; r++) {
    await round(page, r, { moves, scan });
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
  const faults = [...judge(samples), ...complaints.map((words) => `The page complained: ${words}`)];
  console.log(`Frames of the old window over those of a new one: ${frames.ratio.toFixed(2)}× (at most ${frameRatio}×)`);
  if (frames.ratio > frameRatio) faults.push('Frames have become slower.');
  for (const fault of faults) console.log(`NOT HELD  ${fault}`);
  if (faults.length === 0) console.log(`Held over ${rounds} rounds and ${rounds * moves} captures.`);
  process.exitCode = faults.length === 0 ? 0 : 1;
} finally {
  await opened.close();
}

function judge(all) {
  // The first rounds load what is loaded when it is first wanted.
  const half = all.slice(all.length >> 1);
  if (half.length < 3) return ['Too few blocks to see a trend: give more rounds, or smaller blocks.'];
  const faults = [];
  for (const [name, band] of Object.entries(bands)) {
    const { level, rise } = trend(half.map((sample) => sample[name]));
    const share = rise / Math.max(1, level);
    console.log(
      `${name.padEnd(15)} ${level.toFixed(2).padStart(9)} at noon, ${(100 * share).toFixed(2)} % more by the evening (at most ${100 * band} %)`,
    );
    if (share > band) faults.push(`${name} grows.`);
  }
  for (const name of counted) {
    const [noon, evening] = [half[0][name], half.at(-1)[name]];
    console.log(`${name.padEnd(15)} ${String(noon).padStart(9)} at noon, ${evening} in the evening`);
    if (evening > noon) faults.push(`There are more ${name}.`);
  }
  return faults;
}

/** A straight line through values that follow one another: where it begins, and by how much it rises until the last. */
function trend(values) {
  const n = values.length;
  const middle = (n - 1) / 2;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const slope =
    values.reduce((sum, value, i) => sum + (i - middle) * (value - mean), 0) /
    values.reduce((sum, _, i) => sum + (i - middle) ** 2, 0);
  return { level: mean - slope * middle, rise: slope * (n - 1) };
}
