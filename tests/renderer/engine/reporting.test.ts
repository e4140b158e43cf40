import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { reportPage } from '../../../core/report/page/page.ts';
import { openReview } from '../../../core/review/open-review.ts';
import type { Review } from '../../../core/review/review.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { packageReview } from '../../../electron/cli/commands/package.ts';
import { program } from '../../../electron/cli/program.ts';
import { reportInput, savedReview } from '../../../electron/cli/review-report.ts';
import type { Engine } from '../../../renderer/engine/engine.ts';
import { decisionsOf } from '../../../renderer/state/evaluating.ts';
import { freshRecipe } from '../../../renderer/state/source-list.ts';
import { coreEngine } from '../../build/engine.ts';

const samples = [
  ['the shift', '../../../sample-data/review.json'],
  ['the instrument', '../../../sample-data/instruments/review.json'],
] as const;

const folder = mkdtempSync(join(tmpdir(), 'reporting-'));
afterAll(() => rmSync(folder, { recursive: true }));

const { version } = program;

/** A saved review with all its files in the worker. */
async function opened(path: string): Promise<{ engine: Engine; review: Review; file: string }> {
  const file = fileURLToPath(new URL(path, import.meta.url));
  const read = openReview('review.json', readFileSync(file, 'utf8'));
  if (!read.ok) throw new Error(read.problems[0]?.sentence);
  const review = read.value;
  const engine = coreEngine();
  const content = (name: string) => new Blob([readFileSync(join(dirname(file), name))]);
  await engine.ask('import', {
    files: [
      ...review.sources.map((source) => ({ ...source, content: content(source.file) })),
      ...review.manifests.map((manifest) => ({ ...manifest, content: content(manifest.file), recipe: freshRecipe })),
    ],
  });
  await engine.ask('sources', {
    order: review.sources.map(({ file: name }) => name),
    changed: review.sources,
    manifests: review.manifests,
  });
  return { engine, review, file };
}

async function packed(engine: Engine, review: Review, name = 'review.json') {
  const made = await engine.ask('package', { decisions: decisionsOf(review), name, version });
  if (!made.ok) throw new Error(made.problems[0]?.sentence);
  return made.value;
}

describe.each(samples)('report and package of %s, made in the window', (name, path) => {
  it('are byte for byte those of the command line', async () => {
    const { engine, review, file } = await opened(path);
    const saved = reportInput(savedReview(file));
    if (!saved.ok) throw new Error(saved.problems[0]?.sentence);
    const sha256 = saved.value.reviewFile.sha256;
    const report = await engine.ask('report', {
      decisions: decisionsOf(review),
      name: 'review.json',
      sha256,
      version,
      style: metricStyle,
    });
    expect(report.ok && report.value === reportPage(saved.value)).toBe(true);

    const out = join(folder, `${name}.zip`);
    await packageReview(file, { out });
    const { content, files } = await packed(engine, review);
    expect(Buffer.from(await content.arrayBuffer()).equals(readFileSync(out))).toBe(true);
    expect(files).toBeGreaterThan(review.sources.length);
  });

  it('are verified there, and a byte that is altered is found', async () => {
    const { engine, review } = await opened(path);
    const { content, sha256 } = await packed(engine, review);
    const verify = (blob: Blob) => engine.ask('verify', { file: 'evidence.zip', content: blob, version });
    const same = await verify(content);
    expect(same).toMatchObject({ ok: true, value: { same: true, differences: [], problems: [], sha256 } });

    const bytes = new Uint8Array(await content.arrayBuffer());
    bytes[Math.floor(bytes.length / 2)]! ^= 0xff;
    const other = await verify(new Blob([bytes]));
    expect(other.ok && other.value.same).toBe(false);
    expect(other.ok && other.value.problems.length).toBeGreaterThan(0);
  });
});

describe('a package that cannot be made', () => {
  it('says which file is missing, and makes none', async () => {
    const { engine, review } = await opened(samples[0][1]);
    const [first, ...others] = review.sources;
    const changed = [{ ...first!, sha256: 'f'.repeat(64) }];
    await engine.ask('sources', { order: review.sources.map(({ file }) => file), changed, manifests: null });
    const made = await engine.ask('package', {
      decisions: decisionsOf({ ...review, sources: [changed[0]!, ...others] }),
      name: 'review.json',
      version,
    });
    expect(made).toMatchObject({ ok: false, problems: [{ code: 'source-missing', place: { file: first!.file } }] });
  });
});

describe('what is no package', () => {
  it.each([
    ['a text', 'not a zip at all', 'not-a-zip'],
    ['nothing', '', 'not-a-zip'],
  ])('%s is refused with a sentence', async (_name, text, code) => {
    const verified = await coreEngine().ask('verify', { file: 'x.zip', content: new Blob([text]), version });
    expect(verified).toMatchObject({ ok: false, problems: [{ code }] });
  });
});
