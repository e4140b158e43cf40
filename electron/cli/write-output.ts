import { statSync } from 'node:fs';
import { problem } from '../../core/outcome.ts';
import { codeOf, diskWords } from '../disk/disk-words.ts';
import { type Content, writeWhole } from '../disk/write-whole.ts';
import { findInputs } from './inputs.ts';
import { Refusal } from './refusal.ts';

/** Looked at before anything long is done: what stands at a path is not written over unless that was asked for; a folder never. */
export function refuseToOverwrite(path: string, replace: boolean): void {
  const there = statOf(path);
  if (there === undefined) return;
  if (there.isDirectory()) refuseFolder(path);
  if (!replace) refuseTaken(path);
}

function statOf(path: string) {
  try {
    return statSync(path, { throwIfNoEntry: false });
  } catch (error) {
    return refuseUnwritable(path, error);
  }
}

/** Options by which a command is told what to write; every other one that names a file names one that is read. */
const outputs: ReadonlySet<string> = new Set(['out', 'csv', 'failures', 'saveRecipe']);

/** What a command reads is not written over, not even with --replace: a capture cannot be taken again. */
export function refuseToOverwriteInputs(words: readonly string[], options: Readonly<Record<string, unknown>>): void {
  const named = Object.entries(options).filter((entry): entry is [string, string] => typeof entry[1] === 'string');
  const written = named.filter(([option]) => outputs.has(option)).map(([, path]) => path);
  if (!written.some((path) => statOf(path)?.isFile())) return;
  const read = [
    ...findInputs(words).files.map(({ file }) => file),
    ...named.filter(([option]) => !outputs.has(option)).map(([, path]) => path),
  ];
  for (const path of written) refuseInput(path, read);
}

/** The same for files that only the review names. */
export function refuseInput(path: string, read: readonly string[]): void {
  const there = identityOf(path);
  if (there === null || !read.some((one) => identityOf(one) === there)) return;
  refuse(
    'output-is-input',
    path,
    'the command reads this very file, and nothing is written over it; give another name',
  );
}

/** The same for all names and links of one file; `null` for none. */
function identityOf(path: string): string | null {
  try {
    const { dev, ino } = statSync(path, { bigint: true });
    return `${dev} ${ino}`;
  } catch {
    return null;
  }
}

/** Writes a file that a command was asked for, whole or not at all. What has come to its place meanwhile is written over only where that was asked for. */
export async function writeOutput(path: string, content: Content, replace: boolean): Promise<void> {
  try {
    await writeWhole(path, content, { replace });
  } catch (error) {
    if (error instanceof Refusal) throw error;
    if (codeOf(error) === 'TAKEN') refuseTaken(path);
    if (codeOf(error) === 'EISDIR') refuseFolder(path);
    refuseUnwritable(path, error);
  }
}

function refuseFolder(path: string): never {
  refuse('output-is-folder', path, 'this is a folder, and a file is to be written; give the name of a file');
}

function refuseTaken(path: string): never {
  refuse('output-exists', path, 'there is such a file already; give another name, or --replace to write over it');
}

function refuseUnwritable(path: string, error: unknown): never {
  const { reason, advice } = diskWords(error);
  refuse('unwritable', path, `the file cannot be written: ${reason}; ${advice}`);
}

function refuse(code: string, file: string, sentence: string): never {
  throw new Refusal([problem(code, { file }, sentence)]);
}
