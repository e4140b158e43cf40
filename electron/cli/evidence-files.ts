import { createHash } from 'node:crypto';
import { closeSync, fstatSync, openSync, readSync } from 'node:fs';
import { reviewFolder } from '../../core/evidence/contents.ts';
import type { ReviewFiles } from '../../core/evidence/evaluate-files.ts';
import { type ByteSource, packageBounds, readZipEntry, type ZipEntry } from '../../core/evidence/read-zip.ts';
import { startImport } from '../../core/import/import-file.ts';
import { failure, type Outcome, type Problem, problem, success } from '../../core/outcome.ts';
import { unreadable } from './read-files.ts';

/** A file on disk that is read at any place. */
export function openSource(path: string): Outcome<ByteSource & { close(): void }> {
  try {
    const file = openSync(path, 'r');
    return success({
      size: fstatSync(file).size,
      read(from, length) {
        const bytes = new Uint8Array(length);
        for (let at = 0; at < length; ) {
          const read = readSync(file, bytes, at, length - at, from + at);
          if (read === 0) throw new Error(`the file has become shorter while it was read`);
          at += read;
        }
        return bytes;
      },
      close: () => closeSync(file),
    });
  } catch (error) {
    return failure(unreadable(path, error));
  }
}

/** The files of a package, each by its name. */
export interface PackedFiles {
  readonly names: ReadonlySet<string>;
  /** Length and SHA-256 of what is really there. */
  facts(name: string): Outcome<{ readonly bytes: number; readonly sha256: string }>;
  /** A document, whole, as UTF-8. */
  text(name: string): Outcome<string>;
  bytes(name: string): Outcome<{ readonly bytes: Uint8Array; readonly sha256: string }>;
  stream(name: string, take: (part: Uint8Array) => void): Outcome<{ readonly bytes: number; readonly sha256: string }>;
}

export function packedFiles(file: string, source: ByteSource, entries: readonly ZipEntry[]): PackedFiles {
  const byName = new Map(entries.map((entry) => [entry.name, entry]));
  const known = new Map<string, Outcome<{ readonly bytes: number; readonly sha256: string }>>();

  function stream(name: string, take: (part: Uint8Array) => void) {
    const entry = byName.get(name);
    if (entry === undefined)
      return failure(
        problem('not-in-package', { file: name }, 'the file is not in the package; copy the package again, whole'),
      );
    const hash = createHash('sha256');
    const problems: readonly Problem[] = readZipEntry(file, source, entry, (part) => {
      hash.update(part);
      take(part);
    });
    return problems.length > 0 ? failure(...problems) : success({ bytes: entry.bytes, sha256: hash.digest('hex') });
  }

  function bytes(name: string): Outcome<{ readonly bytes: Uint8Array; readonly sha256: string }> {
    const entry = byName.get(name);
    if (entry !== undefined && entry.bytes > packageBounds.documentBytes)
      return failure(
        problem(
          'document-too-large',
          { file: name },
          `the file has ${entry.bytes} bytes; documents of at most ${packageBounds.documentBytes} are read`,
        ),
      );
    const whole = new Uint8Array(entry?.bytes ?? 0);
    let filled = 0;
    const read = stream(name, (part) => {
      whole.set(part, filled);
      filled += part.length;
    });
    return read.ok ? success({ bytes: whole, sha256: read.value.sha256 }) : read;
  }

  return {
    names: new Set(byName.keys()),
    stream,
    bytes,
    facts(name) {
      const found = known.get(name) ?? stream(name, () => {});
      known.set(name, found);
      return found;
    },
    text(name) {
      const read = bytes(name);
      return read.ok ? success(new TextDecoder('utf-8').decode(read.value.bytes)) : read;
    },
  };
}

/** The files that a packed review names, read out of the package part by part. */
export function filesInPackage(packed: PackedFiles): ReviewFiles {
  const path = (name: string) => `${reviewFolder}/${name}`;
  return {
    shown: (name) => name,
    imported(name, recipe) {
      const running = startImport(name, recipe);
      let broken: readonly Problem[] = [];
      const read = packed.stream(path(name), (part) => {
        if (broken.length === 0) broken = running.push(part);
      });
      if (!read.ok) return read;
      return broken.length > 0 ? failure(...broken) : running.finish(read.value.sha256);
    },
    bytes: (name) => packed.bytes(path(name)),
  };
}
