import { spawnSync } from 'node:child_process';
import type { Locator, Page } from '@playwright/test';
import { expect, openProcedure, openSample, root, test } from './workbench.ts';

type Printed = Readonly<Record<string, unknown>>;

interface Evaluated {
  readonly calibration: Printed & { readonly points: readonly Printed[] };
  readonly readings: readonly Printed[];
  readonly series: readonly { readonly peak: Printed; readonly path_range_mm: number }[];
  readonly drift: {
    readonly checks: readonly (Printed & { readonly reflectors: readonly Printed[] })[];
    readonly first_failing: string;
    readonly last_passing: string;
  };
}

let printed: Evaluated;

/** What the command line prints of the same review; a process of its own. */
test.beforeAll(() => {
  const command = [`${root}build/cli/main.js`, 'evaluate', `${root}sample-data/review.json`, '--json'];
  const { stdout } = spawnSync('node', command, { encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 });
  printed = JSON.parse(stdout);
});

/**
 * The number on screen is the printed one, rounded to the digits that are shown; `–` stands where none was printed.
 * At least `least` decimals, so that nothing passes by being rounded away.
 */
function expectShown(shown: string, value: unknown, least: number): void {
  if (value === undefined || value === null) {
    expect(shown).toBe('–');
    return;
  }
  const decimals = /\.(\d+)$/.exec(shown)?.[1]?.length ?? 0;
  expect(decimals, shown).toBeGreaterThanOrEqual(least);
  expect(shown).toBe((value as number).toFixed(decimals).replace(/^-(0(?:\.0*)?)$/, '$1'));
}

/** A figure with its uncertainty: `3241.0 ± 2.1 m/s`, with or without the unit. */
function expectWithUncertainty(shown: string, value: unknown, uncertainty: unknown, least: number): void {
  const [, figure = '', u = null] = /^(-?[\d.]+|–)(?: ± ([\d.]+))?/.exec(shown) ?? [];
  expectShown(figure, value, least);
  if (uncertainty === undefined || uncertainty === null) expect(u).toBeNull();
  else expectShown(u ?? '', uncertainty, least);
}

/** The text of the one figure of this name. */
async function figure(within: Locator, name: RegExp): Promise<string> {
  return (await within.getByRole('button', { name }).textContent())!.trim();
}

test('the calibration on screen is the command line’s, to the digit', async ({ page }) => {
  await openSample(page);
  const panel = await openProcedure(page, 'Calibration');
  const { calibration } = printed;
  const velocity = await figure(panel, /^Velocity .*Where from/);
  expect(velocity).toMatch(/ m\/s$/);
  expectWithUncertainty(velocity, calibration.velocity_m_per_s, calibration.u_velocity_m_per_s, 1);
  const zeroOffset = await figure(panel, /^Zero offset .*Where from/);
  expect(zeroOffset).toMatch(/ µs$/);
  expectWithUncertainty(zeroOffset, calibration.zero_offset_us, calibration.u_zero_offset_us, 3);

  expect(calibration.points).toHaveLength(3);
  for (const point of calibration.points) {
    const row = panel
      .getByRole('row')
      .filter({ has: page.getByRole('button', { name: new RegExp(`^${point.distance_mm} mm Reflector`) }) });
    expectShown(await figure(row, /^Time /), point.time_us, 4);
    expectShown(await figure(row, /^Amplitude /), point.amplitude_percent, 1);
    expectShown(await figure(row, /^Residual /), point.residual_mm, 3);
  }
});

const columns = [
  { head: 'Sound path', key: 'sound_path_mm', u: 'u_sound_path_mm', least: 2 },
  { head: 'Amplitude', key: 'amplitude_percent', u: null, least: 1 },
  { head: 'Below peak', key: 'below_peak_db', u: null, least: 1 },
  { head: 'Depth', key: 'depth_mm', u: 'u_depth_mm', least: 2 },
  { head: 'Surface distance', key: 'surface_distance_mm', u: 'u_surface_distance_mm', least: 2 },
  { head: 'Leg', key: 'leg', u: null, least: 0 },
  { head: 'Time', key: 'time_us', u: null, least: 3 },
  { head: 'Crossing', key: 'crossing_us', u: null, least: 3 },
  { head: 'Signal to noise', key: 'signal_to_noise_db', u: null, least: 1 },
] as const;

test('every reading on screen is the command line’s, to the digit', async ({ page }) => {
  await openSample(page);
  const panel = await openProcedure(page, 'Readings');
  const rows = await everyRow(page, panel.getByRole('grid', { name: 'Readings' }));
  expect(rows.size).toBe(printed.readings.length);
  expect(printed.readings.length).toBe(41);
  for (const reading of printed.readings) {
    const row = rows.get(reading.trace as string)!;
    const flags = reading.flags as readonly string[];
    for (const { head, key, u, least } of columns) {
      // Where nothing stands above the threshold, words stand in the height's place.
      if (head === 'Amplitude' && flags.includes('no-echo')) expect(row[head]).toBe('no echo');
      else expectWithUncertainty(row[head]!, reading[key], u === null ? null : reading[u], least);
    }
    const doubts = flags.map((flag) => flag.replaceAll('-', ' ')).join(', ');
    expect(row.Doubts).toBe(doubts);
  }
  const [series] = printed.series;
  const peak = await figure(panel, /^Peak .*Where from/);
  expectShown(/^[\d.]+/.exec(peak)![0], series!.peak.amplitude_percent, 1);
  expectShown(/at ([\d.]+) dB$/.exec(peak)![1]!, series!.peak.reference_gain_db, 1);
  expectShown((await figure(panel, /^Position of the peak/)).replace(' mm', ''), series!.peak.position_mm, 2);
  expectShown((await figure(panel, /^Range of sound paths/)).replace(' mm', ''), series!.path_range_mm, 2);
});

test('every drift figure on screen is the command line’s, to the digit', async ({ page }) => {
  await openSample(page);
  const panel = await openProcedure(page, 'Drift');
  const { checks, first_failing, last_passing } = printed.drift;
  expect(checks).toHaveLength(9);
  await expect(panel.getByText(`First failing: ${first_failing}`)).toBeVisible();
  await expect(panel.getByText(`The last valid check is ${last_passing}`).first()).toBeVisible();
  const items = panel.getByRole('list', { name: 'Checks in order of time' });
  for (const check of checks) {
    const name = new RegExp(`^${check.file}`);
    const head = items.getByRole('button', { name });
    if ((await head.getAttribute('aria-expanded')) === 'false') await head.click();
    const item = items.getByRole('listitem').filter({ has: page.getByRole('button', { name }) });
    expect(await figure(item, /^Verdict /)).toBe(check.verdict);
    for (const reflector of check.reflectors) {
      const at = `at ${reflector.distance_mm} mm`;
      expectWithUncertainty(
        await figure(item, new RegExp(`^Distance error ${at}`)),
        reflector.distance_error_mm,
        reflector.u_distance_error_mm,
        2,
      );
      expectWithUncertainty(
        await figure(item, new RegExp(`^Amplitude change ${at}`)),
        reflector.amplitude_change_db,
        reflector.u_amplitude_change_db,
        1,
      );
    }
    expectWithUncertainty(
      await figure(item, /^Zero offset change /),
      check.zero_offset_change_us,
      check.u_zero_offset_change_us,
      3,
    );
    expectWithUncertainty(
      await figure(item, /^Velocity change /),
      check.velocity_change_percent,
      check.u_velocity_change_percent,
      3,
    );
  }
});

/** All rows of a grid that draws only those in sight: by their first cell, each cell by its column's name. */
async function everyRow(page: Page, grid: Locator): Promise<Map<string, Record<string, string>>> {
  const rows = new Map<string, Record<string, string>>();
  const height = await grid.evaluate((element) => element.scrollHeight);
  for (let top = 0; top <= height; top += 200) {
    await grid.evaluate((element, to) => element.scrollTo(0, to), top);
    await page.evaluate(() => new Promise((painted) => requestAnimationFrame(() => requestAnimationFrame(painted))));
    const seen = await grid.evaluate((element) => {
      const texts = (row: Element, role: string) =>
        [...row.querySelectorAll(`[role=${role}]`)].map((cell) => cell.textContent?.trim() ?? '');
      const names = [...element.querySelectorAll('[role=columnheader] button > span:first-child')].map(
        (name) => name.textContent ?? '',
      );
      return [...element.querySelectorAll('[role=rowgroup] [role=row]')].map((row) =>
        Object.fromEntries(texts(row, 'gridcell').map((text, i) => [names[i], text])),
      );
    });
    for (const row of seen) rows.set(row.Capture!, row as Record<string, string>);
  }
  return rows;
}
