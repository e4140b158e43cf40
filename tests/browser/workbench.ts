import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { AxeBuilder } from '@axe-core/playwright';
import { test as base, expect, type Locator, type Page } from '@playwright/test';
import { type Served, serve } from '../../electron/serve.ts';
import { type Wall, wall } from './wall.ts';

export const root = fileURLToPath(new URL('../..', import.meta.url));

interface Workbench {
  /** What any page of the test complained of on its console; empty at the end of every test. */
  readonly complaints: string[];
  /** What any page or worker asked of anything but the server itself; empty at the end of every test. */
  readonly outside: string[];
}

/** Tests against the built page, served as `npm start` serves it. */
export const test = base.extend<Workbench & { watch: undefined }, { served: Served; wall: Wall }>({
  served: [
    // biome-ignore lint/correctness/noEmptyPattern: Playwright reads the fixtures wanted from this pattern
    async ({}, use) => {
      const served = await serve({ page: `${root}build/renderer`, sample: `${root}sample-data` });
      await use(served);
      await served.close();
    },
    { scope: 'worker' },
  ],
  wall: [
    // biome-ignore lint/correctness/noEmptyPattern: as above
    async ({}, use) => {
      const built = await wall();
      await use(built);
      await built.close();
    },
    { scope: 'worker' },
  ],
  launchOptions: [
    async ({ launchOptions, served, wall: built }, use) =>
      use({ ...launchOptions, args: [...(launchOptions.args ?? []), ...built.flagsFor(served.address)] }),
    { scope: 'worker' },
  ],
  baseURL: async ({ served }, use) => use(served.address),
  // biome-ignore lint/correctness/noEmptyPattern: as above
  complaints: async ({}, use) => use([]),
  // biome-ignore lint/correctness/noEmptyPattern: as above
  outside: async ({}, use) => use([]),
  watch: [
    async ({ context, served, wall: built, complaints, outside }, use) => {
      context.on('console', (message) => {
        const isOurs = !message.text().includes('willReadFrequently'); // these tests read the canvas back
        if (['error', 'warning'].includes(message.type()) && isOurs) complaints.push(message.text());
      });
      context.on('weberror', (error) => complaints.push(error.error().message));
      context.on('request', (request) => {
        const url = request.url();
        if (!isOwn(url, served)) outside.push(url);
      });
      context.on('page', (page) => page.on('websocket', (socket) => outside.push(socket.url())));
      context.on('serviceworker', (worker) => outside.push(`service worker ${worker.url()}`));
      built.asked.length = 0;
      await use(undefined);
      outside.push(...built.asked.map((line) => `past the page: ${line}`));
      expect(complaints, 'no complaint on the console').toEqual([]);
      expect(outside, 'no request to anywhere else').toEqual([]);
    },
    { auto: true },
  ],
});

/** Of the server's own address, made within the page, or within the address itself. */
function isOwn(url: string, { address }: Served): boolean {
  return url.replace(/^blob:/, '').startsWith(address) || url.startsWith('data:');
}

export { expect };

/** A file of one capture: silence of ±0.5 %, and one single sample of 90 % at `spikeUs`. 100 MHz. */
export function spikeFile(sampleCount: number, spikeUs: number): string {
  const rows = Array.from({ length: sampleCount }, (_, i) => {
    const amplitude = i === Math.round(spikeUs * 100) ? 90 : i % 2 === 0 ? 0.5 : -0.5;
    return `${(i / 100).toFixed(2)},${amplitude}`;
  });
  return `# rectification: rf\ntime_us,amplitude_pct\n${rows.join('\n')}\n`;
}

/** Opens the page; nothing of a review is in it yet. */
export async function openFirstPage(page: Page): Promise<void> {
  await page.goto('/');
  await expect(page.getByRole('heading', { name: 'What would you like to look at?' })).toBeVisible();
}

/** Opens the sample scenario and waits until its captures are there and evaluated. */
export async function openSample(page: Page): Promise<void> {
  await openFirstPage(page);
  await page.getByRole('button', { name: 'Open the sample' }).click();
  await settled(page, /^[1-9]\d* captures in [1-9]\d* files$/);
}

/** The page has taken everything in and worked everything out: its foot says what there is, and that nothing is under way. */
export async function settled(page: Page, words: string | RegExp): Promise<void> {
  const foot = page.getByRole('contentinfo');
  await expect(foot.getByRole('status')).toHaveText(words, { timeout: 20_000 });
  await resting(page);
}

/** Nothing is under way, and nothing begins within a quarter of a second. */
export async function resting(page: Page): Promise<void> {
  const running = page.getByRole('contentinfo').getByRole('progressbar');
  await expect(async () => {
    await expect(running).toHaveCount(0, { timeout: 20_000 });
    await page.waitForTimeout(250);
    expect(await running.count()).toBe(0);
  }).toPass({ timeout: 30_000 });
}

/** Opens one file alone and waits until its trace is painted. */
export async function openTrace(page: Page, text: string | Buffer = sampleFile('reference-block.csv')): Promise<void> {
  await openFirstPage(page);
  const file = typeof text === 'string' ? { name: 'capture.csv', text } : { name: 'reference-block.csv', text };
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [given(file.name, file.text)]);
  await expect(page.getByRole('application', { name: /^Trace / })).toBeVisible();
  await expect.poll(() => paintedShare(page)).toBeGreaterThan(0.0005);
}

/** A file as the browser's dialog hands it over. */
export function given(name: string, text: string | Buffer) {
  return { name, mimeType: 'text/csv', buffer: typeof text === 'string' ? Buffer.from(text) : text };
}

export function sampleFile(name: string): Buffer {
  return readFileSync(`${root}sample-data/${name}`);
}

/** Answers the browser's file dialog that `opener` brings up: with files, or with one folder given by its path. */
export async function chooseFiles(
  page: Page,
  opener: Locator,
  files: string | readonly string[] | readonly ReturnType<typeof given>[],
): Promise<void> {
  const dialog = page.waitForEvent('filechooser');
  await opener.click();
  await (await dialog).setFiles(typeof files === 'string' ? files : ([...files] as string[]));
}

/** Drops files from the sample data onto the middle of the page, as the file manager would. */
export async function dropFiles(page: Page, names: readonly string[]): Promise<void> {
  const files = names.map((name) => ({ name: name.split('/').at(-1)!, text: [...sampleFile(name)] }));
  await page.evaluate((dropped) => {
    const data = new DataTransfer();
    for (const { name, text } of dropped) data.items.add(new File([new Uint8Array(text)], name));
    for (const kind of ['dragenter', 'dragover', 'drop']) {
      document.body.dispatchEvent(new DragEvent(kind, { dataTransfer: data, bubbles: true, cancelable: true }));
    }
  }, files);
}

/** The procedures by their groups. */
export const procedureGroups = {
  Distance: ['Import', 'Calibration', 'Readings', 'Drift'],
  Instrument: ['Time base', 'Screen height', 'Gain'],
  Amplitude: ['Sensitivity'],
  Part: ['Part and probe', 'Location', 'Indications'],
  Record: ['Verdicts', 'Report'],
} as const;

export type ProcedureName = (typeof procedureGroups)[keyof typeof procedureGroups][number];

/** Brings a procedure's column into sight by the tabs of its group and its own. */
export async function openProcedure(page: Page, name: ProcedureName): Promise<Locator> {
  // With little room the column stands folded at the side until it is wanted.
  const folded = page.getByRole('button', { name: 'Show the procedures' });
  if (await folded.isVisible()) await folded.click();
  const [group] = Object.entries(procedureGroups).find(([, names]) => (names as readonly string[]).includes(name))!;
  await page
    .getByRole('tablist', { name: 'Groups' })
    .getByRole('tab', { name: new RegExp(`^${group}`) })
    .click();
  await page
    .getByRole('tablist', { name: 'Procedures' })
    .getByRole('tab', { name: new RegExp(`^${name}`) })
    .click();
  const panel = page.getByRole('tabpanel', { name: new RegExp(`^${name}`) });
  await expect(panel).toBeVisible();
  return panel;
}

/** Chooses a capture from the list, which with little room stands folded at the side. */
export async function chooseCapture(page: Page, name: string): Promise<void> {
  const folded = page.getByRole('button', { name: 'Show the captures' });
  if (await folded.isVisible()) await folded.click();
  const filter = page.getByRole('region', { name: 'Captures' }).getByPlaceholder('Filter');
  await filter.fill(name);
  await page.getByRole('option', { name: new RegExp(name) }).click();
  await filter.fill('');
}

/** A step of a procedure by its title. */
export function step(panel: Locator, title: string): Locator {
  return panel.getByRole('listitem').filter({ has: panel.page().getByRole('button', { name: title }) });
}

/** Opens a step that may be folded away. */
export async function unfold(panel: Locator, title: string): Promise<Locator> {
  const head = panel.getByRole('heading', { level: 3 }).getByRole('button', { name: title });
  if ((await head.getAttribute('aria-expanded')) === 'false') await head.click();
  return step(panel, title);
}

/** Chooses from a list that a button opens. */
export async function choose(within: Locator, label: string | RegExp, option: string | RegExp): Promise<void> {
  await within.getByRole('button', { name: label }).click();
  await within
    .page()
    .getByRole('option', { name: option, exact: typeof option === 'string' })
    .click();
}

/** Carries out a command by the menus. */
export async function byMenu(page: Page, menu: string, command: string | RegExp): Promise<void> {
  await page.getByRole('button', { name: menu, exact: true }).click();
  await page.getByRole('menuitem', { name: command }).click();
}

/** The browser's own dialogs for reviews cannot be driven: a file in the page's private folder stands in for the one that a person would pick. */
export async function withReviewPickers(page: Page, name = 'frame-12.json'): Promise<void> {
  await page.context().addInitScript((file) => {
    const pick = async () => (await navigator.storage.getDirectory()).getFileHandle(file, { create: true });
    Object.assign(window, { showSaveFilePicker: pick, showOpenFilePicker: async () => [await pick()] });
  }, name);
}

/** axe has nothing to say of the page as it stands, by all of its rules or by some. */
export async function expectAccessible(page: Page, rules: readonly string[] | null = null): Promise<void> {
  // What is still fading in is as pale as it will never be to a person.
  await page.evaluate(() =>
    Promise.allSettled(
      document
        .getAnimations()
        .filter(({ effect }) => effect?.getComputedTiming().iterations !== Number.POSITIVE_INFINITY)
        .map(({ finished }) => finished),
    ),
  );
  const axe = new AxeBuilder({ page });
  if (rules !== null) axe.withRules([...rules]);
  const { violations } = await axe.analyze();
  const told = violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, any }) => `${id}: ${target.join(' ')}: ${any.map(({ message }) => message).join('; ')}`),
  );
  expect(told).toEqual([]);
}

/** What of the plot's canvas bears the trace's colour, as a share of its pixels. */
export async function paintedShare(page: Page): Promise<number> {
  const columns = await paintedColumns(page);
  return columns.heights.reduce((sum, height) => sum + height, 0) / (columns.heights.length * columns.canvasHeight);
}

/** For each column of the plot's device pixels, how many are at least half covered by the trace. */
export async function paintedColumns(page: Page): Promise<{ heights: number[]; canvasHeight: number }> {
  return page.evaluate(() => {
    const canvas = document.querySelector('canvas');
    const plot = document.querySelector('.u-over')?.getBoundingClientRect();
    const context = canvas?.getContext('2d');
    if (!canvas || !context || !plot) return { heights: [0], canvasHeight: 1 };
    const style = getComputedStyle(document.documentElement);
    const [trace, sheet] = ['--trace', '--sheet'].map((name) =>
      style
        .getPropertyValue(name)
        .match(/[0-9a-f]{2}/gi)!
        .map((pair) => Number.parseInt(pair, 16)),
    ) as [number[], number[]];
    const ink = trace.map((part, c) => part - sheet[c]!);
    const whole = ink.reduce((sum, part) => sum + part * part, 0);

    const frame = canvas.getBoundingClientRect();
    const scale = canvas.width / frame.width;
    const [width, height] = [Math.floor(plot.width * scale), Math.floor(plot.height * scale)];
    const { data } = context.getImageData(
      (plot.left - frame.left) * scale,
      (plot.top - frame.top) * scale,
      width,
      height,
    );
    const heights = Array.from({ length: width }, () => 0);
    for (let i = 0; i < data.length; i += 4) {
      if (data[i + 3] === 0) continue;
      const covered =
        ink.reduce(
          (sum, part, c) =>
            sum + part * (data[i + c]! * (data[i + 3]! / 255) + sheet[c]! * (1 - data[i + 3]! / 255) - sheet[c]!),
          0,
        ) / whole;
      if (covered > 0.5) heights[(i / 4) % width]! += 1;
    }
    return { heights, canvasHeight: height };
  });
}

/** The window that the page says it shows, in µs. */
export async function shownWindow(page: Page): Promise<readonly [number, number]> {
  const text = await page.getByText(/^Shown:/).textContent();
  const [from, to] = (text ?? '')
    .replaceAll('−', '-')
    .match(/-?\d+(\.\d+)?/g)!
    .map(Number);
  return [from!, to!];
}
