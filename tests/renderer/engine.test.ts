import { describe, expect, it } from 'vitest';
import { answering, transfers } from '../../renderer/engine/answering.ts';
import { type Engine, engineOver, type Line } from '../../renderer/engine/engine.ts';
import type { Answer, Drawing, OpenedFile, Request } from '../../renderer/engine/messages.ts';
import { newestWins } from '../../renderer/engine/newest-wins.ts';
import type { Host } from '../../renderer/host/host.ts';
import { openSample } from '../../renderer/state/opening.ts';

const utf8 = new TextEncoder();

/** Silence with one sample of 90 % at `spikeUs`; 100 MHz. */
function spikeFile(sampleCount: number, spikeUs: number): Uint8Array<ArrayBuffer> {
  const rows = Array.from(
    { length: sampleCount },
    (_, i) => `${(i / 100).toFixed(2)},${i === spikeUs * 100 ? 90 : i % 2 === 0 ? 0.5 : -0.5}`,
  );
  return utf8.encode(`# rectification: rf\ntime_us,amplitude_pct\n${rows.join('\n')}\n`);
}

/** The engine over the core itself, without a worker between them. */
function coreEngine(): Engine {
  const answer = answering();
  let hear: (event: { data: Answer }) => void = () => {};
  return engineOver({
    postMessage: (request) => queueMicrotask(() => hear({ data: answer(request) })),
    addEventListener: (type: 'message' | 'error', listener: (event: never) => void) => {
      if (type === 'message') hear = listener as typeof hear;
    },
  });
}

describe('the core behind the engine', () => {
  it('opens a file, keeps its samples and tells its facts', async () => {
    const opened = await coreEngine().ask('open', { file: 'spike.csv', bytes: spikeFile(4000, 30) });
    expect(opened.ok && opened.value.traces).toMatchObject([
      { file: 'spike.csv', sampleCount: 4000, rectification: 'rf', extremaPercent: { minimum: -0.5, maximum: 90 } },
    ]);
    const facts = (opened as { value: OpenedFile }).value.traces[0]!;
    expect(facts.startUs).toBe(0);
    expect(facts.stepUs).toBeCloseTo(0.01, 12);
  });

  it('draws columns where they hold samples, with the single-sample spike in its own column', async () => {
    const drawing = await drawn(0, 39.99, 400);
    expect(drawing.kind).toBe('spans');
    if (drawing.kind !== 'spans') return;
    const highest = drawing.maxima.indexOf(90);
    expect(drawing.startUs + (highest + 0.5) * drawing.columnUs).toBeCloseTo(30, 1);
    expect([...drawing.maxima].filter((height) => height > 50)).toHaveLength(1);
  });

  it('draws the samples themselves where they lie further apart than columns, with one beside each edge', async () => {
    const drawing = await drawn(29.985, 30.015, 400);
    expect(drawing.kind).toBe('samples');
    if (drawing.kind !== 'samples') return;
    expect([...drawing.heights]).toEqual([0.5, -0.5, 90, -0.5, 0.5].slice(0, drawing.heights.length));
    expect(drawing.startUs).toBeCloseTo(29.98, 9);
  });

  it('moves the arrays of a drawing to the page and copies nothing else', async () => {
    const drawing = await drawn(0, 39.99, 400);
    if (drawing.kind !== 'spans') throw new Error('columns were asked for');
    expect(transfers({ id: 1, ok: true, answer: drawing })).toEqual([drawing.minima.buffer, drawing.maxima.buffer]);
    expect(transfers({ id: 1, ok: false, mistake: 'none' })).toEqual([]);
  });

  it('rejects a drawing of a capture that was never opened: a mistake of ours', async () => {
    const asked = coreEngine().ask('draw', { capture: 'nothing', fromUs: 0, toUs: 1, columns: 10 });
    await expect(asked).rejects.toThrow('never opened');
  });

  async function drawn(fromUs: number, toUs: number, columns: number): Promise<Drawing> {
    const engine = coreEngine();
    const opened = await engine.ask('open', { file: 'spike.csv', bytes: spikeFile(4000, 30) });
    if (!opened.ok) throw new Error(JSON.stringify(opened.problems));
    return engine.ask('draw', { capture: opened.value.traces[0]!.id, fromUs, toUs, columns });
  }
});

const hostWith = (openSample: Host['openSample']): Host => ({ openSample, about: async () => ({ version: '1.2.3' }) });

describe('openSample', () => {
  const opened = (bytes: Uint8Array<ArrayBuffer>) =>
    openSample(
      hostWith(async (name) => ({ name, bytes })),
      coreEngine(),
      'a.csv',
    );
  const text = (content: string) => opened(utf8.encode(content));

  it('opens a trace', async () => {
    const opening = await opened(spikeFile(100, 0.5));
    expect(opening.phase).toBe('open');
  });

  it('refuses a broken file at its line', async () => {
    const opening = await text('# rectification: rf\ntime_us,amplitude_pct\n0.00,1\n0.01\n0.02,3\n0.03,4\n');
    expect(opening).toMatchObject({ phase: 'refused', problems: [{ place: { file: 'a.csv', line: 4 } }] });
  });

  it('says what must be told of a file without units', async () => {
    const opening = await text('t,a\n0.00,1\n0.01,2\n0.02,3\n0.03,-4\n');
    expect(opening.phase).toBe('unanswered');
    expect(opening.phase === 'unanswered' && opening.asks.length).toBeGreaterThan(0);
  });

  it('says so when the host has no such file', async () => {
    const opening = await openSample(
      hostWith(() => Promise.reject(new Error('The sample capture is not there.'))),
      coreEngine(),
      'a.csv',
    );
    expect(opening).toMatchObject({ phase: 'refused', problems: [{ sentence: 'The sample capture is not there.' }] });
  });
});

describe('engineOver', () => {
  function held() {
    const sent: Request[] = [];
    const heard: Record<string, (event: never) => void> = {};
    const line: Line = {
      postMessage: (request) => sent.push(request),
      addEventListener: (type: string, listener: (event: never) => void) => {
        heard[type] = listener;
      },
    };
    return {
      engine: engineOver(line),
      sent,
      answer: (data: unknown) => heard.message?.({ data } as never),
      fail: () => heard.error?.({ message: 'out of memory' } as never),
    };
  }
  const nothing = { file: 'a.csv', bytes: new Uint8Array() };

  it('gives each answer to whoever asked, in whatever order they come', async () => {
    const { engine, sent, answer } = held();
    const [first, second] = [engine.ask('open', nothing), engine.ask('open', nothing)];
    answer({ id: sent[1]?.id, ok: true, answer: 'second' });
    answer({ id: sent[0]?.id, ok: true, answer: 'first' });
    expect([await first, await second]).toEqual(['first', 'second']);
  });

  it('ignores an answer that nobody waits for', () => {
    const { answer } = held();
    expect(() => answer({ id: 77, ok: true, answer: null })).not.toThrow();
  });

  it('rejects all who wait when the worker stops', async () => {
    const { engine, fail } = held();
    const asked = engine.ask('open', nothing);
    fail();
    await expect(asked).rejects.toThrow('out of memory');
  });
});

describe('newestWins', () => {
  it('runs the first and the newest of those that came meanwhile, in order', async () => {
    const ran: string[] = [];
    const submit = newestWins(() => {});
    let finish = () => {};
    submit(() => {
      ran.push('first');
      return new Promise((resolve) => {
        finish = resolve;
      });
    });
    for (const name of ['passed over', 'also passed over', 'newest']) submit(async () => void ran.push(name));
    expect(ran).toEqual(['first']);
    finish();
    await new Promise((resolve) => setImmediate(resolve));
    expect(ran).toEqual(['first', 'newest']);
  });

  it('goes on after a task that failed', async () => {
    const ran: string[] = [];
    const failures: unknown[] = [];
    const submit = newestWins((error) => failures.push(error));
    submit(() => Promise.reject(new Error('no drawing')));
    submit(async () => void ran.push('next'));
    await new Promise((resolve) => setImmediate(resolve));
    expect(ran).toEqual(['next']);
    expect(failures).toHaveLength(1);
  });
});
