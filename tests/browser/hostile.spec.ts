import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Download, Page } from '@playwright/test';
import { reportPage } from '../../core/report/page/page.ts';
import { reportInput, savedReview } from '../../electron/cli/review-report.ts';
import { reviewOfAll } from '../security/hostile-review.ts';
import { hostileTexts, unseen } from '../security/hostile-texts.ts';
import {
  chooseFiles,
  expect,
  openFirstPage,
  openProcedure,
  type ProcedureName,
  procedureGroups,
  resting,
  test,
} from './workbench.ts';

const folder = mkdtempSync(join(tmpdir(), 'workbench-hostile-'));
const path = reviewOfAll(
  hostileTexts.map(({ text }) => text),
  folder,
);
test.afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** What on the page, as it stands, is not text alone: what cannot be seen in it, elements and attributes that would run or ask, and what has run. */
async function faults(page: Page): Promise<readonly string[]> {
  return page.evaluate(
    ([source]) => {
      const hidden = new RegExp(source!, 'u');
      const found: string[] = [];
      const look = (where: string, text: string | null) => {
        if (text !== null && hidden.test(text)) found.push(`${where}: ${JSON.stringify(text.slice(0, 60))}`);
      };
      look('title of the document', document.title);
      const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
      for (let node = words.nextNode(); node !== null; node = words.nextNode())
        if (node.parentElement?.closest('textarea') === null) look('text', node.nodeValue);
      for (const element of document.querySelectorAll('*')) {
        for (const name of ['title', 'alt', 'placeholder', 'aria-label', 'aria-description', 'aria-valuetext'])
          look(name, element.getAttribute(name));
        for (const { name, value } of element.attributes) {
          const runs = /^on/.test(name) || (name === 'srcdoc' && !element.hasAttribute('sandbox'));
          const leads = /^(?:href|xlink:href|src|action|formaction)$/.test(name) && /^\s*javascript:/i.test(value);
          if (runs || leads) found.push(`<${element.localName} ${name}>`);
        }
        const own = (address: string | null) => address === null || new URL(address, location.href).origin === origin;
        if (/^(script|img|iframe|object|embed|base|link|meta|a)$/.test(element.localName))
          if (!own(element.getAttribute('src')) || !own(element.getAttribute('href')))
            if (!element.getAttribute('href')?.startsWith('#')) found.push(`<${element.localName}> from elsewhere`);
      }
      if ('attacked' in window) found.push('a script has run');
      return [...new Set(found)];
    },
    [unseen.source],
  );
}

test('a folder of hostile files and their review: text alone, on every screen, in titles, labels and saved files', async ({
  page,
  complaints,
}) => {
  test.setTimeout(240_000);
  await openFirstPage(page);
  await chooseFiles(page, page.getByRole('button', { name: 'Folder …' }), folder);
  await resting(page);
  await expect(page).toHaveTitle(/script>window\.attacked.*A-scan workbench$/s);
  expect(await faults(page)).toEqual([]);
  // Names are really there to be read, what cannot be seen in them named.
  const filter = page.getByRole('region', { name: 'Captures' }).getByPlaceholder('Filter');
  await filter.fill('photo');
  await expect(page.getByRole('option', { name: /photo⟨U\+202E⟩fdp\.exe\.csv/ }).first()).toBeAttached();
  await filter.fill('');

  for (const name of Object.values(procedureGroups).flat() as ProcedureName[])
    await test.step(name, async () => {
      await openProcedure(page, name);
      await resting(page);
      expect([name, await faults(page)]).toEqual([name, []]);
    });
  await test.step('the list of commands', async () => {
    await page.keyboard.press('Control+k');
    expect(await faults(page)).toEqual([]);
    await page.keyboard.press('Escape');
  });
  await test.step('a table as a file', async () => {
    const panel = await openProcedure(page, 'Verdicts');
    const saved = page.waitForEvent('download');
    await panel.getByRole('button', { name: 'Save as CSV' }).click();
    await expectHarmless(await saved);
  });
  await test.step('the report’s preview', async () => {
    const panel = await openProcedure(page, 'Report');
    await panel.getByRole('button', { name: 'Preview …' }).click();
    const frame = page.locator('iframe');
    await expect(frame).toHaveAttribute('sandbox', '');
    await expect(frame.contentFrame().getByRole('heading', { level: 1 })).toContainText('<script>');
    expect(await faults(page)).toEqual([]);
    await page.keyboard.press('Escape');
  });
  expect(complaints).toEqual([]);
});

async function expectHarmless(download: Download): Promise<void> {
  expect(download.suggestedFilename()).toMatch(/^[\p{L}\p{N}]+(-[\p{L}\p{N}]+)*\.csv$/u);
  const text = readFileSync(await download.path(), 'utf8');
  expect(text.replaceAll('\r\n', '')).not.toMatch(unseen);
}

test('a review whose keys are those of every object changes no other object', async ({ page }) => {
  const evil = JSON.stringify({ format: 'ascan-review', version: 2 }).replace(
    '{',
    '{"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}},',
  );
  const review = readFileSync(path, 'utf8').replace('{', '{"__proto__":{"polluted":1},');
  const capture =
    '# __proto__: 1\n# constructor: {"prototype":{"polluted":1}}\n# rectification: rf\ntime_us,__proto__,constructor_pct\n0,1,1\n1,2,2\n2,1,1\n3,4,4\n';
  await openFirstPage(page);
  await chooseFiles(page, page.getByRole('button', { name: 'Files …' }), [
    { name: 'evil.json', mimeType: 'application/json', buffer: Buffer.from(evil) },
    { name: 'review.json', mimeType: 'application/json', buffer: Buffer.from(review) },
    { name: '__proto__.csv', mimeType: 'text/csv', buffer: Buffer.from(capture) },
  ]);
  await resting(page);
  expect(await page.evaluate(() => ['polluted' in {}, Object.keys(Object.prototype)])).toEqual([false, []]);
});

test('a link or words dropped on the page are not followed; in a field, words may be dropped', async ({ page }) => {
  await openFirstPage(page);
  const drop = (selector: string, kinds: readonly string[]) =>
    page.evaluate(
      ([where, ...given]) => {
        const target = where === 'field' ? document.body.appendChild(document.createElement('input')) : document.body;
        return ['dragover', 'drop'].map((kind) => {
          const dataTransfer = new DataTransfer();
          for (const type of given) dataTransfer.setData(type, 'http://elsewhere.example/');
          return !target.dispatchEvent(new DragEvent(kind, { dataTransfer, bubbles: true, cancelable: true }));
        });
      },
      [selector, ...kinds],
    );
  expect(await drop('page', ['text/uri-list', 'text/plain'])).toEqual([true, true]);
  expect(await drop('page', ['text/html'])).toEqual([true, true]);
  expect(await drop('field', ['text/plain'])).toEqual([false, false]);
  await expect(page.getByRole('heading', { name: 'What would you like to look at?' })).toBeVisible();
});

test.describe('the report, opened from a disk', () => {
  const made = () => {
    const input = reportInput(savedReview(path));
    if (!input.ok) throw new Error(input.problems.map(({ sentence }) => sentence).join('\n'));
    return reportPage(input.value);
  };

  /** Opens the page's text from a file of its own, and gives what it asked for beside itself. */
  async function openFromDisk(page: Page, text: string, outside: string[]): Promise<readonly string[]> {
    const file = join(folder, 'report.html');
    writeFileSync(file, text);
    const address = pathToFileURL(file).href;
    await page.goto(address);
    await page.waitForLoadState('networkidle');
    return outside.splice(0).filter((url) => url !== address);
  }

  test('all texts in it: nothing runs, nothing is asked for, and every word is there to be read', async ({
    page,
    outside,
    complaints,
  }) => {
    expect(await openFromDisk(page, made(), outside)).toEqual([]);
    expect(await faults(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await expect(page.locator('script, iframe, img, object, embed, base, link, form, input')).toHaveCount(0);
    await expect(page.locator('h1')).toContainText('<script>window.attacked=1</script>');
    await expect(page.locator('body')).toBeVisible();
  });

  test('were a name not escaped, its policy would still let no script, style, picture or frame come of it', async ({
    page,
    outside,
    wall,
    complaints,
  }) => {
    const attack = [
      '<script>window.attacked=1</script>',
      '<img src="http://elsewhere.example/a" onerror="window.attacked=1">',
      '<svg onload="window.attacked=1"></svg>',
      '<style>body{background:url(http://elsewhere.example/b)!important}</style>',
      '<link rel="stylesheet" href="http://elsewhere.example/c">',
      '<script src="http://elsewhere.example/d"></script>',
      '<iframe src="http://elsewhere.example/e"></iframe>',
      '<object data="http://elsewhere.example/f"></object>',
      '<base href="http://elsewhere.example/">',
      '<p style="background:url(http://elsewhere.example/g)">x</p>',
    ].join('');
    // The policy stops a request after the page's event of it and before the line: nothing has come to the wall.
    await openFromDisk(page, made().replace('<main>', `<main>${attack}`), outside);
    expect(wall.asked).toEqual([]);
    expect(await page.evaluate(() => 'attacked' in window)).toBe(false);
    expect(complaints.filter((words) => /Content Security Policy/.test(words)).length).toBeGreaterThan(5);
    complaints.length = 0;
  });
});
