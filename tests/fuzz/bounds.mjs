import { buildFuzz } from './build.mjs';

/** What reading an input may take: a room that any takes, and so many times its length. */
export function mostMemoryBytes(inputBytes) {
  return 128 * 2 ** 20 + 300 * inputBytes;
}

/** @returns the program that reads the table of inputs made to be too much, `node --expose-gc PROGRAM LENGTH` */
export function tooMuch() {
  return buildFuzz('too-much');
}
