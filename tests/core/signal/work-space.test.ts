import { describe, expect, it } from 'vitest';
import { WorkSpace } from '../../../core/signal/work-space.ts';

describe('a work space', () => {
  it.each([0, 1, 1000, (1 << 20) + 1])('hands out %d values', (length) => {
    expect(new WorkSpace().take(length)).toHaveLength(length);
  });

  it('hands out the same memory again, whatever the length, and more where more is needed', () => {
    const space = new WorkSpace();
    const first = space.take(100);
    expect(space.take(50).buffer).toBe(first.buffer);
    expect(space.take(100).buffer).toBe(first.buffer);
    expect(space.take(101)).toHaveLength(101);
    expect(space.take(101).buffer).not.toBe(first.buffer);
  });

  it('does not keep the memory of a very long record', () => {
    const space = new WorkSpace();
    const length = (1 << 20) + 1;
    expect(space.take(length).buffer).not.toBe(space.take(length).buffer);
  });
});
