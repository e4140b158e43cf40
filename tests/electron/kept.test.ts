import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as v from 'valibot';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { kept } from '../../electron/kept.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'kept-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

const schema = v.strictObject({ count: v.number() });

describe('a document of the program’s own', () => {
  it('is what was written last, whatever order the writes would have ended in', async () => {
    const document = kept(join(folder, 'deep/er/it.json'), schema, { count: 0 });
    await Promise.all(Array.from({ length: 20 }, (_, count) => document.write({ count })));
    expect(await document.read()).toEqual({ count: 19 });
    expect(readdirSync(join(folder, 'deep/er'))).toEqual(['it.json']);
  });

  it.each([
    ['that is not there', null],
    ['that is empty', ''],
    ['that was cut off', '{"count": 3'],
    ['of another shape', '{"count": "three"}'],
    ['with more in it', '{"count": 3, "more": 1}'],
    ['that is a list', '[3]'],
  ])('reads one %s as it was at first', async (_name, text) => {
    const path = join(folder, 'it.json');
    if (text !== null) writeFileSync(path, text);
    expect(await kept(path, schema, { count: 7 }).read()).toEqual({ count: 7 });
  });

  it('goes on after a write that could not be made', async () => {
    const document = kept(join(folder, 'it.json'), schema, { count: 0 });
    await expect(document.write({ count: 'many' } as never)).rejects.toThrow();
    await document.write({ count: 2 });
    expect(await document.read()).toEqual({ count: 2 });
  });
});
