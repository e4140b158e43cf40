import { fileURLToPath } from 'node:url';
import { test as base, expect, type Page } from '@playwright/test';
import { type Served, serve } from '../../electron/serve.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

interface Workbench {
  /** What the page complained of on its console; empty at the end of every test. */
  readonly complaints: string[];
  /** Requests to anything but the server itself; empty at the end of every test. */
  readonly outside: string[];
}

/** Tests against the built page, served as `npm start` serves it. */
export const test = base.extend<Workbench & { watch: undefined }, { served: Served }>({
  served: [
    // biome-ignore lint/correctness/noEmptyPattern: Playwright reads the fixtures wanted from this pattern
    async ({}, use) => {
      const served = await serve({ page: `${root}build/renderer`, sample: `${root}sample-data` });
      await use(served);
      await served.close();
    },
    { scope: 'worker' },
  ],
  baseURL: async ({ served }, use) => use(served.address),
  // biome-ignore lint/correctness/noEmptyPattern: as above
  complaints: async ({}, use) => use([]),
  // biome-ignore lint/correctness/noEmptyPattern: as above
  outside: async ({}, use) => use([]),
  watch: [
    async ({ page, served, complaints, outside }, use) => {
      page.on('console', (message) => {
        const isOurs = !message.text().includes('willReadFrequently'); // these tests read the canvas back
        if (['error', 'warning'].includes(message.type()) && isOurs) complaints.push(message.text());
      });
      page.on('pageerror', (error) => complaints.push(error.message));
      page.on('request', (request) => {
        if (!request.url().startsWith(served.address)) outside.push(request.url());
      });
      await use(undefined);
      expect(complaints, 'no complaint on the console').toEqual([]);
      expect(outside, 'no request to anywhere else').toEqual([]);
    },
    { auto: true },
  ],
});

export { expect };

/** A file of one capture: silence of ±0.5 %, and one single sample of 90 % at `spikeUs`. 100 MHz. */
export function spikeFile(sampleCount: number, spikeUs: number): string {
  const rows = Array.from({ length: sampleCount }, (_, i) => {
    const amplitude = i === Math.round(spikeUs * 100) ? 90 : i % 2 === 0 ? 0.5 : -0.5;
    return `${(i / 100).toFixed(2)},${amplitude}`;
  });
  return `# rectification: rf\ntime_us,amplitude_pct\n${rows.join('\n')}\n`;
}

/** Puts another file in the place of the sample capture. */
export async function replaceSample(page: Page, content: string | Buffer | null): Promise<void> {
  await page.route('**/sample/reference-block.csv', (route) =>
    content === null ? route.fulfill({ status: 404 }) : route.fulfill({ body: content }),
  );
}

/** Opens the page and waits until its trace is painted. */
export async function openTrace(page: Page): Promise<void> {
  await page.goto('/');
  await expect(page.getByRole('application', { name: /^Trace / })).toBeVisible();
  await expect.poll(() => paintedShare(page)).toBeGreaterThan(0.0005);
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
