import { describe, expect, it } from 'vitest';
import { engineOver, type Line } from '../../../renderer/engine/engine.ts';
import type { Request } from '../../../renderer/engine/messages.ts';
import { newestWins } from '../../../renderer/engine/newest-wins.ts';
import { Cancelled } from '../../../renderer/engine/pauses.ts';

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
  const nothing = { file: 'a.json', text: '' };

  it('gives each answer to whoever asked, in whatever order they come', async () => {
    const { engine, sent, answer } = held();
    const [first, second] = [engine.ask('openReview', nothing), engine.ask('openReview', nothing)];
    answer({ id: sent[1]?.id, kind: 'done', answer: 'second' });
    answer({ id: sent[0]?.id, kind: 'done', answer: 'first' });
    expect([await first, await second]).toEqual(['first', 'second']);
  });

  it('ignores an answer that nobody waits for', () => {
    const { answer } = held();
    expect(() => answer({ id: 77, kind: 'done', answer: null })).not.toThrow();
  });

  it('puts the pieces of a long answer back in their order', async () => {
    const { engine, sent, answer } = held();
    const asked = engine.ask('import', { files: [] });
    const id = sent[0]?.id;
    answer({ id, kind: 'piece', list: 'sources', items: ['a', 'b'] });
    answer({ id, kind: 'piece', list: 'sources', items: ['c'] });
    answer({ id, kind: 'done', answer: [] });
    expect(await asked).toEqual(['a', 'b', 'c']);
  });

  it('tells the progress while it waits, and not after', async () => {
    const { engine, sent, answer } = held();
    const told: number[] = [];
    const asked = engine.ask('import', { files: [] }, { onProgress: ({ done }) => told.push(done) });
    const id = sent[0]?.id;
    answer({ id, kind: 'progress', progress: { done: 3, total: 9 } });
    answer({ id, kind: 'done', answer: [] });
    answer({ id, kind: 'progress', progress: { done: 9, total: 9 } });
    await asked;
    expect(told).toEqual([3]);
  });

  it('stops the worker and rejects where the signal is given; an answer that comes all the same is not heard', async () => {
    const { engine, sent, answer } = held();
    const stop = new AbortController();
    const asked = engine.ask('import', { files: [] }, { signal: stop.signal });
    stop.abort();
    answer({ id: sent[0]?.id, kind: 'done', answer: [] });
    await expect(asked).rejects.toThrow(Cancelled);
    expect(sent[1]).toEqual({ id: sent[0]?.id, call: 'cancel' });
  });

  it('asks nothing where the signal was given before', async () => {
    const { engine, sent } = held();
    await expect(engine.ask('import', { files: [] }, { signal: AbortSignal.abort() })).rejects.toThrow(Cancelled);
    expect(sent).toEqual([]);
  });

  it('rejects with the worker’s own words where it made a mistake', async () => {
    const { engine, sent, answer } = held();
    const asked = engine.ask('openReview', nothing);
    answer({ id: sent[0]?.id, kind: 'mistake', mistake: 'This should not happen: no capture' });
    await expect(asked).rejects.toThrow('no capture');
  });

  it('rejects all who wait when the worker stops', async () => {
    const { engine, fail } = held();
    const asked = engine.ask('openReview', nothing);
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
