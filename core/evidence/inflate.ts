import { Inflate } from 'fflate';

/** So few compressed bytes at a time that what comes of them stays below 17 MB, for deflate can make at most 1032 bytes of one. */
const partBytes = 1 << 14;

/**
 * Expands deflated bytes part by part. `take` may refuse to go on by giving false; no more is then expanded.
 * @returns whether the data came to a proper end
 */
export function inflateParts(
  compressed: (from: number, length: number) => Uint8Array,
  size: number,
  take: (part: Uint8Array) => boolean,
): boolean {
  let goesOn = true;
  let ended = false;
  const inflate = new Inflate((part, final) => {
    if (goesOn && part.length > 0) goesOn = take(part);
    ended = final;
  });
  try {
    for (let from = 0; from < size && goesOn; from += partBytes) {
      const length = Math.min(partBytes, size - from);
      inflate.push(compressed(from, length), from + length === size);
    }
    return ended && goesOn;
  } catch {
    return false;
  }
}
