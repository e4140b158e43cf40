import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  renameSync,
  rmSync,
  type Stats,
  statSync,
  writeSync,
} from 'node:fs';
import { dirname } from 'node:path';
import { problem } from '../../core/outcome.ts';
import { Refusal } from './refusal.ts';

/** What stands at a path is not written over unless that was asked for; a folder never. */
export function refuseToOverwrite(path: string, replace: boolean): void {
  const there = statOf(path);
  if (there === undefined) return;
  if (there.isDirectory())
    refuse('output-is-folder', path, 'this is a folder, and a file is to be written; give the name of a file');
  if (!replace)
    refuse('output-exists', path, 'there is such a file already; give another name, or --replace to write over it');
}

function statOf(path: string): Stats | undefined {
  try {
    return statSync(path, { throwIfNoEntry: false });
  } catch (error) {
    return unwritable(path, error);
  }
}

/**
 * Writes a file whole or not at all: beside its place, through to the disk, then renamed into it. `write` is given a function that takes the next bytes.
 * Folders above it are made.
 */
export function writeWhole(path: string, write: (put: (bytes: Uint8Array) => void) => void): void {
  const beside = `${path}.${process.pid}.part`;
  try {
    mkdirSync(dirname(path), { recursive: true });
    const file = openSync(beside, 'wx');
    try {
      write((bytes) => {
        for (let from = 0; from < bytes.length; ) from += writeSync(file, bytes, from);
      });
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(beside, path);
  } catch (error) {
    if (existsSync(beside)) rmSync(beside, { force: true });
    if (error instanceof Refusal) throw error;
    unwritable(path, error);
  }
}

function unwritable(path: string, error: unknown): never {
  const reason = error instanceof Error ? error.message : error;
  refuse('unwritable', path, `the file cannot be written (${reason}); check the folder, and that you may write there`);
}

function refuse(code: string, file: string, sentence: string): never {
  throw new Refusal([problem(code, { file }, sentence)]);
}
