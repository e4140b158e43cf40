import { describe, expect, it } from 'vitest';
import type { Counted } from './window/counts.mjs';
import { judge } from './window/judge.mjs';

const steady: Counted = {
  heapMb: 18,
  arraysMb: 1.6,
  workerMb: 23,
  workerArraysMb: 5.6,
  nodes: 1600,
  documents: 1,
  listeners: 500,
  urls: 0,
  timers: 1,
  workers: 1,
  observers: 1,
  kept: 0,
};

/** Sixteen blocks; `change` says what is otherwise after each. */
const day = (change: (block: number) => Partial<Counted>) =>
  judge(Array.from({ length: 16 }, (_, block) => ({ ...steady, ...change(block) })));

describe('a long day', () => {
  it.each<[string, (block: number) => Partial<Counted>]>([
    ['a listener is left behind by every block', (block) => ({ listeners: 500 + block })],
    ['a second worker is there in the afternoon', (block) => ({ workers: block > 10 ? 2 : 1 })],
    ['an address of a download is never let go of', (block) => ({ urls: block >> 1 })],
    ['what was closed stays in the page', (block) => ({ nodes: 1600 + 500 * block })],
    ['the page holds half a megabyte more after each block', (block) => ({ heapMb: 18 + 0.5 * block })],
    ['the worker keeps records of reviews that were closed', (block) => ({ workerArraysMb: 5.6 + 0.1 * block })],
    ['a draft stays in the browser', (block) => ({ kept: block > 12 ? 1 : 0 })],
  ])('is not held where %s', (_, change) => {
    expect(day(change).faults).toHaveLength(1);
  });

  it.each<[string, (block: number) => Partial<Counted>]>([
    ['nothing changes', () => ({})],
    ['the morning loads what it needs', (block) => ({ heapMb: 18 - 6 / (1 + block), nodes: block < 3 ? 120 : 1600 })],
    ['memory goes up and down', (block) => ({ heapMb: block % 2 === 0 ? 17.8 : 18.2 })],
  ])('is held where %s', (_, change) => {
    expect(day(change).faults).toEqual([]);
  });

  it('of too few blocks says nothing', () => {
    expect(judge([steady, steady, steady]).faults[0]).toMatch(/^Too few blocks/);
  });
});
