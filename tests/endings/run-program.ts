import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('../..', import.meta.url));
export const preload = new URL('./faults.mjs', import.meta.url).href;

/** What `faults.mjs` is told. */
export interface Faults {
  readonly within: string;
  readonly at?: number;
  readonly act?: string;
  readonly only?: string;
  readonly times?: number;
  readonly told?: string;
}

export interface Ended {
  readonly status: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

/** The program beside this file as plain JavaScript, since the oldest Node here reads nothing else. */
export async function builtProgram(): Promise<{ readonly path: string; remove(): void }> {
  const folder = mkdtempSync(join(root, 'build', 'endings-'));
  await build({
    configFile: false,
    root,
    logLevel: 'error',
    ssr: { noExternal: true, target: 'node' },
    build: {
      ssr: fileURLToPath(new URL('./program.ts', import.meta.url)),
      target: 'node20',
      outDir: folder,
      minify: false,
      rollupOptions: { output: { entryFileNames: 'program.js' } },
    },
  });
  return { path: join(folder, 'program.js'), remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** Runs a Node program to its end, whatever that is. */
export function runNode(script: string, given: readonly string[], faults: Faults | null): Promise<Ended> {
  const words = [...(faults === null ? [] : ['--import', preload]), script, ...given];
  const env = { ...process.env, FAULTS: JSON.stringify(faults ?? {}) };
  return new Promise((resolve) => {
    execFile(process.execPath, words, { cwd: root, env, encoding: 'utf8' }, (error, out, err) => {
      const status = error === null ? 0 : typeof error.code === 'number' ? error.code : null;
      resolve({ status, signal: error?.signal ?? null, out, err });
    });
  });
}

/** The calls that a program makes within a folder, in their order, as `write review.json`. */
export async function callsOf(script: string, given: readonly string[], within: string, told: string) {
  const ended = await runNode(script, given, { within, told });
  return { ended, calls: JSON.parse(readFileSync(told, 'utf8')) as string[] };
}

/** Carries out works a few at a time: two processors, and each waits mostly for its start. */
export async function fewAtOnce<T, R>(of: readonly T[], work: (one: T, i: number) => Promise<R>): Promise<R[]> {
  const results: R[] = [];
  let next = 0;
  const line = async () => {
    for (let i = next++; i < of.length; i = next++) results[i] = await work(of[i]!, i);
  };
  await Promise.all(Array.from({ length: 4 }, line));
  return results;
}
