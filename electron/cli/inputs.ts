import { existsSync, readdirSync, statSync } from 'node:fs';
import { basename, dirname, join, sep } from 'node:path';
import { type Problem, problem } from '../../core/outcome.ts';

/** One file to be read, as the person named it, and which of its traces is meant (`null`: all). */
export interface Input {
  readonly file: string;
  readonly trace: string | null;
}

export interface Inputs {
  readonly files: readonly Input[];
  /** Manifests found among the files and folders given. */
  readonly manifests: readonly string[];
  readonly problems: readonly Problem[];
}

const captureFile = /\.(csv|txt|tsv|dat|asc)$/i;
const manifestFile = /^manifest\.csv$/i;

/** Turns the arguments `FILE`, `FILE#TRACE` and `FOLDER` into files. A folder stands for the waveform files directly in it, 2 before 10. */
export function findInputs(words: readonly string[]): Inputs {
  const files: Input[] = [];
  const manifests = new Set<string>();
  const problems: Problem[] = [];
  for (const word of words) {
    const input = split(word);
    const kind = kindOf(input.file);
    if (kind === 'missing') {
      problems.push(
        problem(
          'no-such-file',
          { file: input.file },
          'there is no such file or folder, or it may not be looked at; check the name',
        ),
      );
    } else if (kind === 'folder') {
      const names = readdirSync(input.file, { withFileTypes: true })
        .filter((entry) => captureFile.test(entry.name) && !entry.isDirectory())
        .map((entry) => entry.name);
      const captures = inNaturalOrder(names.filter((name) => !manifestFile.test(name)));
      if (captures.length === 0)
        problems.push(
          problem('empty-folder', { file: input.file }, 'the folder holds no waveform file (csv, txt, tsv, dat, asc)'),
        );
      for (const name of names) if (manifestFile.test(name)) manifests.add(join(input.file, name));
      const folder = join(input.file, '.');
      for (const name of captures) files.push({ file: `${folder}${sep}${name}`, trace: null });
    } else if (manifestFile.test(basename(input.file))) {
      manifests.add(input.file);
    } else {
      files.push(input);
      const beside = join(dirname(input.file), 'manifest.csv');
      if (!manifests.has(beside) && existsSync(beside)) manifests.add(beside);
    }
  }
  return { files, manifests: [...manifests], problems };
}

function kindOf(path: string): 'missing' | 'folder' | 'file' {
  try {
    return statSync(path).isDirectory() ? 'folder' : 'file';
  } catch {
    // Nor one that may not be looked at, or whose name no file can have.
    return 'missing';
  }
}

function split(word: string): Input {
  const hash = word.lastIndexOf('#');
  if (hash < 0 || existsSync(word)) return { file: word, trace: null };
  return { file: word.slice(0, hash), trace: word.slice(hash + 1) };
}

/** Code points, with runs of digits by their value: the same order in every locale. Each name is taken apart once. */
function inNaturalOrder(names: readonly string[]): string[] {
  return names
    .map((name) => ({ name, parts: name.match(/\d+|\D+/g) ?? [] }))
    .sort((a, b) => byNumbersThenLetters(a.parts, b.parts))
    .map(({ name }) => name);
}

function byNumbersThenLetters(left: readonly string[], right: readonly string[]): number {
  for (let i = 0; i < Math.min(left.length, right.length); i++) {
    const difference = Number(left[i]) - Number(right[i]);
    if (Number.isFinite(difference) && difference !== 0) return difference;
    if (left[i] !== right[i]) return left[i] < right[i] ? -1 : 1;
  }
  return left.length - right.length;
}
