// npm run endure -- screen [--only long|many|wide] [--samples 50000000] [--traces 5000] [--captures 10000] [--shots FOLDER] [--page FOLDER]:
// as much as a person may put before the window, and whether it can still be worked with.
// Exit status 1: something is not as it should be, or slower than beside a small case by more than its ratio.

import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { ratioInTurn, scrollFrameMs, traceFrameMs } from '../browser/frames.mjs';
import { counterOf } from './window/counts.mjs';
import { longRecord } from './window/long-record.mjs';
import { manyFiles, wideFile } from './window/many-captures.mjs';
import { give, openBrowser, openWindow, root, settled } from './window/open-window.mjs';

const { values } = parseArgs({
  options: {
    only: { type: 'string' },
    samples: { type: 'string', default: '50000000' },
    traces: { type: 'string', default: '5000' },
    captures: { type: 'string', default: '10000' },
    shots: { type: 'string' },
    page: { type: 'string', default: `${root}build/renderer` },
  },
});
const data = `${root}build/endure`;
/** Frames with much in the window over those with little. */
const frameRatio = 1.5;
/** The same while the worker makes the picture of all captures anew at every step. */
const pictureRatio = 3;

const faults = [];
const opened = await openBrowser({ unpaced: true, page: values.page });
try {
  if (wants('long')) await long(Number(values.samples));
  if (wants('many'))
    await many(`${values.captures} files`, await manyFiles(data, Number(values.captures)), Number(values.captures));
  if (wants('wide'))
    await many(
      `${values.traces} traces in one file`,
      [await wideFile(data, Number(values.traces))],
      Number(values.traces),
    );
} finally {
  await opened.close();
}
for (const fault of faults) console.log(`NOT HELD  ${fault}`);
process.exitCode = faults.length === 0 ? 0 : 1;

function wants(part) {
  return values.only === undefined || values.only === part;
}

function held(isHeld, words) {
  console.log(`${isHeld ? 'held      ' : 'NOT HELD  '}${words}`);
  if (!isHeld) faults.push(words);
}

// ── one long record ─────────────────────────────────────────────────────────

async function long(samples) {
  const path = `${data}/record-${samples}.csv`;
  const { spikeUs, spikePercent } = await longRecord(path, samples);
  const { page, complaints } = await openWindow(opened);
  const began = Date.now();
  const since = () => `after ${((Date.now() - began) / 1000).toFixed(0)} s`;
  await give(page, 'Files …', [path]);
  await page.waitForTimeout(3000);
  await shot(page, 'long-reading');
  await page.getByRole('contentinfo').getByText('1 capture in 1 file').waitFor({ timeout: 600_000 });
  console.log(`${samples} samples: taken in ${since()}`);
  await page.waitForTimeout(1500);
  await shot(page, 'long-drawing');
  await page.waitForFunction(() => document.querySelector('[class*="strip"] canvas')?.width > 300, undefined, {
    timeout: 600_000,
  });
  await settled(page, '1 capture in 1 file', 600_000);
  await spikeIsPainted(page, spikeUs, 600_000);
  console.log(`on the screen ${since()}; ${await memoryWords(page)}`);
  await shot(page, 'long-whole');

  // By the wheel at the spike, from the whole record to a few samples, and by the keys back again.
  let steps = 0;
  const missed = [];
  for (;;) {
    const [from, to] = await shownWindow(page);
    if (to - from < 1) break;
    await wheelAt(page, (spikeUs - from) / (to - from), -400);
    steps++;
    if (!(await spikeIsPainted(page, spikeUs, 15_000))) missed.push((await shownWindow(page)).join(' to '));
  }
  held(
    missed.length === 0 && steps > 10,
    `a spike of one sample stands at its height at each of ${steps} steps of zoom, down to a µs${missed.length === 0 ? '' : `; not at ${missed.join(', ')}`}`,
  );
  await shot(page, 'long-spike');
  const [from, to] = await shownWindow(page);
  const box = await page.locator('.u-over').boundingBox();
  await page.mouse.move(box.x + (box.width * (spikeUs - from)) / (to - from), box.y + 0.5 * box.height);
  await page.waitForTimeout(300);
  const told = await page.getByText(/^Pointer:/).textContent();
  held(told?.includes(`${spikePercent}.0 %`) === true, `the pointer tells its height: ${told}`);

  const small = await openWindow(opened);
  await longRecord(`${data}/record-10000.csv`, 10_000);
  await give(small.page, 'Files …', [`${data}/record-10000.csv`]);
  await settled(small.page, '1 capture in 1 file');
  for (const one of [page, small.page]) {
    await one.getByRole('application', { name: /^Trace / }).focus();
    await one.keyboard.press('0');
  }
  compare('frames while it is zoomed and moved', await ratioInTurn([page, small.page], traceFrameMs));
  console.log(await memoryWords(page));
  complaint(complaints);
  await small.page.context().close();
  await page.context().close();
}

/** Somewhere near its place a column is painted up to its height. */
async function spikeIsPainted(page, spikeUs, timeout) {
  const [from, to] = await shownWindow(page);
  return page
    .waitForFunction(
      (share) => {
        const canvas = document.querySelector('.u-wrap canvas');
        const plot = document.querySelector('.u-over')?.getBoundingClientRect();
        if (!canvas || !plot) return false;
        const frame = canvas.getBoundingClientRect();
        const scale = canvas.width / frame.width;
        const [left, top] = [(plot.left - frame.left) * scale, (plot.top - frame.top) * scale];
        const at = Math.round(left + share * plot.width * scale);
        // Its crest at 90 %, where nothing else reaches; the axis goes from -104 to 104 % or so.
        const y = (percent) => top + ((104 - percent) / 208) * plot.height * scale;
        const { data } = canvas.getContext('2d').getImageData(at - 4, Math.round(y(91)), 9, Math.round(y(87) - y(91)));
        let dark = 0;
        for (let i = 0; i < data.length; i += 4) if (data[i + 3] > 60 && data[i] < 110) dark++;
        return dark > 2;
      },
      (spikeUs - from) / (to - from),
      { timeout, polling: 100 },
    )
    .then(
      () => true,
      () => false,
    );
}

async function shownWindow(page) {
  const text = await page.getByText(/^Shown:/).textContent();
  const [from, to] = text
    .replaceAll('−', '-')
    .replaceAll('\u00a0', '')
    .match(/-?\d+(\.\d+)?/g)
    .map(Number);
  return [from, to];
}

async function wheelAt(page, share, deltaY) {
  const shown = page.getByText(/^Shown:/);
  const before = await shown.textContent();
  const { x, y, width, height } = await page.locator('.u-over').boundingBox();
  await page.mouse.move(x + share * width, y + 0.4 * height);
  await page.mouse.wheel(0, deltaY);
  await shown.and(page.getByText(before, { exact: true })).waitFor({ state: 'detached' });
}

// ── many captures ───────────────────────────────────────────────────────────

async function many(words, files, count) {
  const { page, complaints } = await openWindow(opened);
  const began = Date.now();
  await give(page, 'Files …', files);
  const told = new RegExp(`^${count} captures in ${files.length} files?$`);
  await settled(page, told, 600_000);
  console.log(`${words}: taken in after ${((Date.now() - began) / 1000).toFixed(0)} s; ${await memoryWords(page)}`);
  await asSeries(page);
  await settled(page, told, 600_000);
  await shot(page, files.length === 1 ? 'wide' : 'many');

  const list = page.getByRole('listbox', { name: /^Captures/ });
  await list.focus();
  await page.keyboard.press('End');
  await page.keyboard.press('Enter');
  const last = page.getByRole('application', { name: new RegExp(`^Trace .*${count - 1}`) });
  await last.waitFor({ timeout: 10_000 });
  held(true, 'by End and Enter the last capture of the list comes on the screen');
  const filter = page.getByRole('searchbox', { name: 'Filter captures by words' });
  await filter.fill(String(count >> 1));
  await list.getByRole('option').first().click();
  await page.getByRole('application', { name: new RegExp(`^Trace .*${count >> 1}`) }).waitFor({ timeout: 10_000 });
  await filter.fill('');
  held(true, 'words find one among them');
  const picture = page.getByRole('slider', { name: 'Captures of the series, side by side' });
  await picture.focus();
  await page.keyboard.press('End');
  await last.waitFor({ timeout: 10_000 });
  held(true, 'by the keys of the picture the trace goes along');

  const small = await openWindow(opened);
  await give(small.page, 'Files …', files.length === 1 ? [await wideFile(data, 50)] : await manyFiles(data, 50));
  await settled(small.page, /^50 captures in/);
  await asSeries(small.page);
  await settled(small.page, /^50 captures in/);
  await allKept(page);
  const sides = [page, small.page];
  compare('frames while the list is scrolled', await ratioInTurn(sides, (one) => scrollFrameMs(one)));
  compare(
    'frames while the trace is zoomed and moved, and the series’ picture with it',
    await ratioInTurn(sides, (one) => traceFrameMs(one, [8, 20, 8, 20])),
    pictureRatio,
  );
  compare('from capture to capture', await ratioInTurn(sides, moveMs));
  console.log(await memoryWords(page));
  complaint(complaints);
  await small.page.context().close();
  await page.context().close();
}

/** The browser has put away the files' bytes for the draft, which it does beside whatever else is done. */
async function allKept(page) {
  const session = await counterOf(page);
  for (let before = -1; ; ) {
    const { kept } = await session();
    if (kept === before) return;
    before = kept;
    await page.waitForTimeout(3000);
  }
}

/** All captures read by one gate, as one series. */
async function asSeries(page) {
  await page.keyboard.press('Alt+Digit3');
  const panel = page.getByRole('tabpanel', { name: /^Readings/ });
  const all = panel.getByRole('button', { name: /^Choose all \d+/ });
  // One file with all of them is chosen as a whole.
  await all.or(panel.getByRole('checkbox').first()).first().click();
  await panel.getByRole('button', { name: 'Draw a gate' }).click();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Enter');
  await panel.getByRole('button', { name: /^Beam and part/ }).click();
  await panel.getByLabel('The captures are a series of one reflector: hold each against the peak').check();
}

/** From a key to the frame in which the next capture's name stands above the trace. */
function moveMs(page) {
  return page.evaluate(async () => {
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const name = () => document.querySelector('[role="application"]')?.getAttribute('aria-label');
    const spans = [];
    for (let i = 0; i < 20; i++) {
      await frame();
      const [from, before] = [performance.now(), name()];
      window.dispatchEvent(
        new KeyboardEvent('keydown', {
          key: i < 10 ? 'ArrowUp' : 'ArrowDown',
          code: i < 10 ? 'ArrowUp' : 'ArrowDown',
          altKey: true,
          bubbles: true,
        }),
      );
      while (name() === before && performance.now() - from < 2000) await frame();
      spans.push(performance.now() - from);
    }
    return spans.sort((a, b) => a - b)[spans.length >> 1];
  });
}

// ── what is common ──────────────────────────────────────────────────────────

function compare(words, { ratio, first, second }, most = frameRatio) {
  held(
    ratio <= most,
    `${words}: ${first.toFixed(1)} ms against ${second.toFixed(1)} ms of a small case, ${ratio.toFixed(2)}× (at most ${most}×)`,
  );
}

function complaint(complaints) {
  const real = complaints.filter((words) => !words.includes('willReadFrequently'));
  held(real.length === 0, `the page complains of nothing${real.length === 0 ? '' : `: ${real.join('; ')}`}`);
}

/** The highest that the page's process has stood, as the system tells it. */
async function memoryWords(page) {
  const id = await processOf(page);
  try {
    const peak = /VmHWM:\s*(\d+)/.exec(readFileSync(`/proc/${id}/status`, 'utf8'));
    return `the page's process has held at most ${(Number(peak[1]) / 1024).toFixed(0)} MB`;
  } catch {
    return 'the memory of its process is not told on this system';
  }
}

async function processOf(page) {
  const session = await page.context().browser().newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  await session.detach();
  const sizes = processInfo
    .filter(({ type }) => type === 'renderer')
    .map(({ id }) => ({ id, rss: residentOf(id) }))
    .sort((a, b) => b.rss - a.rss);
  return sizes[0]?.id;
}

function residentOf(id) {
  try {
    return Number(/VmRSS:\s*(\d+)/.exec(readFileSync(`/proc/${id}/status`, 'utf8'))[1]);
  } catch {
    return 0;
  }
}

async function shot(page, name) {
  if (values.shots === undefined) return;
  for (const [width, height] of [
    [1440, 900],
    [1024, 700],
  ]) {
    await page.setViewportSize({ width, height });
    await page.waitForTimeout(500);
    await page.screenshot({ path: `${values.shots}/${name}-${width}.png` });
  }
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.waitForTimeout(500);
}
