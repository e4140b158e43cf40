import { type ImportedFile, importBytes, startImport } from '../../../core/import/import-file.ts';
import { type ImportRecipe, inferEverything } from '../../../core/import/import-recipe.ts';
import { type Outcome, problemLine } from '../../../core/outcome.ts';

/** Text as the bytes of a file. */
export function bytesOf(text: string, encoding: 'utf-8' | 'latin-1' | 'utf-16le' | 'utf-16be' = 'utf-8'): Uint8Array {
  if (encoding === 'utf-8') return new Uint8Array(Buffer.from(text, 'utf8'));
  if (encoding === 'latin-1') return new Uint8Array(Buffer.from(text, 'latin1'));
  const bytes = Buffer.from(text, 'utf16le');
  return new Uint8Array(encoding === 'utf-16le' ? bytes : bytes.swap16());
}

export function importText(text: string, recipe: Partial<ImportRecipe> = {}): Outcome<ImportedFile> {
  return importBytes('a.csv', bytesOf(text), { ...inferEverything, ...recipe }, null);
}

/** The imported file, where there must be one. */
export function readText(text: string, recipe: Partial<ImportRecipe> = {}): ImportedFile {
  return ofGood(importText(text, recipe));
}

export function ofGood<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(outcome.problems.map(problemLine).join('\n'));
}

/** `code line:column` of each problem; of a file that reads well, nothing. */
export function problemsOf<T>(outcome: Outcome<T>): string[] {
  return outcome.ok ? [] : outcome.problems.map(({ code, place }) => `${code} ${place.line}:${place.column}`);
}

export function codesOf(problems: readonly { readonly code: string }[]): string[] {
  return problems.map(({ code }) => code);
}

/** The same file in pieces that end at the given places. */
export function importPieces(
  bytes: Uint8Array,
  edges: readonly number[],
  recipe: Partial<ImportRecipe> = {},
): Outcome<ImportedFile> {
  const running = startImport('a.csv', { ...inferEverything, ...recipe });
  const places = [0, ...[...edges].sort((a, b) => a - b), bytes.length];
  for (let i = 1; i < places.length; i++) {
    const piece = bytes.slice(places[i - 1], places[i]);
    running.push(piece);
    // The caller may use its buffer again at once.
    piece.fill(0x3f);
  }
  return running.finish(null);
}

/** A header and `count` rows, 10 ns apart, with an RF-like column of three decimals. */
export function plainFile(count = 40, header = 'time_us,amplitude_pct'): string {
  return [header, ...plainRows(count)].map((line) => `${line}\n`).join('');
}

export function plainRows(count = 40): string[] {
  return Array.from({ length: count }, (_, i) => `${(i * 0.01).toFixed(2)},${(((i * 37) % 100) - 50).toFixed(3)}`);
}

/** `plainFile` with one of its lines (counted from 1) replaced. */
export function withLine(number: number, text: string, count = 40): string {
  return plainFile(count)
    .split('\n')
    .map((line, i) => (i + 1 === number ? text : line))
    .join('\n');
}
