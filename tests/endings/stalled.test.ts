import { execFileSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { codeOf } from '../../electron/disk/disk-words.ts';
import { driveAsked, silentAfterMs } from '../../electron/disk/drive.ts';
import { drafts } from '../../electron/drafts.ts';
import { files } from '../../electron/files.ts';
import { tokens } from '../../electron/tokens.ts';
import type { HostFile } from '../../renderer/host/host.ts';
import { createWorkbench } from '../../renderer/state/workbench.ts';
import { coreEngine } from '../build/engine.ts';
import { hostFile, hostInMemory } from '../build/host.ts';
import { draftId, draftOf } from './work.ts';

afterEach(() => void vi.useRealTimers());

/** A question that is answered when the test says so. */
function question() {
  let answer: (value: string) => void = () => {};
  const asked = vi.fn(() => new Promise<string>((resolve) => (answer = resolve)));
  return { asked, answer: (value: string) => answer(value) };
}

describe('a drive that is asked', () => {
  it('is asked so many things at once, and the next as one is answered', async () => {
    const ask = driveAsked(2);
    const [a, b, c] = [question(), question(), question()];
    const all = Promise.all([ask(a.asked), ask(b.asked), ask(c.asked)]);
    expect(c.asked).not.toHaveBeenCalled();
    a.answer('a');
    await vi.waitFor(() => expect(c.asked).toHaveBeenCalled());
    b.answer('b');
    c.answer('c');
    expect(await all).toEqual(['a', 'b', 'c']);
  });

  it('and gives nothing for a minute is said not to answer, to all who wait, and to those who ask next at once; then it is asked again', async () => {
    vi.useFakeTimers();
    const ask = driveAsked(2);
    const [a, b, c, d, e] = [question(), question(), question(), question(), question()];
    const refused = async (asking: Promise<string>) => asking.catch(codeOf);
    const waiting = [a, b, c].map(({ asked }) => refused(ask(asked)));
    await vi.advanceTimersByTimeAsync(silentAfterMs - 1);
    expect(await Promise.race([...waiting, Promise.resolve('still waiting')])).toBe('still waiting');
    await vi.advanceTimersByTimeAsync(1);
    expect(await Promise.all(waiting)).toEqual(['SILENT', 'SILENT', 'SILENT']);
    expect(await refused(ask(d.asked))).toBe('SILENT');
    expect([c.asked, d.asked].map((asked) => asked.mock.calls.length)).toEqual([0, 0]);
    // It comes back.
    a.answer('late');
    await vi.advanceTimersByTimeAsync(0);
    const again = ask(e.asked);
    e.answer('there');
    expect(await again).toBe('there');
  });

  it('and fails, fails for the one who asked', async () => {
    const ask = driveAsked(1);
    await expect(ask(async () => Promise.reject(new Error('gone')))).rejects.toThrow('gone');
    expect(await ask(async () => 'there')).toBe('there');
  });
});

describe('files on a drive that stalls', () => {
  it('do not keep the draft from being kept', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'stalled-'));
    const store = tokens();
    // To open a pipe that nobody writes to holds a thread, as a network drive that is gone does.
    const pipes = Array.from({ length: 8 }, (_, i) => join(folder, `${i}.csv`));
    for (const pipe of pipes) execFileSync('mkfifo', [pipe]);
    const person = files(store);
    const reads = pipes.map((pipe) => person.readPart(store.tokenOf(pipe), 0, 10).catch(() => null));
    const own = drafts(join(folder, 'profile'));
    await own.keep(draftId, draftOf('work'));
    expect((await own.read(draftId))?.text).toBe('work');
    // Let go of the threads: whoever reads finds an end.
    const writers = pipes.map((pipe) => openSync(pipe, 'r+'));
    await new Promise((resolve) => setTimeout(resolve, 50));
    for (const writer of writers) closeSync(writer);
    await Promise.all(reads);
    rmSync(folder, { recursive: true });
  }, 10_000);
});

describe('an import of which a file does not come', () => {
  const trace = `# rectification: rf\ntime_us,amplitude_pct\n${Array.from({ length: 40 }, (_, i) => `${(i / 50).toFixed(2)},${(i * 7) % 5}`).join('\n')}\n`;
  const stalled: HostFile = { name: 'stalled.csv', bytes: 100, read: () => new Promise(() => {}) };

  it('says how far it is, lets the person work on, and can be broken off: what was read until then stays', async () => {
    const store = createWorkbench(hostInMemory(), coreEngine());
    const { actions } = store.getState();
    // As many as go to the worker at once come before it.
    const others = Array.from({ length: 24 }, (_, i) => hostFile(`capture-${i}.csv`, trace.replace(',0\n', `,${i}\n`)));
    const adding = actions.addFiles([...others, stalled]);
    await vi.waitFor(() => expect(store.getState().importing).toMatchObject({ done: 24, total: 25 }));
    expect(actions.edit({ kind: 'set-title', title: 'Meanwhile' })).toEqual([]);
    expect(store.getState().review.title).toBe('Meanwhile');
    actions.cancelImport();
    await adding;
    expect(store.getState().importing).toBeNull();
    await vi.waitFor(() => expect(store.getState().captures.size).toBe(24));
    // And others can be read.
    await actions.addFiles([hostFile('later.csv', trace.replace(',0\n', ',99\n'))]);
    await vi.waitFor(() => expect(store.getState().captures.size).toBe(25));
  });
});
