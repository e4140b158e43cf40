import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { cellAtPlace } from '../../../core/drawing/depth-picture.ts';
import { evaluate } from '../../../core/evaluate.ts';
import { importBytes } from '../../../core/import/import-file.ts';
import { openReview, reviewText } from '../../../core/review/open-review.ts';
import { emptyReview, type Review, type SourceFile } from '../../../core/review/review.ts';
import { defaultRecipe } from '../../../core/signal/conditioning.ts';
import { planForReadings } from '../../../core/steps/read.ts';
import { transfersOf } from '../../../renderer/engine/answering.ts';
import type { Engine } from '../../../renderer/engine/engine.ts';
import type { Answer, Drawing, FileToImport } from '../../../renderer/engine/messages.ts';
import { Cancelled } from '../../../renderer/engine/pauses.ts';
import { decisionsOf } from '../../../renderer/state/evaluating.ts';
import { freshRecipe } from '../../../renderer/state/source-list.ts';
import { calibrated } from '../../build/calibration.ts';
import { coreEngine } from '../../build/engine.ts';
import { sampleFile } from '../../build/host.ts';

const utf8 = new TextEncoder();
const asCaptured = { ...defaultRecipe, baseline: 'none' } as const;

/** Silence with one sample of 90 % at `spikeUs`; 100 MHz. */
function spikeText(sampleCount: number, spikeUs: number): string {
  const rows = Array.from(
    { length: sampleCount },
    (_, i) => `${(i / 100).toFixed(2)},${i === Math.round(spikeUs * 100) ? 90 : i % 2 === 0 ? 0.5 : -0.5}`,
  );
  return `# rectification: rf\ntime_us,amplitude_pct\n${rows.join('\n')}\n`;
}

/** A tone burst of 4 MHz at `timeUs` over a little noise that repeats; 50 MHz. */
function burstText(timeUs: number, percent: number): string {
  const rows = Array.from({ length: 2000 }, (_, i) => {
    const t = i / 50;
    const burst = percent * Math.exp(-(((t - timeUs) / 0.25) ** 2)) * Math.cos(2 * Math.PI * 4 * (t - timeUs));
    return `${t.toFixed(2)},${(burst + 0.2 * Math.sin(i * i)).toFixed(3)}`;
  });
  return `# rectification: rf\ntime_us,amplitude_pct\n${rows.join('\n')}\n`;
}

const toImport = (file: string, text: string): FileToImport => ({
  file,
  content: new Blob([text]),
  recipe: freshRecipe,
});

/** Takes files in and tells them as the sources of a review. */
async function reviewOf(engine: Engine, files: readonly FileToImport[]): Promise<Review['sources']> {
  const read = await engine.ask('import', { files });
  const sources = read
    .filter(({ kind }) => kind === 'captures')
    .map(({ file, sha256 }): SourceFile => ({ file, sha256, recipe: freshRecipe, facts: [] }));
  const manifests = read.filter(({ kind }) => kind === 'manifest').map(({ file, sha256 }) => ({ file, sha256 }));
  await engine.ask('sources', { order: sources.map(({ file }) => file), changed: sources, manifests });
  return sources;
}

describe('files that are taken in', () => {
  const broken = '# rectification: rf\ntime_us,amplitude_pct\n0.00,1\n0.01\n0.02,3\n0.03,4\n';
  const unitless = 't,a\n0.00,1\n0.01,2\n0.02,3\n0.03,-4\n';

  it('are ready, asking or broken, each for itself and in their order', async () => {
    const read = await coreEngine().ask('import', {
      files: [
        toImport('broken.csv', broken),
        toImport('good.csv', spikeText(100, 0.5)),
        toImport('asks.csv', unitless),
      ],
    });
    expect(read.map(({ file, state }) => [file, state])).toEqual([
      ['broken.csv', 'broken'],
      ['good.csv', 'ready'],
      ['asks.csv', 'asking'],
    ]);
    expect(read[0]?.problems).toMatchObject([{ place: { file: 'broken.csv', line: 4 } }]);
    expect(read[2]?.asks.length).toBeGreaterThan(0);
  });

  it('are known by the SHA-256 of their bytes', async () => {
    const text = spikeText(100, 0.5);
    const [read] = await coreEngine().ask('import', { files: [toImport('a.csv', text)] });
    expect(read?.sha256).toBe(createHash('sha256').update(text).digest('hex'));
  });

  it('are told from manifests by name and from reviews by what they begin with', async () => {
    const read = await coreEngine().ask('import', {
      files: [
        toImport('day 1/manifest.csv', 'file,gain_db\na.csv,42\n'),
        toImport('mine.json', reviewText(emptyReview)),
        toImport('other.json', '{"a": 1}'),
      ],
    });
    expect(read.map(({ kind, state }) => `${kind} ${state}`)).toEqual([
      'manifest ready',
      'review ready',
      'captures broken',
    ]);
  });

  it('are broken with a sentence where their bytes cannot be read any more', async () => {
    const gone = Object.assign(new Blob(['x']), { arrayBuffer: () => Promise.reject(new Error('it was moved')) });
    const [read] = await coreEngine().ask('import', {
      files: [{ file: 'gone.csv', content: gone, recipe: freshRecipe }],
    });
    expect(read).toMatchObject({ state: 'broken', sha256: null, problems: [{ code: 'unreadable' }] });
    expect(read?.problems[0]?.sentence).toContain('it was moved');
  });

  it('are the same whether read whole or in pieces with pauses between', async () => {
    const text = spikeText(400_000, 1234.56);
    expect(text.length).toBeGreaterThan(2 ** 22);
    const engine = coreEngine();
    await reviewOf(engine, [toImport('long.csv', text)]);
    const whole = importBytes('long.csv', utf8.encode(text), freshRecipe, null);
    const told = await engine.ask('sources', { order: ['long.csv'], changed: [], manifests: [] });
    expect(told.sources[0]?.captures[0]).toMatchObject({
      sampleCount: whole.ok ? whole.value.captures[0]?.waveform.samples.length : null,
      extremaPercent: { minimum: -0.5, maximum: 90 },
    });
  });
});

describe('sources that are told', () => {
  it('are missing where their file is not held, and ready once it was taken in and they are told again', async () => {
    const engine = coreEngine();
    const text = spikeText(100, 0.5);
    const sha256 = createHash('sha256').update(text).digest('hex');
    const source: SourceFile = { file: 'a.csv', sha256, recipe: freshRecipe, facts: [] };
    const told = { order: ['a.csv'], changed: [source], manifests: null };
    const before = await engine.ask('sources', told);
    expect(before.sources).toMatchObject([{ state: 'missing', problems: [{ code: 'source-missing' }], captures: [] }]);
    await engine.ask('import', { files: [toImport('moved/elsewhere.csv', text)] });
    const after = await engine.ask('sources', told);
    expect(after.sources).toMatchObject([{ state: 'ready', captures: [{ id: 'a.csv#amplitude_pct' }] }]);
  });

  it('answer for those alone that are new or changed, and for all where the manifests change', async () => {
    const engine = coreEngine();
    const sources = await reviewOf(engine, [toImport('a.csv', burstText(9, 50)), toImport('b.csv', burstText(9, 40))]);
    const order = ['a.csv', 'b.csv'];
    const facts = {
      trace: null,
      gainDb: 46,
      positionMm: null,
      acrossMm: null,
      takenAt: null,
      probe: null,
      instrument: null,
      block: null,
      temperatureC: null,
    };
    const changed = [{ ...sources[1]!, facts: [facts] }];
    const some = await engine.ask('sources', { order, changed, manifests: null });
    expect(some.sources.map(({ file, captures }) => [file, captures[0]?.gainDb])).toEqual([['b.csv', 46]]);
    const all = await engine.ask('sources', { order, changed: [], manifests: [] });
    expect(all.sources.map(({ file }) => file)).toEqual(order);
  });

  it('take what a manifest says, from its own folder alone; what the person says stands above it', async () => {
    const engine = coreEngine();
    const file = (name: string) => toImport(name, burstText(9, 50));
    await reviewOf(engine, [
      file('a.csv'),
      file('day 1/a.csv'),
      file('day 1/b.csv'),
      toImport('day 1/manifest.csv', 'file,gain_db,position_mm\na.csv,42,3\nb.csv,43,4\n'),
    ]);
    const known = await engine.ask('sources', {
      order: ['a.csv', 'day 1/a.csv', 'day 1/b.csv'],
      changed: [],
      manifests: [
        { file: 'day 1/manifest.csv', sha256: await shaOf('file,gain_db,position_mm\na.csv,42,3\nb.csv,43,4\n') },
      ],
    });
    expect(known.sources.map(({ captures }) => [captures[0]?.gainDb, captures[0]?.positionMm])).toEqual([
      [null, null],
      [42, 3],
      [43, 4],
    ]);
    expect(known.sources[1]?.captures[0]?.file).toBe('day 1/a.csv');
  });
});

async function shaOf(text: string): Promise<string> {
  return createHash('sha256').update(text).digest('hex');
}

describe('captures laid out by true depth', () => {
  const calibration = calibrated(3240, 7.3);
  const grid = { across: { fromMm: 0, cellMm: 1, count: 4 }, depth: { fromMm: 0, cellMm: 0.5, count: 32 } };
  const asked = {
    by: { calibration, part: null, beam: { angleDeg: 60, thicknessMm: 16 }, uAngleDeg: null, paths: null },
    conditioning: defaultRecipe,
    across: 'position',
    onlyLeg: null,
    grid,
  } as const;
  const at = (positionMm: number, pathMm: number, percent: number) =>
    `# position_mm: ${positionMm}\n${burstText(7.3 + (2 * pathMm) / 3.24, percent)}`;

  it('each at its position, its echo at its depth, on its leg', async () => {
    const engine = coreEngine();
    await reviewOf(engine, [toImport('a.csv', at(0.5, 18, 60)), toImport('b.csv', at(2.5, 50, 80))]);
    const captures = ['a.csv#amplitude_pct', 'b.csv#amplitude_pct'];
    const { problems, ...picture } = await engine.ask('depthImage', { ...asked, captures });
    expect(problems).toEqual([]);
    // 18 · cos 60° = 9 mm on the first leg; 2 · 16 − 50 · cos 60° = 7 mm on the second.
    const first = cellAtPlace({ ...picture, grid }, 0.5, 9)!;
    const second = cellAtPlace({ ...picture, grid }, 2.5, 7)!;
    expect([first.leg, first.capture, second.leg, second.capture]).toEqual([1, 0, 2, 1]);
    expect(first.percent).toBeGreaterThan(50);
    expect(second.percent).toBeGreaterThan(70);
  });

  it('says why nothing can be drawn, and lays out nothing', async () => {
    const engine = coreEngine();
    await reviewOf(engine, [toImport('a.csv', at(0.5, 18, 60))]);
    const by = { ...asked.by, beam: null };
    const { problems, ...picture } = await engine.ask('depthImage', {
      ...asked,
      by,
      captures: ['a.csv#amplitude_pct'],
    });
    expect(problems.map(({ code }) => code)).toEqual(['depth-without-angle']);
    expect(picture.capture.every((one) => one === -1)).toBe(true);
  });

  it('moves its arrays to the page', () => {
    const image = {
      percent: new Float32Array(1),
      leg: new Uint8Array(1),
      capture: new Int32Array(1),
      sample: new Int32Array(1),
      problems: [],
    };
    expect(transfersOf('depthImage', image)).toHaveLength(4);
  });
});

describe('an evaluation in the worker', () => {
  async function sampleReview(engine: Engine): Promise<Review> {
    const opened = openReview('review.json', await (await sampleFile('review.json').read()).text());
    if (!opened.ok) throw new Error(JSON.stringify(opened.problems));
    const review = opened.value;
    const names = [...review.sources, ...review.manifests].map(({ file }) => file);
    const files = await Promise.all(
      names.map(async (file) => ({ file, content: await sampleFile(file).read(), recipe: freshRecipe })),
    );
    await engine.ask('import', { files });
    const order = review.sources.map(({ file }) => file);
    await engine.ask('sources', { order, changed: review.sources, manifests: review.manifests });
    return review;
  }

  it('is to the last digit that of the core over the same captures', async () => {
    const engine = coreEngine();
    const sources = [0, 1, 2, 3, 4].map((i) => ({
      name: `scan-${i}.csv`,
      text: burstText(20 + i / 10, 60 - 10 * Math.abs(i - 2)),
    }));
    const read = await reviewOf(
      engine,
      sources.map(({ name, text }) => toImport(name, text)),
    );
    const review: Review = {
      ...emptyReview,
      sources: read,
      echoes: { captures: ['scan-2.csv'], abovePercent: 5, fromUs: null, toUs: null },
      readings: {
        captures: read.map(({ file }) => file),
        gates: [{ name: 'root', span: { axis: 'time', fromUs: 15, toUs: 25 }, thresholdPercent: 10 }],
        timing: 'peak',
        beam: null,
        uAngleDeg: null,
        series: { offPeakDb: 1 },
      },
    };
    const captures = sources.flatMap(({ name, text }, i) => {
      const imported = importBytes(name, utf8.encode(text), freshRecipe, read[i]!.sha256);
      return imported.ok ? imported.value.captures : [];
    });
    const evaluation = await engine.ask('evaluate', { decisions: decisionsOf(review) });
    expect(evaluation).toEqual(evaluate(review, captures));
    expect(evaluation.readings?.readings.map(({ flags }) => flags.includes('off-peak'))).toEqual([
      true,
      true,
      false,
      true,
      true,
    ]);
  });

  it('is the same again from what was read before, and after a gate went away and came back', async () => {
    const engine = coreEngine();
    const review = await sampleReview(engine);
    const evaluated = (changed: Partial<Review> = {}) =>
      engine.ask('evaluate', { decisions: decisionsOf({ ...review, ...changed }) });
    const first = await evaluated();
    expect(first.problems).toEqual([]);
    const moved = await evaluated({
      readings: {
        ...review.readings!,
        gates: [{ name: 'root', span: { axis: 'path', fromMm: 24, toMm: 31 }, thresholdPercent: 20 }],
      },
    });
    expect(moved.readings).not.toEqual(first.readings);
    expect(moved.calibration).toEqual(first.calibration);
    expect(await evaluated()).toEqual(first);
  });

  it('says which files a step misses, and goes on with the others', async () => {
    const engine = coreEngine();
    const [there] = await reviewOf(engine, [toImport('there.csv', burstText(20, 60))]);
    const missing: SourceFile = { file: 'lost.csv', sha256: 'f'.repeat(64), recipe: freshRecipe, facts: [] };
    await engine.ask('sources', { order: ['there.csv', 'lost.csv'], changed: [missing], manifests: null });
    const review: Review = {
      ...emptyReview,
      sources: [there!, missing],
      echoes: { captures: ['there.csv', 'lost.csv#a'], abovePercent: 5, fromUs: null, toUs: null },
    };
    const evaluation = await engine.ask('evaluate', { decisions: decisionsOf(review) });
    expect(evaluation.echoes).toHaveLength(1);
    expect(evaluation.problems).toMatchObject([{ code: 'source-missing', place: { file: 'lost.csv' } }]);
  });

  it('reads one capture by a plan as the whole evaluation does', async () => {
    const engine = coreEngine();
    const review = await sampleReview(engine);
    const evaluation = await engine.ask('evaluate', { decisions: decisionsOf(review) });
    const calibration = evaluation.calibration?.calibration ?? null;
    const of = evaluation.readings?.readings[4];
    const one = await engine.ask('readOne', {
      capture: of!.captureId,
      plan: planForReadings(review, review.readings!, calibration),
    });
    expect(one.ok && one.value).toMatchObject([{ timeUs: of!.timeUs, soundPathMm: of!.soundPathMm, leg: of!.leg }]);
  });

  it('previews the calibration that an evaluation would give', async () => {
    const engine = coreEngine();
    const review = await sampleReview(engine);
    const evaluation = await engine.ask('evaluate', { decisions: decisionsOf(review) });
    if (review.calibration?.kind !== 'fit') throw new Error('the sample fits its calibration');
    const { conditioning, calibration: decision } = review;
    expect(await engine.ask('fitPreview', { decision, conditioning })).toEqual(evaluation.calibration);
  });

  it('answers a drawing that is asked for meanwhile, and stops where it is cancelled', async () => {
    const order: string[] = [];
    const engine = coreEngine();
    const files = Array.from({ length: 300 }, (_, i) => toImport(`scan-${i}.csv`, burstText(20, 40 + (i % 20))));
    const sources = await reviewOf(engine, files);
    const review: Review = {
      ...emptyReview,
      sources,
      echoes: { captures: sources.map(({ file }) => file), abovePercent: 5, fromUs: null, toUs: null },
    };
    const stop = new AbortController();
    const evaluated = engine
      .ask('evaluate', { decisions: decisionsOf(review) }, { signal: stop.signal })
      .then(() => order.push('evaluated'))
      .catch((error: unknown) => order.push(error instanceof Cancelled ? 'cancelled' : String(error)));
    const asked = { capture: 'scan-7.csv#amplitude_pct', conditioning: asCaptured, layers: ['samples'] as const };
    await engine.ask('draw', { ...asked, fromUs: 0, toUs: 10, columns: 100 });
    order.push('drawn');
    stop.abort();
    await evaluated;
    expect(order).toEqual(['drawn', 'cancelled']);
    const whole = await engine.ask('evaluate', { decisions: decisionsOf(review) });
    expect(whole.echoes).toHaveLength(300);
  });

  it('comes in pieces that are quick to take in', async () => {
    const told: Answer[] = [];
    const engine = coreEngine(undefined, (answer) => told.push(answer));
    const files = Array.from({ length: 600 }, (_, i) => toImport(`scan-${i}.csv`, spikeText(20, 0.1)));
    const read = await engine.ask('import', { files });
    expect(read).toHaveLength(600);
    const sizes = told.map((answer) => (answer.kind === 'piece' ? answer.items.length : 0));
    expect(Math.max(...sizes)).toBeLessThanOrEqual(250);
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBe(600);
  });

  it('gives the bytes of the review as they are saved', async () => {
    const engine = coreEngine();
    const review = await sampleReview(engine);
    const text = await engine.ask('reviewText', { decisions: decisionsOf(review) });
    expect(text).toBe(reviewText(review));
    expect(await engine.ask('openReview', { file: 'r.json', text })).toEqual({ ok: true, value: review, warnings: [] });
  });
});

describe('a drawing', () => {
  async function drawn(
    fromUs: number,
    toUs: number,
    columns: number,
    layers: ('samples' | 'rectified' | 'envelope')[],
  ) {
    const engine = coreEngine();
    await reviewOf(engine, [toImport('spike.csv', spikeText(4000, 30))]);
    const asked = { capture: 'spike.csv#amplitude_pct', conditioning: asCaptured, layers, fromUs, toUs, columns };
    const answer = await engine.ask('draw', asked);
    if (!answer.ok) throw new Error(JSON.stringify(answer.problems));
    return answer.value.layers;
  }
  const spans = (drawing: Drawing | undefined) => {
    if (drawing?.kind !== 'spans') throw new Error('columns were asked for');
    return drawing;
  };

  it('has columns where they hold samples, with the single-sample spike in its own column', async () => {
    const [layer] = await drawn(0, 39.99, 400, ['samples']);
    const drawing = spans(layer?.drawing);
    const highest = drawing.maxima.indexOf(90);
    expect(drawing.startUs + (highest + 0.5) * drawing.columnUs).toBeCloseTo(30, 1);
    expect([...drawing.maxima].filter((height) => height > 50)).toHaveLength(1);
    expect(layer?.extremaPercent).toEqual({ minimum: -0.5, maximum: 90 });
  });

  it('has the samples themselves where they lie further apart than columns, with one beside each edge', async () => {
    const [layer] = await drawn(29.985, 30.015, 400, ['samples']);
    if (layer?.drawing.kind !== 'samples') throw new Error('samples were asked for');
    expect([...layer.drawing.heights]).toEqual([0.5, -0.5, 90, -0.5, 0.5].slice(0, layer.drawing.heights.length));
    expect(layer.drawing.startUs).toBeCloseTo(29.98, 9);
  });

  it('has each layer that was asked for: rectified nowhere below 0, the envelope nowhere below the rectified spike', async () => {
    const layers = await drawn(0, 39.99, 400, ['envelope', 'rectified', 'samples']);
    expect(layers.map(({ layer }) => layer)).toEqual(['envelope', 'rectified', 'samples']);
    const [envelope, rectified, samples] = layers.map(({ drawing }) => spans(drawing));
    expect(Math.min(...rectified!.minima)).toBeGreaterThanOrEqual(0);
    expect(Math.min(...samples!.minima)).toBe(-0.5);
    expect(Math.max(...envelope!.maxima)).toBeGreaterThanOrEqual(90);
  });

  it('moves its arrays to the page', async () => {
    const [layer] = await drawn(0, 39.99, 400, ['samples']);
    const { minima, maxima } = spans(layer?.drawing);
    const answer = { ok: true, value: { layers: [layer] }, warnings: [] };
    expect(transfersOf('draw', answer)).toEqual([minima.buffer, maxima.buffer]);
    expect(transfersOf('evaluate', answer)).toEqual([]);
  });

  it('says why a capture cannot be conditioned, at the capture', async () => {
    const engine = coreEngine();
    await reviewOf(engine, [toImport('spike.csv', spikeText(4000, 30))]);
    const capture = 'spike.csv#amplitude_pct';
    const bandPass = { lowMHz: 10, highMHz: 90, order: 2 };
    const answer = await engine.ask('draw', {
      capture,
      conditioning: { ...asCaptured, bandPass },
      layers: ['samples'],
      fromUs: 0,
      toUs: 1,
      columns: 10,
    });
    expect(answer).toMatchObject({ ok: false, problems: [{ code: 'band-outside-range', place: { file: capture } }] });
  });

  it('of a capture that is not in the review is a mistake of ours', async () => {
    const asked = { capture: 'nothing', conditioning: asCaptured, layers: [], fromUs: 0, toUs: 1, columns: 10 };
    await expect(coreEngine().ask('draw', asked)).rejects.toThrow('not in the review');
  });

  it('goes with heights read between the samples, and none beside the record', async () => {
    const engine = coreEngine();
    await reviewOf(engine, [toImport('spike.csv', spikeText(4000, 30))]);
    const answer = await engine.ask('heights', {
      capture: 'spike.csv#amplitude_pct',
      conditioning: asCaptured,
      timesUs: [-1, 30, 30.005, 31, 39.99, 40],
    });
    if (!answer.ok) throw new Error(JSON.stringify(answer.problems));
    const [before, at, between, , last, after] = answer.value;
    expect([before, after]).toEqual([null, null]);
    expect(last).not.toBeNull();
    expect(between).toBeLessThan(at!);
    expect(between).toBeGreaterThan(0);
  });
});

describe('the picture of a series', () => {
  it('has every spike, in its column and its row, and no cell where there is no record', async () => {
    const engine = coreEngine();
    await reviewOf(engine, [
      toImport('a.csv', spikeText(1000, 2)),
      toImport('b.csv', spikeText(1000, 5)),
      toImport('c.csv', spikeText(1000, 8)),
    ]);
    const id = (file: string) => `${file}.csv#amplitude_pct`;
    const picture = await engine.ask('picture', {
      columns: [[id('a')], [], [id('b'), id('c')]],
      conditioning: asCaptured,
      layer: 'rectified',
      fromUs: 0,
      toUs: 20,
      rows: 20,
    });
    expect([picture.columns, picture.rows, picture.percent.length]).toEqual([3, 20, 60]);
    const high = [...picture.percent].flatMap((percent, i) => (percent > 50 ? [[Math.floor(i / 20), i % 20]] : []));
    // A spike on the edge between two rows shows in both.
    expect(high).toEqual([
      [0, 1],
      [0, 2],
      [2, 4],
      [2, 5],
      [2, 7],
      [2, 8],
    ]);
    const empty = (column: number) =>
      [...picture.percent.subarray(column * 20, (column + 1) * 20)].flatMap((p, row) => (Number.isNaN(p) ? [row] : []));
    expect(empty(0)).toEqual([10, 11, 12, 13, 14, 15, 16, 17, 18, 19]);
    expect(empty(1)).toHaveLength(20);
  });

  it('shows the troughs of the samples too where it is rectified', async () => {
    const engine = coreEngine();
    const rows = Array.from({ length: 100 }, (_, i) => `${(i / 100).toFixed(2)},${i === 50 ? -70 : 0}`);
    await reviewOf(engine, [toImport('a.csv', `# rectification: rf\ntime_us,amplitude_pct\n${rows.join('\n')}\n`)]);
    const { percent } = await engine.ask('picture', {
      columns: [['a.csv#amplitude_pct']],
      conditioning: asCaptured,
      layer: 'rectified',
      fromUs: 0,
      toUs: 1,
      rows: 1,
    });
    expect([...percent]).toEqual([70]);
  });

  it('tells the captures that could not be conditioned, and draws the others', async () => {
    const engine = coreEngine();
    await reviewOf(engine, [toImport('a.csv', spikeText(1000, 2)), toImport('short.csv', spikeText(5, 0.02))]);
    const picture = await engine.ask('picture', {
      columns: [['a.csv#amplitude_pct'], ['short.csv#amplitude_pct']],
      conditioning: asCaptured,
      layer: 'envelope',
      fromUs: 0,
      toUs: 10,
      rows: 5,
    });
    expect(picture.problems).toMatchObject([{ code: 'too-few-samples', place: { file: 'short.csv#amplitude_pct' } }]);
    expect(picture.percent[0]).toBeGreaterThan(0);
    expect(picture.percent[5]).toBeNaN();
  });
});

describe('the preview of an import', () => {
  it('shows lines, what is understood by the recipe tried, and the trace small, and changes nothing that is held', async () => {
    const engine = coreEngine();
    const text = 'shot one\nt,a\n0.00,1\n0.01,-20\n0.02,3\n0.03,60\n0.04,0\n0.05,1\n0.06,2\n0.07,1\n0.08,0\n';
    const [read] = await engine.ask('import', { files: [toImport('asks.csv', text)] });
    expect(read?.state).toBe('asking');
    const recipe = { ...freshRecipe, timeUnit: 'us', amplitudeUnit: 'percent', rectification: 'rf' } as const;
    const preview = await engine.ask('preview', {
      file: 'asks.csv',
      sha256: read!.sha256!,
      recipe,
      lines: 3,
      columns: 4,
    });
    expect(preview.source.state).toBe('ready');
    expect(preview.lines).toEqual(['shot one', 't,a', '0.00,1']);
    expect(Math.max(...preview.thumbnails[0]!.maxima)).toBe(60);
    expect(Math.min(...preview.thumbnails[0]!.minima)).toBe(-20);
    const source: SourceFile = { file: 'asks.csv', sha256: read!.sha256, recipe: freshRecipe, facts: [] };
    const known = await engine.ask('sources', { order: ['asks.csv'], changed: [source], manifests: null });
    expect(known.sources[0]?.state).toBe('asking');
  });
});
