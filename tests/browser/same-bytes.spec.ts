import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundledBits } from '../determinism/bundled-bits.mjs';
import { expectedBits } from '../determinism/outputs.mjs';
import { expect, openFirstPage, openProcedure, resting, root, test } from './workbench.ts';

/**
 * The command line's package of a sample, by a process of its own: review, results, tables and report in one. The page
 * names the review after its title, and its name stands in the report: here it is given the same.
 */
function packed(folderOfSample: string, name: string): Buffer {
  const folder = mkdtempSync(join(tmpdir(), 'packed-'));
  try {
    cpSync(`${root}sample-data`, folder, { recursive: true });
    const review = join(folder, folderOfSample, `${name}.json`);
    renameSync(join(folder, folderOfSample, 'review.json'), review);
    const out = join(folder, 'evidence.zip');
    const { stderr } = spawnSync('node', [`${root}build/cli/main.js`, 'package', review, '--out', out], {
      encoding: 'utf8',
    });
    expect(stderr).toBe('');
    return readFileSync(out);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

for (const { sample, button, folder } of [
  { sample: 'the weld', button: 'Open the sample', folder: '.' },
  { sample: 'the instrument in its yearly check', button: 'Open the yearly check', folder: 'instruments' },
]) {
  test(`what the page’s worker works out of ${sample} is the command line’s, to the byte`, async ({ page }) => {
    await openFirstPage(page);
    await page.getByRole('button', { name: button }).click();
    await expect(page.getByRole('contentinfo').getByRole('status')).toHaveText(
      /^[1-9]\d* captures in [1-9]\d* files$/,
      {
        timeout: 20_000,
      },
    );
    await resting(page);
    const panel = await openProcedure(page, 'Report');
    const coming = page.waitForEvent('download');
    await panel.getByRole('button', { name: 'Save package …' }).click();
    const download = await coming;
    const theirs = readFileSync(await download.path());
    const ours = packed(folder, download.suggestedFilename().replace(/-evidence\.zip$/, ''));
    expect(theirs.length).toBe(ours.length);
    expect(theirs.equals(ours)).toBe(true);
  });
}

test('no last bit of a figure is Chromium’s own', async ({ page }) => {
  expect(await page.evaluate(`(() => { ${await bundledBits()} return bits; })()`)).toEqual(expectedBits);
});
