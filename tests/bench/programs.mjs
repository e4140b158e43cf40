// The command lines that are held against one another: the one place to change when a command changes.

import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../../', import.meta.url));
export const python = '/usr/bin/python3';
const here = (name) => fileURLToPath(new URL(name, import.meta.url));

/** Of the project, built. Names of its gates are those of the peer. */
export const workbench = `${root}build/cli/main.js`;
const gates = ['--gate', 'near=4us..9.5us@12', '--gate', 'far=9.6us..19us@8'];
const conditioning = ['--baseline', 'linear', '--band', '1.5MHz..9MHz', '--padding', 'none', '--peak', 'three-point'];

/** One process, with as many threads as it takes by itself. */
export function workbenchRead(input) {
  return [process.execPath, workbench, 'read', input, ...gates, ...conditioning, '--echoes-above', '5', '--json'];
}

export function workbenchImport(input) {
  return [process.execPath, workbench, 'describe', input, '--json'];
}

export function peer(input, ...options) {
  return [python, here('peer.py'), input, ...options];
}

export function scanner(program, input) {
  return [program, input];
}

export const scannerSource = here('scan.c');
export const generator = here('generate.py');
export const measure = here('measure.py');
