import type { Gate } from '../../core/gate/gate.ts';
import { parseGate } from '../../core/gate/parse-gate.ts';
import type { Reflector } from '../../core/review/review.ts';
import {
  type Dimension,
  type Parsed,
  parseNumber,
  parseQuantity,
  parseSpan,
  refused,
} from '../../core/units/parse-quantity.ts';
import { refuseArgument } from './refusal.ts';

/** Turns a parser of words into one for an option's value: what it refuses ends the command, naming the option. */
export function option<T>(name: string, parse: (text: string) => Parsed<T>): (text: string) => T {
  return (text) => {
    const parsed = parse(text);
    return parsed.ok ? parsed.value : refuseArgument(name, parsed.sentence);
  };
}

/** The same for an option that may be given several times. */
function repeated<T>(
  name: string,
  parse: (text: string) => Parsed<T>,
): (text: string, before: readonly T[] | undefined) => readonly T[] {
  const one = option(name, parse);
  return (text, before) => [...(before ?? []), one(text)];
}

export const quantityOption = (name: string, dimension: Dimension) =>
  option(name, (text) => parseQuantity(text, dimension));

/** A quantity whose unit the option itself states (`--axis-velocity 5920`), which may also be written out. */
export const quantityOrNumberOption = (name: string, dimension: Dimension) =>
  option(name, (text) => (parseNumber(text).ok ? parseNumber(text) : parseQuantity(text, dimension)));

/** A quantity that may be read several times. */
export const quantitiesOption = (name: string, dimension: Dimension) =>
  repeated<number>(name, (text) => parseQuantity(text, dimension));

export const spanOption = (name: string, dimension: Dimension) => option(name, (text) => parseSpan(text, dimension));

export function numberOption(name: string, least: number, most: number): (text: string) => number {
  return option(name, (text) => {
    const parsed = parseNumber(text);
    if (!parsed.ok) return parsed;
    return parsed.value >= least && parsed.value <= most
      ? parsed
      : refused(`${text} is out of range; give ${least} to ${most}`);
  });
}

/** A number that counts or numbers something. */
export function wholeNumberOption(name: string, least: number, most: number): (text: string) => number {
  return option(name, (text) => {
    const parsed = parseNumber(text);
    if (!parsed.ok) return parsed;
    return Number.isInteger(parsed.value) && parsed.value >= least && parsed.value <= most
      ? parsed
      : refused(`${text} is no whole number from ${least} to ${most}`);
  });
}

export function choiceOption<const T extends string>(name: string, choices: readonly T[]): (text: string) => T {
  return option(name, (text) => {
    const choice = choices.find((candidate) => candidate === text);
    return choice === undefined ? refused(`"${text}" is none of ${choices.join(', ')}`) : { ok: true, value: choice };
  });
}

export const gatesOption = (name: string) => repeated<Gate>(name, parseGate);

export const reflectorsOption = (name: string) => repeated<Reflector>(name, parseReflector);

/** `100mm@55us..75us`, or `100mm@55us..75us#FILE` for a reflector that one capture alone shows. */
function parseReflector(text: string): Parsed<Reflector> {
  const match = /^([^@]+)@([^#]+)(?:#(.+))?$/.exec(text);
  if (match === null) return refused(`"${text}" is not a reflector; write distance@from..to, as in 100mm@55us..75us`);
  const distance = parseQuantity(match[1], 'length');
  if (!distance.ok) return distance;
  if (distance.value <= 0) return refused(`"${match[1]}" is not a distance; it must be greater than 0`);
  const window = parseSpan(match[2], 'time');
  if (!window.ok) return window;
  const { from, to } = window.value;
  return {
    ok: true,
    value: { distanceMm: distance.value, toleranceMm: 0, fromUs: from, toUs: to, capture: match[3] ?? null },
  };
}
