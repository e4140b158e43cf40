// One round of a long day: a review is opened, worked in as a person would, and closed.

import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { traceFrameMs } from '../../browser/frames.mjs';
import { give, settled } from './open-window.mjs';

/** What there is to open, one in each round. */
const openings = [
  async (page, { scan }) => {
    await give(page, 'Files …', scan);
    await settled(page, /^\d+ captures in 2 files$/);
  },
  (page) => openSample(page, 'Open the sample shift'),
  (page) => openSample(page, 'Open the yearly check'),
  (page) => openSample(page, 'Open the three probes'),
];

async function openSample(page, button) {
  await page.getByRole('button', { name: button }).click();
  await settled(page, /^[1-9]\d* captures in [1-9]\d* files$/);
}

/**
 * All that there is to do, by what stands in a review of its kind. `moves`: so many captures are shown one after the other, four times as many where there
 * are thousands. Gives how many were.
 */
export async function round(page, r, { moves, scan }) {
  const kind = r % openings.length;
  await openings[kind](page, { scan });
  await page.getByRole('application', { name: /^Trace / }).waitFor();
  if (kind === 0) await drawGate(page);
  if (kind === 1) {
    await calibrateAnew(page);
    await moveGate(page, 'root');
    await askFigures(page);
  }
  await throughProcedures(page);
  const moved = await throughCaptures(page, kind === 0 ? 4 * moves : moves);
  await lookAround(page);
  await throughDialogs(page, r % 2 === 0 ? 'Dark' : 'Light');
  await layOver(page);
  await report(page);
  if (kind === 1 && r % 8 === 1) await print(page);
  await close(page);
  return moved;
}

async function drawGate(page) {
  await page.keyboard.press('Alt+Digit3');
  await page.getByRole('application', { name: /^Trace / }).focus();
  await page.keyboard.press('g');
  await page.keyboard.press('Enter');
  const gate = page.getByRole('slider', { name: /^Gate / }).first();
  await gate.waitFor();
  await page.keyboard.press('Enter');
  const panel = page.getByRole('tabpanel', { name: /^Readings/ });
  await panel.getByRole('button', { name: /^Choose all \d+/ }).click();
  await settled(page, /captures in/);
  await moveGate(page, null);
}

/** Moved by keys, taken back and done again. */
async function moveGate(page, name) {
  const gate = page.getByRole('slider', name === null ? { name: /^Gate / } : { name: `Gate ${name}`, exact: true });
  await gate.first().focus();
  for (const key of ['ArrowRight', 'ArrowRight', 'ArrowUp', 'Shift+ArrowLeft', 'Alt+ArrowRight', 'ArrowDown'])
    await page.keyboard.press(key);
  for (const key of ['z', 'z', 'Shift+z', 'Shift+z', 'z']) await page.keyboard.press(`ControlOrMeta+${key}`);
  await settled(page, /captures in/);
}

/** By another way to time the echoes, taken back and put in force again. */
async function calibrateAnew(page) {
  await page.keyboard.press('Alt+Digit2');
  const panel = page.getByRole('tabpanel', { name: /^Calibration/ });
  const head = panel.getByRole('heading', { level: 3 }).getByRole('button', { name: 'How echoes are read' });
  if ((await head.getAttribute('aria-expanded')) === 'false') await head.click();
  await panel.getByRole('radiogroup', { name: 'Timed by' }).getByText('Crossing').click();
  await panel.getByRole('button', { name: 'Accept this calibration' }).click();
  await panel.getByText('This calibration is in force.').waitFor();
  await settled(page, /captures in/);
  for (let i = 0; i < 2; i++) {
    await page.keyboard.press('ControlOrMeta+z');
    await page.keyboard.press('ControlOrMeta+Shift+z');
  }
  await page.keyboard.press('ControlOrMeta+z');
  await settled(page, /captures in/);
}

/** A figure, what it was made from, and what that was made from. */
async function askFigures(page) {
  await page.keyboard.press('Alt+Digit3');
  const panel = page.getByRole('tabpanel', { name: /^Readings/ });
  await panel
    .getByRole('button', { name: /^Sound path, mm .*Where from/ })
    .first()
    .click();
  const from = page.getByRole('dialog', { name: 'Where from?' });
  for (let i = 0; i < 2; i++) {
    const inputs = from.getByRole('region', { name: 'Made from' }).getByRole('button');
    if ((await inputs.count()) === 0) break;
    await inputs.first().click();
  }
  await page.keyboard.press('Escape');
  await from.waitFor({ state: 'hidden' });
}

const procedureKeys = ['1', '2', '3', '4', '5', '6', '7', '8', '9'].map((digit) => `Digit${digit}`);

async function throughProcedures(page) {
  for (const key of [...procedureKeys, 'KeyP', 'KeyL', 'KeyI', 'KeyB', 'KeyC', 'KeyM']) {
    await page.keyboard.press(`Alt+${key}`);
    await frames(page, 2);
  }
}

/** Each is drawn before the next one is chosen, as for somebody who looks at them. */
async function throughCaptures(page, moves) {
  const stage = page.getByRole('application', { name: /^Trace / });
  await stage.focus();
  let moved = 0;
  let before = await stage.getAttribute('aria-label');
  for (let i = 0; i < moves; i++) {
    await page.keyboard.press(i < 0.8 * moves ? 'Alt+ArrowDown' : 'Alt+ArrowUp');
    await frames(page, 1);
    const now = await stage.getAttribute('aria-label');
    if (now !== before) moved++;
    before = now;
  }
  return moved;
}

/** Zoomed in and out, moved to and fro, cursors set, the envelope drawn. */
async function lookAround(page) {
  const stage = page.getByRole('application', { name: /^Trace / });
  await stage.focus();
  for (const key of ['+', '+', '+', 'ArrowRight', 'ArrowLeft', '-', 'c', 'Home', 'End', 'c', '0']) {
    await page.keyboard.press(key);
    await frames(page, 1);
  }
  for (let i = 0; i < 2; i++) await command(page, i === 0 ? 'Show the envelope' : 'Hide the envelope');
}

async function throughDialogs(page, theme) {
  await page.keyboard.press('F1');
  await closed(page);
  await page.keyboard.press('ControlOrMeta+,');
  const settings = page.getByRole('dialog', { name: 'Settings' });
  await settings.getByText(theme).click();
  await settings.getByRole('button', { name: 'Done' }).click();
  await settings.waitFor({ state: 'hidden' });
  await command(page, 'About and cautions');
  await closed(page);
}

/** By a few letters in the list of all commands. */
async function command(page, label) {
  await page.keyboard.press('ControlOrMeta+k');
  const commands = page.getByRole('dialog', { name: 'All commands' });
  await commands.getByRole('searchbox').or(commands.getByRole('textbox')).first().fill(label);
  await commands.getByRole('menuitem', { name: label }).click();
  await commands.waitFor({ state: 'hidden' });
}

async function closed(page) {
  const dialog = page.getByRole('dialog');
  await dialog.waitFor();
  await page.keyboard.press('Escape');
  await dialog.waitFor({ state: 'hidden' });
}

/** A few captures laid over the trace, and taken off again. */
async function layOver(page) {
  const list = page.getByRole('listbox', { name: /^Captures/ });
  await list.focus();
  await page.keyboard.press('Home');
  for (const key of [' ', 'ArrowDown', ' ', 'ArrowDown', ' ']) await page.keyboard.press(key);
  await frames(page, 2);
  await command(page, 'Take the overlaid captures off');
  const filter = page.getByRole('searchbox', { name: 'Filter captures by words' });
  await filter.fill('1');
  await frames(page, 2);
  await filter.fill('');
  await list.focus();
}

async function report(page) {
  await page.keyboard.press('Alt+KeyR');
  const panel = page.getByRole('tabpanel', { name: /^Report/ });
  await panel.getByRole('button', { name: 'Preview …' }).click();
  await page.getByRole('dialog').locator('iframe').waitFor({ timeout: 60_000 });
  await closed(page);
}

/** Saved as a page, printed from a page of its own, packed. */
async function print(page) {
  const panel = page.getByRole('tabpanel', { name: /^Report/ });
  const saved = page.waitForEvent('download');
  await panel.getByRole('button', { name: 'Save as HTML' }).click();
  await (await saved).delete();
  const opened = page.waitForEvent('popup');
  await panel.getByRole('button', { name: 'Print or save as PDF …' }).click();
  await (await opened).close();
  const packed = page.waitForEvent('download', { timeout: 60_000 });
  await panel.getByRole('button', { name: 'Save package …' }).click();
  await (await packed).delete();
}

async function close(page) {
  await page.keyboard.press('ControlOrMeta+Alt+KeyN');
  const question = page.getByRole('alertdialog');
  const first = page.getByRole('heading', { name: 'What would you like to look at?' });
  await question.or(first).first().waitFor();
  if (await question.isVisible()) await question.getByRole('button', { name: 'Go on without saving' }).click();
  await first.waitFor();
}

function frames(page, count) {
  return page.evaluate(async (wanted) => {
    for (let i = 0; i < wanted; i++) await new Promise((resolve) => requestAnimationFrame(resolve));
  }, count);
}

/** Median distance of frames, in ms, in each of which the trace of the sample shift is moved or zoomed. */
export async function frameMs(page) {
  await openSample(page, 'Open the sample shift');
  await page.locator('.u-over').waitFor();
  await frames(page, 5);
  const spent = await traceFrameMs(page, [8, 40, 8, 40]);
  await close(page);
  return spent;
}

/** Two files, one of many captures in long form, one of a single long record: made once. */
export function scanFiles(folder) {
  const [scan, long] = [`${folder}/scan.csv`, `${folder}/record.csv`];
  if (existsSync(scan) && existsSync(long)) return [scan, long];
  mkdirSync(folder, { recursive: true });
  const rows = ['# rectification: rf\n# gain_db: 40\ncapture,time_us,amplitude_pct'];
  for (let c = 0; c < 1000; c++) {
    const height = 20 + 60 * Math.exp(-(((c - 600) / 250) ** 2));
    for (let i = 0; i < 150; i++) rows.push(`${c + 1},${(i / 50).toFixed(2)},${echo(i / 50, 1.5, height).toFixed(2)}`);
  }
  writeFileSync(scan, `${rows.join('\n')}\n`);
  const record = Array.from(
    { length: 200_000 },
    (_, i) => `${(i / 100).toFixed(2)},${echo((i / 100) % 20, 10, 70).toFixed(2)}`,
  );
  writeFileSync(long, `# rectification: rf\ntime_us,amplitude_pct\n${record.join('\n')}\n`);
  return [scan, long];
}

function echo(timeUs, atUs, height) {
  const wave = height * Math.exp(-(((timeUs - atUs) / 0.12) ** 2)) * Math.cos(10 * Math.PI * (timeUs - atUs));
  return wave + 0.3 * Math.sin(1000 * timeUs);
}
