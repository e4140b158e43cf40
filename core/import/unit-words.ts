import type { Rectification } from '../capture/waveform.ts';
import type { DistanceUnit, StatedAmplitudeUnit, TimeUnit } from './import-recipe.ts';

/** A unit word and what it means. `scale`: the word's unit in terms of `unit` (mV = 0.001 volt). */
export type Unit =
  | { readonly kind: 'time'; readonly unit: TimeUnit }
  | { readonly kind: 'distance'; readonly unit: DistanceUnit }
  | { readonly kind: 'amplitude'; readonly unit: StatedAmplitudeUnit; readonly scale: number }
  | { readonly kind: 'frequency'; readonly megahertz: number }
  | { readonly kind: 'velocity' }
  | { readonly kind: 'decibel' }
  | { readonly kind: 'celsius' }
  | { readonly kind: 'fahrenheit' }
  | { readonly kind: 'sample' };

const time = (unit: TimeUnit): Unit => ({ kind: 'time', unit });
const distance = (unit: DistanceUnit): Unit => ({ kind: 'distance', unit });
const amplitude = (unit: StatedAmplitudeUnit, scale = 1): Unit => ({ kind: 'amplitude', unit, scale });
const frequency = (megahertz: number): Unit => ({ kind: 'frequency', megahertz });

const unitTable: readonly (readonly [Unit, string])[] = [
  [time('s'), 's sec secs second seconds'],
  [time('ms'), 'ms msec millisecond milliseconds'],
  [time('us'), 'us µs usec µsec microsecond microseconds'],
  [time('ns'), 'ns nsec nanosecond nanoseconds'],
  [distance('mm'), 'mm millimetre millimetres millimeter millimeters'],
  [distance('cm'), 'cm centimetre centimetres centimeter centimeters'],
  [distance('m'), 'm metre metres meter meters'],
  [distance('in'), 'in inch inches'],
  [amplitude('percent'), '% pct percent %fsh %fs fsh pctfsh percentfsh'],
  [amplitude('volt'), 'v volt volts'],
  [amplitude('volt', 1e-3), 'mv millivolt millivolts'],
  [amplitude('volt', 1e-6), 'uv µv microvolt microvolts'],
  [amplitude('count'), 'count counts lsb adc code codes digits adu'],
  [amplitude('fraction'), 'fs fraction fractionfs fractionoffullscale fractionoffullscreen offullscale'],
  [frequency(1e-6), 'hz sa/s samples/s'],
  [frequency(1e-3), 'khz ksa/s ks/s'],
  [frequency(1), 'mhz msa/s ms/s'],
  [frequency(1e3), 'ghz gsa/s gs/s'],
  [{ kind: 'velocity' }, 'm/s mpers mps'],
  [{ kind: 'decibel' }, 'db'],
  [{ kind: 'celsius' }, 'c °c degc celsius'],
  [{ kind: 'fahrenheit' }, 'f °f degf fahrenheit'],
  [{ kind: 'sample' }, 'sequence'],
];

const units = new Map(unitTable.flatMap(([unit, words]) => words.split(' ').map((word) => [word, unit] as const)));

export function unitOf(word: string): Unit | null {
  const plain = word
    .toLowerCase()
    .replace(/μ/g, 'µ')
    .replace(/[\s_.]+/g, '');
  return units.get(plain) ?? null;
}

/** A header cell or a preamble key taken apart: `Time (µs)` is the words `time` with the unit µs. */
export interface Label {
  /** Lower-case words joined by one space, the unit taken out. */
  readonly words: string;
  readonly unit: Unit | null;
  /** The unit as the file has it, known or not. */
  readonly unitText: string | null;
}

const bracketed = /^(.*?)\s*[([{]\s*([^()[\]{}]*?)\s*[)\]}]\s*$/;
const behindSlash = /^([^/]*\w)\s*(?:\/|\bin\b)\s*([%°µμ\w/]+)$/;

/** Labels that were read before: the files of a batch have the same ones. */
const known = new Map<string, Label>();
const mostKnown = 4096;

/** Longer ones name no unit. */
const longestLabel = 200;

/** The usual ways of writing a unit: in brackets, behind a slash or the word "in", as the last word, or as the whole label. */
export function readLabel(text: string): Label {
  if (text.length > longestLabel) return { words: text, unit: null, unitText: null };
  let label = known.get(text);
  if (label === undefined) {
    label = takeApart(text);
    if (known.size >= mostKnown) known.clear();
    known.set(text, label);
  }
  return label;
}

function takeApart(text: string): Label {
  const trimmed = text.trim().replace(/[:=\s]+$/, '');
  const match = bracketed.exec(trimmed) ?? behindSlash.exec(trimmed);
  if (match !== null) {
    const unit = unitOf(match[2]);
    if (unit !== null || /[)\]]$/.test(trimmed))
      return { words: wordsOf(match[1]).join(' '), unit, unitText: match[2] };
  }
  const whole = unitOf(trimmed);
  if (whole !== null) return { words: '', unit: whole, unitText: trimmed };
  return readLastWords(wordsOf(trimmed));
}

function readLastWords(words: readonly string[]): Label {
  for (const taken of [3, 2, 1]) {
    if (words.length <= taken) continue;
    const unitText = words.slice(-taken).join(' ');
    const unit =
      unitOf(unitText) ??
      (taken === 3 ? unitOf(words.slice(-3).join(' ').replace('per', '/').replace(/ /g, '')) : null);
    if (unit !== null) return { words: words.slice(0, -taken).join(' '), unit, unitText };
  }
  return { words: words.join(' '), unit: null, unitText: null };
}

function wordsOf(text: string): string[] {
  return text
    .replace(/([a-z]{2})([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/μ/g, 'µ')
    .split(/[\s_.,;:=\-"'#]+/)
    .filter((word) => word !== '');
}

const rectificationWords: readonly (readonly [RegExp, Rectification])[] = [
  [/\b(?:rf|unrectified|not rectified|bipolar)\b/, 'rf'],
  [/\benvelope|\bvideo\b/, 'envelope'],
  [/\bnegative\b|\bhalf ?wave ?(?:neg|-)/, 'negative'],
  [/\bpositive\b|\bhalf ?waves?\b/, 'positive'],
  [/\bfull ?waves?\b|\brectified\b/, 'full'],
];

/** The rectification that words speak of; `null` where they do not. */
export function rectificationIn(text: string): Rectification | null {
  const plain = text.toLowerCase().replace(/[_-]+/g, ' ');
  return rectificationWords.find(([pattern]) => pattern.test(plain))?.[1] ?? null;
}

export const microseconds: Readonly<Record<TimeUnit, number>> = { s: 1e6, ms: 1e3, us: 1, ns: 1e-3 };
export const millimetres: Readonly<Record<DistanceUnit, number>> = { mm: 1, cm: 10, m: 1000, in: 25.4 };
