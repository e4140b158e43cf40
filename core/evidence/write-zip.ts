import { Zip, ZipDeflate } from 'fflate';

/** Takes the bytes of a ZIP file as they are made. */
export type Put = (bytes: Uint8Array) => void;

export interface ZipWriter {
  /** Adds a file whose bytes `fill` gives part by part. Names are the caller's business: see `packedNames`. */
  add(name: string, fill: (take: (part: Uint8Array) => void) => void): void;
  finish(): void;
}

/** Every entry bears the first noon that ZIP can name, in local time as ZIP has it: a package holds no clock. */
const fixedTime = '1980-01-01T12:00:00';
/** So much is compressed at a time, however the bytes come in: the same bytes then give the same file, and memory stays small. */
const partBytes = 1 << 18;

/**
 * Writes a ZIP file entry by entry (deflate, sizes behind the data): the same names and bytes in the same order give the same file. It knows no files of 4 GiB and more.
 * Source: PKWARE APPNOTE 6.3.
 */
export function zipWriter(put: Put): ZipWriter {
  const zip = new Zip((error, bytes) => {
    if (error) throw error;
    put(bytes);
  });
  return {
    add(name, fill) {
      const entry = new ZipDeflate(name, { level: 6 });
      entry.mtime = fixedTime;
      zip.add(entry);
      let waiting = new Uint8Array(partBytes);
      let filled = 0;
      fill((part) => {
        for (let from = 0; from < part.length; ) {
          const length = Math.min(part.length - from, partBytes - filled);
          waiting.set(part.subarray(from, from + length), filled);
          filled += length;
          from += length;
          if (filled < partBytes) continue;
          entry.push(waiting);
          waiting = new Uint8Array(partBytes);
          filled = 0;
        }
      });
      entry.push(waiting.subarray(0, filled), true);
    },
    finish: () => zip.end(),
  };
}
