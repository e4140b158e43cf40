import { describe, expect, it } from 'vitest';
import { bitsOfFunctions, bitsOfRecords } from './bits.ts';
import { commandLine, differing, expectedBits, hashesOf, listed, names, places } from './outputs.mjs';

/*
 * The command line as a process of its own on the Node that is here, against the list to which every Node is held: all of
 * them in every place and on any number of threads with `npm run endure -- nodes`. Where results are meant to have
 * changed, `npm run endure -- nodes --renew` writes the list anew.
 */
const cli = commandLine();
const expected = listed();

/** Every Node and Chromium is held to these (`npm run endure -- nodes`, `tests/browser/same-bytes.spec.ts`). */
describe('the same bits before anything is rounded', () => {
  it('of sines, logarithms, powers and their kin', () => {
    expect(bitsOfFunctions()).toBe(expectedBits[0]);
  });
  it('of conditioned records and the times of their echoes', () => {
    expect(bitsOfRecords()).toBe(expectedBits[1]);
  });
});

describe('the same review gives the same bytes', () => {
  it('the list has all outputs, and no two of them are alike', () => {
    expect(Object.keys(expected)).toEqual(names);
    expect(new Set(Object.values(expected)).size).toBe(names.length);
  });

  it.each([
    {
      place: places[1],
      only: ['evaluate review.json', 'report probes/review.json', 'package instruments/review.json'],
    },
    { place: places[2], only: ['report review.json', 'evaluate instruments/review.json', 'probe, as CSV'] },
  ])('in $place.TZ, where people write $place.LC_ALL: $only', ({ place, only }) => {
    const hashes = hashesOf(process.execPath, cli, { env: place, only });
    expect(Object.keys(hashes)).toHaveLength(only.length);
    expect(differing(hashes, expected)).toEqual([]);
  });

  it('on three threads', () => {
    const hashes = hashesOf(process.execPath, cli, { jobs: 3, only: ['read', 'indications, as CSV', 'probe, as CSV'] });
    expect(Object.keys(hashes)).toHaveLength(3);
    expect(differing(hashes, expected)).toEqual([]);
  });

  it('a list with another hash is found to differ', () => {
    const [first] = names;
    expect(differing(expected, { ...expected, [first]: '0' })).toEqual([first]);
  });
});
