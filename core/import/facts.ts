import type { MetadataEntry } from '../capture/capture.ts';
import type { Rectification } from '../capture/waveform.ts';
import { type Problem, problem } from '../outcome.ts';
import type { DecimalMark, ImportRecipe, StatedAmplitudeUnit, TimeUnit } from './import-recipe.ts';
import { mayBeGrouped, readCell } from './number.ts';
import { isDayFirstAssumed, readTakenAt } from './taken-at.ts';
import { type Label, microseconds, millimetres, readLabel, rectificationIn, type Unit, unitOf } from './unit-words.ts';

/** What a preamble, or a row of a manifest, says of how a capture was taken. Unknown is `null`. */
export interface Facts {
  gainDb: number | null;
  takenAt: string | null;
  positionMm: number | null;
  acrossMm: number | null;
  probe: string | null;
  instrument: string | null;
  block: string | null;
  temperatureC: number | null;
  sampleRateMHz: number | null;
  startUs: number | null;
  timeUnit: TimeUnit | null;
  axisVelocityMPerS: number | null;
  amplitudeUnit: { readonly unit: StatedAmplitudeUnit; readonly scale: number } | null;
  /** `unit` is `null` where it is that of the amplitudes. */
  fullScreen: { readonly value: number; readonly unit: StatedAmplitudeUnit | null } | null;
  zeroLevel: number | null;
  rectification: Rectification | null;
  channelNames: readonly string[] | null;
}

export interface ReadFacts {
  readonly facts: Facts;
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
}

export function noFacts(): Facts {
  return {
    gainDb: null,
    takenAt: null,
    positionMm: null,
    acrossMm: null,
    probe: null,
    instrument: null,
    block: null,
    temperatureC: null,
    sampleRateMHz: null,
    startUs: null,
    timeUnit: null,
    axisVelocityMPerS: null,
    amplitudeUnit: null,
    fullScreen: null,
    zeroLevel: null,
    rectification: null,
    channelNames: null,
  };
}

/** One statement: its words, its value as a number and a unit where it has them, and as text. */
interface Statement {
  readonly key: string;
  readonly words: string;
  readonly text: string;
  readonly value: number | null;
  readonly unit: Unit | null;
  /** The mark of a number such as `5,920`, where it may separate thousands as well. */
  readonly groupMark: DecimalMark | null;
  readonly namesChannels: boolean;
}

type Reader = (facts: Facts, statement: Statement, doubts: Doubts) => void;

class Doubts {
  readonly asks: Problem[] = [];
  readonly warnings: Problem[] = [];
  /** A date and a time of day that stand in two entries. */
  date: string | null = null;
  timeOfDay: string | null = null;
  readonly file: string;
  readonly dateOrder: ImportRecipe['dateOrder'];
  /** Whether a person can state the order of dates; else only another way of writing helps. */
  readonly isOrderAnswerable: boolean;

  constructor(file: string, recipe: Pick<ImportRecipe, 'dateOrder'> | null) {
    this.file = file;
    this.dateOrder = recipe?.dateOrder ?? null;
    this.isOrderAnswerable = recipe !== null;
  }

  warn(code: string, sentence: string): void {
    this.warnings.push(problem(code, { file: this.file }, sentence));
  }

  ask(code: string, sentence: string): void {
    this.asks.push(problem(code, { file: this.file }, sentence));
  }
}

const readGain: Reader = (facts, { key, text, value, unit }, doubts) => {
  if (value === null || (unit !== null && unit.kind !== 'decibel')) {
    return doubts.warn('gain-not-understood', `‘${key}’ is ‘${text}’: no gain in dB. The gain is left unknown.`);
  }
  if (unit === null) doubts.warn('gain-unit-assumed', `‘${key}’ has no unit; ${text} was taken as dB.`);
  facts.gainDb = value;
};

const readPosition =
  (which: 'positionMm' | 'acrossMm'): Reader =>
  (facts, { key, text, value, unit }, doubts) => {
    if (value !== null && unit?.kind === 'distance') facts[which] = value * millimetres[unit.unit];
    else
      doubts.warn(
        'position-not-understood',
        `‘${key}’ is ‘${text}’: no length with a unit. The position is left unknown.`,
      );
  };

const readTemperature: Reader = (facts, { key, text, value, unit }, doubts) => {
  if (value !== null && unit?.kind === 'celsius') facts.temperatureC = value;
  else if (value !== null && unit?.kind === 'fahrenheit') facts.temperatureC = ((value - 32) * 5) / 9;
  else
    doubts.warn('temperature-not-understood', `‘${key}’ is ‘${text}’: no temperature in °C or °F. It is left unknown.`);
};

/** A number that would tell something, but for its unit. */
function missUnit({ key, text, value, unit }: Statement, doubts: Doubts): void {
  if (value !== null && unit === null)
    doubts.warn('unit-not-stated', `‘${key}’ is ‘${text}’, without a unit: it was not used.`);
}

const readSampleRate: Reader = (facts, statement, doubts) => {
  const { value, unit } = statement;
  if (value !== null && value > 0 && unit?.kind === 'frequency') facts.sampleRateMHz = value * unit.megahertz;
  else missUnit(statement, doubts);
};

const readSampleInterval: Reader = (facts, statement, doubts) => {
  const { value, unit } = statement;
  if (value !== null && value > 0 && unit?.kind === 'time') facts.sampleRateMHz = 1 / (value * microseconds[unit.unit]);
  else missUnit(statement, doubts);
};

const readStart: Reader = (facts, statement, doubts) => {
  const { value, unit } = statement;
  if (value !== null && unit?.kind === 'time') facts.startUs = value * microseconds[unit.unit];
  else missUnit(statement, doubts);
};

const readTimeUnit: Reader = (facts, { text }) => {
  const unit = unitOf(text);
  if (unit?.kind === 'time') facts.timeUnit = unit.unit;
};

const readVelocity: Reader = (facts, statement, doubts) => {
  const { value, unit } = statement;
  if (value !== null && value > 0 && unit?.kind === 'velocity') facts.axisVelocityMPerS = value;
  else missUnit(statement, doubts);
};

const readAmplitudeUnit: Reader = (facts, { text }) => {
  const unit = unitOf(text);
  if (unit?.kind === 'amplitude') facts.amplitudeUnit = unit;
};

const readFullScreen: Reader = (facts, { value, unit }) => {
  if (value === null || !(value > 0)) return;
  facts.fullScreen =
    unit?.kind === 'amplitude' ? { value: value * unit.scale, unit: unit.unit } : { value, unit: null };
};

const readZeroLevel: Reader = (facts, { value }) => {
  if (value !== null) facts.zeroLevel = value;
};

const readRectification: Reader = (facts, { text }) => {
  facts.rectification = /^full$/i.test(text)
    ? 'full'
    : (rectificationIn(text) ?? (/^none|off|no$/i.test(text) ? 'rf' : null));
};

const readTaken: Reader = (_facts, { text }, doubts) => {
  doubts.date = text;
};

const readTimeOfDay: Reader = (_facts, { text }, doubts) => {
  if (/^\d{1,2}:\d{2}/.test(text)) doubts.timeOfDay = text;
};

const readers = new Map<string, Reader>(
  (
    [
      [readGain, 'gain|receiver gain|gain setting|amplification|instrument gain'],
      [readPosition('positionMm'), 'position|probe position|scan position|x position|position x|position along'],
      [readPosition('acrossMm'), 'across|position across|y position|position y'],
      [readTemperature, 'temperature|temp|block temperature|surface temperature'],
      [readSampleRate, 'sample rate|sampling rate|sampling frequency|sample frequency|samplerate|digitizing rate'],
      [
        readSampleInterval,
        'sample interval|sampling interval|time increment|time step|increment|sample period|dt|step',
      ],
      [readStart, 'start|start time|time start|first sample|time of first sample'],
      [readTimeUnit, 'time unit|time units|unit of time'],
      [readVelocity, 'axis velocity|velocity|sound velocity|material velocity'],
      [readAmplitudeUnit, 'amplitude unit|amplitude units|unit of amplitude'],
      [readFullScreen, 'full scale|full screen|full screen height|adc full scale|fullscale|fullscreen'],
      [readZeroLevel, 'zero level|base line|baseline|mid scale|midscale'],
      [readRectification, 'rectification|rectifier|rectified|detection|waveform|wave form|display mode|mode'],
      [
        readTaken,
        'taken at|time taken|taken|date|date time|datetime|timestamp|acquired|acquired at|recorded|recorded at|acquisition time|captured at|date and time',
      ],
      [readTimeOfDay, 'time|time of day'],
      [(facts, { text }) => (facts.probe = text || null), 'probe|search unit|transducer|probe id'],
      [(facts, { text }) => (facts.instrument = text || null), 'instrument|instrument id|flaw detector'],
      [(facts, { text }) => (facts.block = text || null), 'block|reference block|calibration block|block id'],
    ] as const satisfies readonly (readonly [Reader, string])[]
  ).flatMap(([reader, words]) => words.split('|').map((phrase) => [phrase, reader] as const)),
);

/**
 * What the entries say. Keys are recognised by their words whatever their spelling (`gain_db`, `Gain (dB)`); what is not understood stays
 * in the metadata alone. `recipe` is `null` where a person cannot state the order of dates.
 * A number of which the mark may separate thousands is read by the file's own decimal mark (`null`: not known), or not at all.
 */
export function readFacts(
  file: string,
  entries: readonly MetadataEntry[],
  recipe: Pick<ImportRecipe, 'dateOrder'> | null,
  decimalMark: DecimalMark | null,
): ReadFacts {
  const facts = noFacts();
  const doubts = new Doubts(file, recipe);
  for (const entry of entries) {
    const statement = statementOf(entry);
    const reader = readers.get(statement.words);
    if (reader !== undefined && isMarkDoubtful(statement, decimalMark)) {
      doubts.warn(
        'ambiguous-figure',
        `‘${statement.key}’ is ‘${statement.text}’: its mark may separate thousands or decimals, so it was not used. Write it without thousands separators.`,
      );
    } else reader?.(facts, statement, doubts);
    if (statement.namesChannels) facts.channelNames = namesIn(entry.value);
  }
  facts.takenAt = takenAt(doubts);
  return { facts, asks: doubts.asks, warnings: doubts.warnings };
}

/** A point is a decimal mark, unless the file's own is the comma; a comma is one where it is the file's own. */
function isMarkDoubtful({ groupMark }: Statement, decimalMark: DecimalMark | null): boolean {
  return groupMark === '.' ? decimalMark === ',' : groupMark === ',' && decimalMark !== ',';
}

/** Is there a fact under a key of these words? For the columns of a manifest. */
export function isFact(words: string): boolean {
  return readers.has(words);
}

/** Statements by their entry: files of a batch share those they have in common. */
const statements = new WeakMap<MetadataEntry, Statement>();

function statementOf(entry: MetadataEntry): Statement {
  let statement = statements.get(entry);
  if (statement === undefined) {
    statement = readStatement(entry, readLabel(entry.key));
    statements.set(entry, statement);
  }
  return statement;
}

/** Longer ones are no number with a unit. */
const longestQuantity = 200;

function readStatement(entry: MetadataEntry, label: Label): Statement {
  const text = entry.value.trim();
  const match =
    text.length > longestQuantity ? null : /^([+\-\u2212]?[\d.,]+(?:[eE][+-]?\d+)?)\s*([^\d\s].*)?$/.exec(text);
  const reading = match === null ? null : readCell(match[1], null);
  const unitText = match?.[2]?.trim();
  const ownUnit = unitText === undefined ? null : unitOf(unitText);
  const isNumber = reading?.kind === 'number' && (unitText === undefined || ownUnit !== null);
  return {
    key: entry.key,
    words: label.words,
    text,
    value: isNumber ? reading.value : null,
    unit: ownUnit ?? label.unit,
    groupMark: match !== null && mayBeGrouped(match[1]) ? (match[1].includes(',') ? ',' : '.') : null,
    namesChannels: /^channels?( data| names?)?$|^traces?$/.test(label.words),
  };
}

function namesIn(value: string): readonly string[] {
  return value
    .split(/[,;\t]/)
    .map((name) => name.trim().replace(/^"|"$/g, ''))
    .filter((name) => name !== '');
}

function takenAt(doubts: Doubts): string | null {
  if (doubts.date === null) return null;
  const hasTime = /\d:\d/.test(doubts.date);
  const text = !hasTime && doubts.timeOfDay !== null ? `${doubts.date} ${doubts.timeOfDay}` : doubts.date;
  const taken = readTakenAt(text, doubts.dateOrder);
  if (taken.kind === 'ambiguous-date') {
    const answer = doubts.isOrderAnswerable
      ? 'State the order of dates (--date-order day-first or month-first), or write'
      : 'Write';
    doubts.ask('ambiguous-date', `‘${text}’ may be day/month or month/day. ${answer} the date as 2026-12-31.`);
    return null;
  }
  if (taken.kind === 'unreadable') {
    doubts.warn(
      'time-not-understood',
      `‘${text}’ is no date and time that can be understood; the time taken is left unknown. Write it as 2026-12-31T14:30:00Z.`,
    );
    return null;
  }
  if (isDayFirstAssumed(text, doubts.dateOrder)) {
    const answer = doubts.isOrderAnswerable
      ? 'state the order of dates (--date-order month-first)'
      : 'write it as 2026-12-31';
    doubts.warn(
      'day-first-assumed',
      `‘${text}’ was read with the day first, ${taken.text.slice(0, 10)}, since points separate it. If it is not so, ${answer}.`,
    );
  }
  if (taken.kind === 'without-zone') {
    doubts.warn(
      'time-without-zone',
      `The time taken, ‘${text}’, has no time zone; it is kept as told. It cannot be put in order with captures from other zones, nor across a change of summer time.`,
    );
  }
  return taken.text;
}
