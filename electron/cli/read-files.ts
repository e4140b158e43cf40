import { createHash } from 'node:crypto';
import { closeSync, fstatSync, openSync, readFileSync, readSync } from 'node:fs';
import { type ImportedFile, importBytes, startImport } from '../../core/import/import-file.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { type Manifest, readManifest } from '../../core/import/manifest.ts';
import { failure, type Outcome, type Problem, problem, success } from '../../core/outcome.ts';
import { showProgress } from './progress.ts';

/** Files up to this size are read whole into one buffer that is used again and again; larger ones stream through it. */
const bufferBytes = 1 << 22;
let buffer: Buffer | null = null;

/** Reads and imports one file, which problems call `name`. A file that cannot be opened or read is a problem like any other. */
export function readFile(
  file: string,
  recipe: ImportRecipe,
  name: string = file,
  progress: (words: string) => void = showProgress,
): Outcome<ImportedFile> {
  buffer ??= Buffer.allocUnsafeSlow(bufferBytes);
  let descriptor: number;
  try {
    descriptor = openSync(file, 'r');
  } catch (error) {
    return failure(unreadable(name, error));
  }
  try {
    const length = readSync(descriptor, buffer, 0, bufferBytes, null);
    if (length < bufferBytes) {
      const bytes = buffer.subarray(0, length);
      return importBytes(name, bytes, recipe, createHash('sha256').update(bytes).digest('hex'));
    }
    return streamFile(name, descriptor, buffer, length, recipe, progress);
  } catch (error) {
    return failure(unreadable(name, error));
  } finally {
    closeSync(descriptor);
  }
}

function streamFile(
  file: string,
  descriptor: number,
  chunk: Buffer,
  firstLength: number,
  recipe: ImportRecipe,
  progress: (words: string) => void,
): Outcome<ImportedFile> {
  const bytes = fstatSync(descriptor).size;
  const running = startImport(file, recipe, bytes);
  const hash = createHash('sha256');
  let read = 0;
  for (let length = firstLength; length > 0; length = readSync(descriptor, chunk, 0, chunk.length, null)) {
    const part = chunk.subarray(0, length);
    hash.update(part);
    read += length;
    const fatal = running.push(part);
    if (fatal.length > 0) return failure(...fatal);
    progress(`${file}: ${Math.round(read / 1e6)} of ${Math.round(bytes / 1e6)} MB`);
  }
  return running.finish(hash.digest('hex'));
}

export function unreadable(file: string, error: unknown): Problem {
  const reason = error instanceof Error ? error.message : String(error);
  return problem(
    'unreadable',
    { file },
    `the file cannot be read (${reason}); check that it exists and that you may read it`,
  );
}

/** The SHA-256 of a file's bytes; `null` where they cannot be read. */
export function hashOfFile(file: string): string | null {
  buffer ??= Buffer.allocUnsafeSlow(bufferBytes);
  const hash = createHash('sha256');
  let descriptor: number | null = null;
  try {
    descriptor = openSync(file, 'r');
    for (let length = 1; length > 0; ) {
      length = readSync(descriptor, buffer, 0, bufferBytes, null);
      hash.update(buffer.subarray(0, length));
    }
    return hash.digest('hex');
  } catch {
    return null;
  } finally {
    if (descriptor !== null) closeSync(descriptor);
  }
}

/** Manifests by the folder they describe. */
export function readManifests(files: readonly string[]): Outcome<readonly Manifest[]> {
  const manifests: Manifest[] = [];
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  for (const file of files) {
    let bytes: Uint8Array;
    try {
      bytes = readFileSync(file);
    } catch (error) {
      problems.push(unreadable(file, error));
      continue;
    }
    const manifest = readManifest(file, bytes);
    if (manifest.ok) {
      manifests.push(manifest.value);
      warnings.push(...manifest.warnings);
    } else problems.push(...manifest.problems);
  }
  return problems.length > 0 ? failure(...problems) : success(manifests, warnings);
}
