import { closeSync, fstatSync, openSync, readSync } from 'node:fs';

/** Some program wrote to a file while it was read: what was read may be a part of the old one and a part of the new one. */
export class ChangedWhileRead extends Error {
  constructor() {
    super('the file was written to while it was read');
  }
}

/**
 * A file part by part, each as long as the buffer but the last, and valid until the next. A pipe gives less at a time: it is asked until the buffer is full or
 * nothing more comes. After the last part throws `ChangedWhileRead` where the file is no longer what it was at the first.
 */
export function* partsOf(path: string, buffer: Uint8Array): Generator<Uint8Array> {
  const file = openSync(path, 'r');
  try {
    const before = stateOf(file);
    for (let length = buffer.length; length === buffer.length; ) {
      length = fill(file, buffer);
      if (length > 0) yield buffer.subarray(0, length);
    }
    if (stateOf(file) !== before) throw new ChangedWhileRead();
  } finally {
    closeSync(file);
  }
}

const partBytes = 1 << 22;

/** The same with a buffer of its own. */
export function partsOfFile(path: string): Generator<Uint8Array> {
  return partsOf(path, new Uint8Array(partBytes));
}

/** A file that is known to be small. */
export function wholeFile(path: string): Buffer {
  return Buffer.concat(Array.from(partsOf(path, new Uint8Array(1 << 16)), (part) => Uint8Array.from(part)));
}

function fill(file: number, buffer: Uint8Array): number {
  let filled = 0;
  for (let length = 1; length > 0 && filled < buffer.length; filled += length)
    length = readSync(file, buffer, filled, buffer.length - filled, null);
  return filled;
}

/** What is no file (a pipe) changes by being read, and has nothing that could be compared. */
function stateOf(file: number): string | null {
  const found = fstatSync(file, { bigint: true });
  return found.isFile() ? `${found.size} ${found.mtimeNs}` : null;
}
