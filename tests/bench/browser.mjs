// The rows of the benchmark that are measured in Chromium, on the built pages. Ratios within one run; each figure is a median.

import { once } from 'node:events';
import { createWriteStream, existsSync, mkdirSync, renameSync, writeFileSync } from 'node:fs';
import { chromium } from '@playwright/test';
import { findChromium, flags } from '../browser/chromium.mjs';
import { scrollFrameMs, traceFrameMs } from '../browser/frames.mjs';
import { median } from './median.mjs';
import { root } from './programs.mjs';

const data = `${root}build/bench-data/browser`;
const size = { width: 1440, height: 900 };

/** Frames follow one another as fast as they are done, so that their distance is the work they take. */
const unpaced = ['--disable-frame-rate-limit', '--disable-gpu-vsync'];

/** `atMost`: of the first over the second; `atMostMs`: of the first alone. */
export const browserRows = [
  {
    name: 'frames',
    title: 'Zooming and panning: 10,000,000 samples against 10,000',
    measure: (page) => inTurn(page, [10_000_000, 10_000], zoomFrames),
    sides: ['10,000,000', '10,000'],
    target: { atMost: 1.5 },
  },
  {
    name: 'opening',
    title: 'From the address to the sample review with its trace painted, against an empty React page',
    measure: openings,
    sides: ['sample review', 'empty page'],
    target: { atMost: 1.5 },
  },
  {
    name: 'scrolling',
    title: 'Scrolling the list: 5,000 captures against 50',
    measure: (page) => inTurn(page, [5000, 50], scrollFrames),
    sides: ['5,000', '50'],
    target: { atMost: 1.5 },
  },
  {
    name: 'filtering',
    title: 'From a letter in the filter to the list that fits it: 5,000 captures against 50',
    measure: (page) => inTurn(page, [5000, 50], filterTimes),
    sides: ['5,000', '50'],
    target: { atMost: 1.5 },
  },
  {
    name: 'importing',
    title: 'Longest time for which the window does not answer while 1,000 files are taken in',
    measure: importBlocks,
    sides: ['longest', 'longest task told by the browser'],
    target: { atMostMs: 50 },
  },
];

/** Measures a row so many times; `true` where its target is met. */
export async function measureInBrowser(row, times) {
  mkdirSync(data, { recursive: true });
  const { serve } = await import(new URL('../../build/serve.js', import.meta.url).href);
  const sample = `${root}sample-data`;
  const pages = await serve({ page: `${root}build/renderer`, sample });
  const gallery = await serve({ page: `${root}build/gallery`, sample });
  const browser = await chromium.launch({ executablePath: findChromium() ?? undefined, args: [...flags, ...unpaced] });
  const addresses = { workbench: pages.address, empty: `${gallery.address}empty.html` };
  try {
    return report(row, await row.measure({ browser, addresses, times }));
  } finally {
    await browser.close();
    await pages.close();
    await gallery.close();
  }
}

function report({ name, title, sides, target }, [first, second]) {
  console.log(`\n${title}  [${name}]`);
  for (const [side, values] of [
    [sides[0], first],
    [sides[1], second],
  ]) {
    const [low, high] = [Math.min(...values), Math.max(...values)];
    console.log(
      `  ${side.padEnd(34)}${median(values).toFixed(1).padStart(8)} ms   ${low.toFixed(1)}–${high.toFixed(1)}`,
    );
  }
  const ratio = median(first) / median(second);
  const met = target.atMost === undefined ? median(first) <= target.atMostMs : ratio <= target.atMost;
  const words =
    target.atMost === undefined
      ? `${median(first).toFixed(1)} ms (at most ${target.atMostMs} ms)`
      : `${ratio.toFixed(2)}× (at most ${target.atMost}×)`;
  console.log(`  ${met ? 'met   ' : 'MISSED'}  ${words}`);
  return met;
}

/** Both sides are opened first, and then measured in turn, so that what the machine does beside it falls on both. */
async function inTurn({ browser, addresses, times }, counts, measure) {
  const sides = [];
  for (const count of counts) {
    const page = await workbenchPage(browser, addresses);
    await measure.open(page, count);
    sides.push({ page, values: [] });
  }
  for (const { page } of sides) await measure.once(page);
  for (let i = 0; i < times; i++) {
    for (const { page, values } of sides) {
      await page.bringToFront();
      values.push(await measure.once(page));
    }
  }
  for (const { page } of sides) await page.context().close();
  return sides.map(({ values }) => values);
}

async function workbenchPage(browser, addresses) {
  const context = await browser.newContext({ viewport: size, locale: 'en-GB', reducedMotion: 'reduce' });
  const page = await context.newPage();
  await page.goto(addresses.workbench);
  return page;
}

/** Answers the browser's file dialog with files, or with a folder. */
async function give(page, button, paths) {
  const dialog = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: button }).click();
  await (await dialog).setFiles(paths);
}

async function settled(page, words) {
  await page.getByRole('contentinfo').getByText(words).waitFor({ timeout: 300_000 });
  for (let quiet = 0; quiet < 5; ) {
    await page.waitForTimeout(100);
    quiet = (await page.getByRole('contentinfo').getByRole('progressbar').count()) === 0 ? quiet + 1 : 0;
  }
}

// ── frames ──────────────────────────────────────────────────────────────────

const zoomFrames = {
  async open(page, samples) {
    await give(page, 'Files …', await longFile(samples));
    await settled(page, '1 capture in 1 file');
    await page.getByRole('application', { name: /^Trace / }).waitFor();
    await page.waitForTimeout(1500);
  },
  once: (page) => traceFrameMs(page),
};

/** One echo in every 20 µs of a noisy record of 100 MHz. */
async function longFile(samples) {
  const path = `${data}/long-${samples}.csv`;
  if (existsSync(path)) return path;
  console.log(`Making ${path.slice(root.length)} (once) …`);
  const out = createWriteStream(`${path}.part`);
  out.write('# rectification: rf\ntime_us,amplitude_pct\n');
  const random = randomFrom(7);
  let lines = [];
  for (let i = 0; i < samples; i++) {
    const inside = ((i % 2000) - 1000) / 100;
    const echo = 70 * Math.exp(-0.5 * (inside / 0.3) ** 2) * Math.cos(2 * Math.PI * 4 * inside);
    lines.push(`${(i / 100).toFixed(2)},${(echo + 4 * (random() - 0.5)).toFixed(2)}`);
    if (lines.length === 50_000 || i === samples - 1) {
      if (!out.write(`${lines.join('\n')}\n`)) await once(out, 'drain');
      lines = [];
    }
  }
  out.end();
  await once(out, 'close');
  renameSync(`${path}.part`, path);
  return path;
}

// ── opening ─────────────────────────────────────────────────────────────────

/** Notes when a page is there to be used: the empty one with its word, the workbench once the sample was opened and its trace painted. */
function noteWhenUsable() {
  let painted = 0;
  for (const stroke of ['fillRect', 'stroke']) {
    const original = CanvasRenderingContext2D.prototype[stroke];
    CanvasRenderingContext2D.prototype[stroke] = function (...given) {
      if (this.canvas.parentElement?.classList.contains('u-wrap')) painted++;
      return original.apply(this, given);
    };
  }
  const note = (name) => requestAnimationFrame(() => setTimeout(() => (window[name] ??= performance.now())));
  let opened = false;
  const look = () => {
    const main = document.querySelector('main');
    if (main?.textContent === 'Empty') return note('usableAt');
    const sample = [...document.querySelectorAll('button')].find((one) => one.textContent === 'Open the sample shift');
    if (sample !== undefined && !opened) {
      opened = true;
      note('firstPageAt');
      // React listens by now; a press as a person's, but without a person's delay.
      setTimeout(() => sample.click());
    }
    // Axes and grid take a few dozen strokes, the trace many more.
    if (painted > 300 && document.querySelector('[role="option"]') !== null) return note('usableAt');
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}

async function openings({ browser, addresses, times }) {
  const once = async (address) => {
    const context = await browser.newContext({ viewport: size, locale: 'en-GB', reducedMotion: 'reduce' });
    const page = await context.newPage();
    await page.addInitScript(noteWhenUsable);
    await page.goto(address);
    const at = await page.waitForFunction(() => window.usableAt, undefined, { polling: 50, timeout: 60_000 });
    const value = await at.jsonValue();
    const first = await page.evaluate(() => window.firstPageAt ?? null);
    await context.close();
    return { value, first };
  };
  const [ours, empty, first] = [[], [], []];
  for (let i = 0; i <= 2 * times; i++) {
    const [one, other] = [await once(addresses.workbench), await once(addresses.empty)];
    // The first of each warms the machine's own caches.
    if (i === 0) continue;
    ours.push(one.value);
    first.push(one.first);
    empty.push(other.value);
  }
  console.log(`\n  (the first page alone: ${median(first).toFixed(1)} ms)`);
  return [ours, empty];
}

// ── many captures ───────────────────────────────────────────────────────────

const manyCaptures = async (page, count) => {
  await give(page, 'Folder …', folderOf(count, 100));
  await settled(page, `${count} captures in ${count} files`);
  await page.waitForTimeout(1000);
};

const scrollFrames = { open: manyCaptures, once: (page) => scrollFrameMs(page) };

const filterTimes = {
  open: manyCaptures,
  /** Letter by letter, each awaited; the words fit fewer and fewer captures of either list. */
  once: (page) =>
    page.evaluate(async () => {
      const field = document.querySelector('input[type="search"]');
      const status = () => document.querySelector('[role="listbox"]')?.textContent ?? 'nothing';
      const setValue = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set;
      const type = (text) => {
        setValue.call(field, text);
        field.dispatchEvent(new Event('input', { bubbles: true }));
      };
      const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
      const spans = [];
      for (const text of ['0049', '', '0038', '', '0027', '', '0016', '']) {
        const before = status();
        await frame();
        const from = performance.now();
        type(text);
        while (status() === before) await frame();
        await frame();
        spans.push(performance.now() - from);
        for (let i = 0; i < 5; i++) await frame();
      }
      return spans.sort((a, b) => a - b)[spans.length >> 1];
    }),
};

/** A folder of so many files with one short capture each. */
function folderOf(count, samples) {
  const folder = `${data}/captures-${count}-${samples}`;
  if (existsSync(`${folder}/scan-${String(count - 1).padStart(4, '0')}.csv`)) return folder;
  mkdirSync(folder, { recursive: true });
  for (let i = 0; i < count; i++) {
    const random = randomFrom(i + 1);
    const rows = Array.from({ length: samples }, (_, s) => {
      const t = s / 50;
      const echo = 60 * Math.exp(-(((t - samples / 100) / 0.3) ** 2)) * Math.cos(2 * Math.PI * 4 * t);
      return `${t.toFixed(2)},${(echo + random() - 0.5).toFixed(2)}`;
    });
    const head = `# rectification: rf\n# position_mm: ${i}\n# gain_db: 40\n`;
    writeFileSync(
      `${folder}/scan-${String(i).padStart(4, '0')}.csv`,
      `${head}time_us,amplitude_pct\n${rows.join('\n')}\n`,
    );
  }
  return folder;
}

// ── importing ───────────────────────────────────────────────────────────────

async function importBlocks({ browser, addresses, times }) {
  const folder = folderOf(1000, 2000);
  const [gaps, tasks] = [[], []];
  for (let i = 0; i < times; i++) {
    const page = await workbenchPage(browser, addresses);
    await page.waitForTimeout(500);
    await page.evaluate(() => {
      const watch = { gap: 0, task: 0, due: Number.POSITIVE_INFINITY, from: Number.POSITIVE_INFINITY };
      Object.assign(window, { watch });
      new PerformanceObserver((list) => {
        for (const { duration, startTime } of list.getEntries())
          if (startTime >= watch.from) watch.task = Math.max(watch.task, duration);
      }).observe({ type: 'longtask' });
      // From when the browser hands the files over: how long it takes to list a folder is not the page's doing.
      const click = HTMLInputElement.prototype.click;
      HTMLInputElement.prototype.click = function () {
        this.addEventListener(
          'change',
          () => Object.assign(watch, { gap: 0, due: performance.now(), from: performance.now() }),
          {
            once: true,
          },
        );
        return click.call(this);
      };
      // A beat every 5 ms: how late it comes is how long the window was busy with something else.
      const beat = () => {
        watch.gap = Math.max(watch.gap, performance.now() - watch.due);
        watch.due = performance.now() + 5;
        setTimeout(beat, 5);
      };
      setTimeout(beat, 5);
    });
    await give(page, 'Folder …', folder);
    await settled(page, '1000 captures in 1000 files');
    const { gap, task } = await page.evaluate(() => window.watch);
    gaps.push(gap);
    // Below 50 ms the browser tells of none.
    tasks.push(task);
    await page.context().close();
  }
  return [gaps, tasks];
}

/** The same numbers from the same seed: a linear congruential generator. */
function randomFrom(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
