import type { Answer } from './answer.ts';
import {
  choiceOption,
  gatesOption,
  numberOption,
  quantityOption,
  reflectorsOption,
  wholeNumberOption,
} from './arguments.ts';
import { levelOption, probeOption } from './sensitivity-arguments.ts';
import type { StreamedAnswer } from './streamed-answer.ts';

/** Loads a command. */
export type Loading<A extends unknown[]> = () => Promise<
  (...args: A) => Answer | Promise<Answer> | Promise<StreamedAnswer>
>;

/** Makes the action of a command from what loads it; its exit status is kept by the program. */
export type Answering = <A extends unknown[]>(load: Loading<A>) => (...args: A) => Promise<void>;

// Options that more than one command has, as `option` takes them.

export const jobs = ['--jobs <count>', 'threads to use (as many as pay)', wholeNumberOption('--jobs', 1, 64)] as const;
export const timing = ['--timing <rule>', 'peak or crossing', choiceOption('--timing', ['peak', 'crossing'])] as const;
export const reflector = [
  '--reflector <distance@window>',
  'a known reflector, as in 100mm@55us..75us; several times',
  reflectorsOption('--reflector'),
] as const;
export const heightThreshold = [
  '--threshold <percent>',
  'least height of a reflector’s echo (5)',
  numberOption('--threshold', 0.001, 100),
] as const;
export const tolerance = [
  '--tolerance <length>',
  'half-width of the tolerance on the distances (taken as exact)',
  quantityOption('--tolerance', 'length'),
] as const;
export const coupling = [
  '--coupling <db>',
  'standard uncertainty of a height by the coupling (0dB: the noise alone counts)',
  levelOption('--coupling', 0, 60),
] as const;
export const gainUncertainty = [
  '--gain-uncertainty <db>',
  'standard uncertainty of one gain against another (0dB: taken as exact)',
  levelOption('--gain-uncertainty', 0, 60),
] as const;
export const probe = [
  '--probe <element,frequency>',
  'for the near field, as in 10mm,4MHz',
  probeOption('--probe'),
] as const;
export const velocity = [
  '--velocity <velocity>',
  'in the material, as in 5920m/s (that of the calibration)',
  quantityOption('--velocity', 'velocity'),
] as const;
export const json = ['--json', 'one JSON document on standard output'] as const;
export const replace = ['--replace', 'write over what stands there already'] as const;
export const calibrationFile = ['--calibration <file>', 'the document that calibrate --json printed'] as const;
export const gates = [
  '--gate <gate>',
  'name=from..to@threshold, as in weld=20mm..80mm@30; several times',
  gatesOption('--gate'),
] as const;
export const angleUncertainty = [
  '--angle-uncertainty <degrees>',
  'its standard uncertainty',
  numberOption('--angle-uncertainty', 0, 45),
] as const;
export const mode = [
  '--mode <mode>',
  'longitudinal or transverse',
  choiceOption('--mode', ['longitudinal', 'transverse']),
] as const;
export const simpleAcceptance = ['--simple-acceptance', 'let the value alone decide, without its uncertainty'] as const;

/** Options of the commands that go through very many captures, beside the rest. */
export const list = ['--list <file>', 'a text file that names more files, one a line; - for standard input'] as const;
export const lines = ['--lines', 'one line of JSON for each part of the answer, as it comes'] as const;
export const resume = [
  '--resume <job>',
  'keep what is done in this file and go on from it: after an end in the middle, give the same command again',
] as const;
export const failures = [
  '--failures <file>',
  'write what could not be used, with reasons, as CSV, or as JSON where the name ends in .json',
] as const;
