import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { builtProgram, runNode } from './run-program.ts';
import { type Failed, failures } from './work.ts';

const folder = mkdtempSync(join(tmpdir(), 'disk-errors-'));
const place = join(folder, 'place');
let program: Awaited<ReturnType<typeof builtProgram>>;
let all: readonly Failed[] = [];

beforeAll(async () => {
  program = await builtProgram();
  for (const path of [place, join(folder, 'profile')]) mkdirSync(path);
  const { out, err } = await runNode(program.path, ['failing', place, join(folder, 'profile')], { within: place });
  expect(err).toBe('');
  const lines = out.trimEnd().split('\n');
  expect(lines.pop()).toBe('done');
  all = lines.map((line) => JSON.parse(line) as Failed);
}, 120_000);
afterAll(() => {
  program.remove();
  rmSync(folder, { recursive: true, force: true });
});

const told = ({ work, code, call, said, stands, stray }: Failed) =>
  `${work}, ${code} at ${call}: "${said}", ${stands} stands, beside it ${stray.join() || 'nothing'}`;
const wrong = (isWrong: (failed: Failed) => boolean) => all.filter(isWrong).map(told);

/** The folder is taken through to the disk after the file stands in it. */
const isAfterPlacing = ({ call }: Failed) => /^(sync|close) place$/.test(call);

describe('a disk that fails at any one call of a write', () => {
  it('was tried at each of them', () => {
    expect(all.length).toBeGreaterThan(200);
    const calls = new Set(all.map(({ call }) => call.split(' ')[0]));
    expect([...calls].sort()).toEqual(
      expect.arrayContaining(['close', 'open', 'readFile', 'realpath', 'rename', 'stat', 'sync', 'write']),
    );
    expect(new Set(all.map(({ work }) => work))).toEqual(new Set(failures.map(({ work }) => work)));
  });

  it('leaves the old bytes or the new ones, whole', () => {
    expect(wrong(({ stands }) => stands === 'neither')).toEqual([]);
  });

  it('is told where nothing was written, and where something was nothing is told', () => {
    expect(wrong(({ said, stands }) => stands === 'old' && said === null)).toEqual([]);
    expect(wrong((failed) => failed.stands === 'new' && failed.said !== null && !isAfterPlacing(failed))).toEqual([]);
    expect(all.filter(isAfterPlacing).every(({ stands }) => stands === 'new')).toBe(true);
  });

  it('is told in one sentence with the file’s name and what to do, without paths and the system’s words', () => {
    const sentence = /^\S+\.(json|csv|zip) (cannot be written|can no longer be read): [^;.]+(; [^;.]+)?\.$/;
    const ofDraft =
      /^What is not saved yet could not be kept safe \([^()]+\)\. Save the review now, so that nothing is lost\.$/;
    const isSentence = ({ work, said }: Failed) => said === null || (work === 'draft' ? ofDraft : sentence).test(said);
    expect(wrong((failed) => !isSentence(failed))).toEqual([]);
    expect(wrong(({ said }) => /\bE[A-Z]{3,}\b|[/\\]|the system says/.test(said ?? ''))).toEqual([]);
  });

  it('leaves nothing beside the file', () => {
    expect(wrong(({ stray }) => stray.length > 0)).toEqual([]);
  });
});

describe('a file that another program holds', () => {
  it('for a moment is waited for', () => {
    const held = all.filter(({ call, code }) => call === 'rename review.json' && /^E(BUSY|PERM|ACCES)$/.test(code));
    const passing = held.filter(({ said }) => said === null);
    expect(new Set(passing.map(({ code }) => code))).toEqual(new Set(['EBUSY', 'EPERM', 'EACCES']));
    expect(passing.every(({ stands }) => stands === 'new')).toBe(true);
  });

  it.each([
    ['EBUSY', 'review.json cannot be written: another program holds it; close it there, then try again.'],
    [
      'EPERM',
      'review.json cannot be written: it may not be written there, or another program holds it; close it there, or choose another place.',
    ],
  ])('for good is told (%s)', (code, said) => {
    const held = all.filter((one) => one.code === code && one.call === 'rename review.json' && one.said !== null);
    expect(held).toEqual([expect.objectContaining({ said, stands: 'old', stray: [] })]);
  });
});

it('a disk that knows no links takes a new file all the same', () => {
  expect(all.filter(({ call }) => call === 'link report.html')).toEqual([
    expect.objectContaining({ said: null, stands: 'new', stray: [] }),
  ]);
});
