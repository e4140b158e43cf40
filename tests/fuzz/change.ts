import type { Chance } from './chance.ts';
import { edgeNumbers, edgeWords } from './edges.ts';

/** Longer inputs are not made by changes: long ones have their own table. */
export const longestChanged = 64 * 1024;

type Change = (bytes: Uint8Array, other: Uint8Array, chance: Chance) => Uint8Array;

/** Bytes with a few things changed, of those that a copy, an editor, another program or a person with bad intent changes. */
export function changed(bytes: Uint8Array, other: Uint8Array, chance: Chance, own: readonly Change[] = []): Uint8Array {
  let result = bytes;
  for (let times = 1 + chance.small(9); times > 0; times--) {
    const change = own.length > 0 && chance.oneIn(2) ? chance.pick(own) : chance.pick(onBytes);
    result = change(result, other, chance);
  }
  return result.length > longestChanged ? result.subarray(0, longestChanged) : result;
}

export function spliced(bytes: Uint8Array, from: number, to: number, between: Uint8Array): Uint8Array {
  const whole = new Uint8Array(from + between.length + Math.max(0, bytes.length - to));
  whole.set(bytes.subarray(0, from));
  whole.set(between, from);
  whole.set(bytes.subarray(to), from + between.length);
  return whole;
}

const text = (words: string) => new TextEncoder().encode(words);
const oddBytes = [0x00, 0x0a, 0x0d, 0x22, 0x2c, 0x2e, 0x3b, 0x09, 0x20, 0x23, 0x2d, 0x65, 0x7f, 0x80, 0xa0, 0xb5, 0xff];

const onBytes: readonly Change[] = [
  (bytes, _other, chance) => {
    if (bytes.length === 0) return bytes;
    const copy = bytes.slice();
    copy[chance.below(copy.length)] = chance.oneIn(2) ? chance.pick(oddBytes) : chance.below(256);
    return copy;
  },
  (bytes, _other, chance) => {
    if (bytes.length === 0) return bytes;
    const copy = bytes.slice();
    copy[chance.below(copy.length)] ^= 1 << chance.below(8);
    return copy;
  },
  (bytes, _other, chance) => {
    const at = chance.below(bytes.length + 1);
    return spliced(bytes, at, at, Uint8Array.of(chance.pick(oddBytes)));
  },
  (bytes, _other, chance) => {
    const at = chance.below(bytes.length + 1);
    return spliced(bytes, at, Math.min(bytes.length, at + 1 + chance.small(200)), new Uint8Array(0));
  },
  (bytes, _other, chance) => bytes.subarray(0, chance.below(bytes.length + 1)),
  (bytes, _other, chance) => {
    const at = chance.below(bytes.length + 1);
    const end = Math.min(bytes.length, at + 1 + chance.small(200));
    return spliced(bytes, end, end, bytes.subarray(at, end));
  },
  (bytes, other, chance) => {
    const at = chance.below(bytes.length + 1);
    const from = chance.below(other.length + 1);
    return spliced(bytes, at, at, other.subarray(from, from + 1 + chance.small(400)));
  },
  (bytes, other, chance) => {
    const at = chance.below(bytes.length + 1);
    return spliced(bytes, at, bytes.length, other.subarray(Math.min(other.length, at)));
  },
  (bytes, _other, chance) => {
    const at = chance.below(bytes.length + 1);
    return spliced(bytes, at, at, text(chance.pick(edgeNumbers)));
  },
  (bytes, _other, chance) => {
    const at = chance.below(bytes.length + 1);
    return spliced(bytes, at, at, text(chance.pick(edgeWords)));
  },
];
