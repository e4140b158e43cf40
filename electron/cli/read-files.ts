import { createHash } from 'node:crypto';
import { statSync } from 'node:fs';
import { type ImportedFile, importBytes, startImport } from '../../core/import/import-file.ts';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { type Manifest, readManifest } from '../../core/import/manifest.ts';
import { failure, type Outcome, type Problem, problem, success } from '../../core/outcome.ts';
import { ChangedWhileRead, partsOf, wholeFile } from '../disk/read-parts.ts';
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
  try {
    const parts = partsOf(file, buffer);
    const first = parts.next().value ?? buffer.subarray(0, 0);
    if (first.length === bufferBytes) return streamFile(name, first, parts, statSync(file).size, recipe, progress);
    // The end is looked at before anything is made of it: throws where the file was changed meanwhile.
    parts.next();
    return importBytes(name, first, recipe, createHash('sha256').update(first).digest('hex'));
  } catch (error) {
    return failure(unreadable(name, error));
  }
}

function streamFile(
  file: string,
  first: Uint8Array,
  rest: Generator<Uint8Array>,
  bytes: number,
  recipe: ImportRecipe,
  progress: (words: string) => void,
): Outcome<ImportedFile> {
  const running = startImport(file, recipe, bytes);
  const hash = createHash('sha256');
  let read = 0;
  const take = (part: Uint8Array): readonly Problem[] => {
    hash.update(part);
    read += part.length;
    const fatal = running.push(part);
    progress(`${file}: ${Math.round(read / 1e6)} of ${Math.round(bytes / 1e6)} MB`);
    return fatal;
  };
  let fatal = take(first);
  if (fatal.length === 0)
    for (const part of rest) {
      fatal = take(part);
      if (fatal.length > 0) break;
    }
  rest.return(undefined);
  return fatal.length > 0 ? failure(...fatal) : running.finish(hash.digest('hex'));
}

export function unreadable(file: string, error: unknown): Problem {
  if (error instanceof ChangedWhileRead)
    return problem('changed-while-read', { file }, `${error.message}; read it again when it is whole`);
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
  try {
    for (const part of partsOf(file, buffer)) hash.update(part);
    return hash.digest('hex');
  } catch {
    return null;
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
      bytes = wholeFile(file);
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
