import type { Command } from 'commander';
import { type ColumnReference, type ImportRecipe, inferEverything } from '../../core/import/import-recipe.ts';
import type { Review } from '../../core/review/review.ts';
import { defaultRecipe } from '../../core/signal/default-recipe.ts';
import {
  choiceOption,
  numberOption,
  quantityOption,
  quantityOrNumberOption,
  spanOption,
  wholeNumberOption,
} from './arguments.ts';

const encodings = ['utf-8', 'utf-16le', 'utf-16be', 'latin-1'] as const;
const delimiters = { comma: ',', semicolon: ';', tab: '\t', space: ' ' } as const;

interface ImportOptions {
  timeUnit?: 's' | 'ms' | 'us' | 'ns';
  sampleRate?: number;
  start?: number;
  axis?: 'time' | 'distance';
  distanceUnit?: 'mm' | 'cm' | 'm' | 'in';
  axisVelocity?: number;
  amplitudeUnit?: 'percent' | 'volt' | 'count' | 'fraction';
  fullScreen?: number;
  zeroLevel?: number;
  rectification?: 'rf' | 'full' | 'positive' | 'negative' | 'envelope';
  delimiter?: keyof typeof delimiters;
  decimalMark?: 'point' | 'comma';
  encoding?: (typeof encodings)[number];
  headerLine?: number;
  axisColumn?: string;
  amplitudeColumns?: string;
  dateOrder?: 'day-first' | 'month-first';
  resample?: boolean;
}

/** What a file does not state, or states wrongly, can be said here; the same for every command that reads captures. */
export function addImportOptions(command: Command): Command {
  return command
    .optionsGroup('What the files do not say:')
    .option(
      '--time-unit <unit>',
      'unit of the time column: s, ms, us or ns',
      choiceOption('--time-unit', ['s', 'ms', 'us', 'ns']),
    )
    .option(
      '--sample-rate <rate>',
      'where there is no time column, or in place of its steps, as in 100MHz',
      quantityOption('--sample-rate', 'frequency'),
    )
    .option(
      '--start <time>',
      'time of the first sample where there is no time column, as in 5us',
      quantityOption('--start', 'time'),
    )
    .option('--axis <kind>', 'what the first column is: time or distance', choiceOption('--axis', ['time', 'distance']))
    .option(
      '--distance-unit <unit>',
      'unit of a distance axis: mm, cm, m or in',
      choiceOption('--distance-unit', ['mm', 'cm', 'm', 'in']),
    )
    .option(
      '--axis-velocity <m/s>',
      'velocity a distance axis was drawn at, as in 5920',
      quantityOrNumberOption('--axis-velocity', 'velocity'),
    )
    .option(
      '--amplitude-unit <unit>',
      'percent (of full screen height), volt, count, or fraction (of full scale)',
      choiceOption('--amplitude-unit', ['percent', 'volt', 'count', 'fraction']),
    )
    .option(
      '--full-screen <amplitude>',
      'the amplitude that is 100 % of full screen height',
      numberOption('--full-screen', 1e-12, 1e12),
    )
    .option(
      '--zero-level <amplitude>',
      'the amplitude of the base line, for unsigned counts',
      numberOption('--zero-level', -1e12, 1e12),
    )
    .option(
      '--rectification <kind>',
      'rf, full, positive, negative or envelope',
      choiceOption('--rectification', ['rf', 'full', 'positive', 'negative', 'envelope']),
    )
    .option(
      '--delimiter <name>',
      'comma, semicolon, tab or space',
      choiceOption('--delimiter', ['comma', 'semicolon', 'tab', 'space']),
    )
    .option('--decimal-mark <name>', 'point or comma', choiceOption('--decimal-mark', ['point', 'comma']))
    .option('--encoding <name>', encodings.join(', '), choiceOption('--encoding', encodings))
    .option(
      '--header-line <line>',
      'line of the column names; 0 where there are none',
      wholeNumberOption('--header-line', 0, 1e6),
    )
    .option('--axis-column <column>', 'the column of times or distances, by its name or its position from 1')
    .option(
      '--amplitude-columns <columns>',
      'the columns of amplitudes, by names or positions with commas between, as in 2,4',
    )
    .option(
      '--date-order <order>',
      'how 03/04/2026 is meant: day-first or month-first',
      choiceOption('--date-order', ['day-first', 'month-first']),
    )
    .option('--resample', 'resample an uneven time axis onto an even one (refused otherwise)')
    .option('--recipe <file>', 'take all of the above from a recipe saved by describe --save-recipe')
    .option(
      '--manifest <file>',
      'a CSV that tells gain, position, time taken … of each capture (a manifest.csv in a folder is found by itself)',
    );
}

/** The recipe that the options state; what they leave open stands as in `base`. */
export function recipeFrom(options: ImportOptions, base: ImportRecipe = inferEverything): ImportRecipe {
  return {
    ...base,
    timeUnit: options.timeUnit ?? base.timeUnit,
    sampleRateMHz: options.sampleRate ?? base.sampleRateMHz,
    startUs: options.start ?? base.startUs,
    axis: options.axis ?? base.axis,
    distanceUnit: options.distanceUnit ?? base.distanceUnit,
    axisVelocityMPerS: options.axisVelocity ?? base.axisVelocityMPerS,
    amplitudeUnit: options.amplitudeUnit ?? base.amplitudeUnit,
    fullScreen: options.fullScreen ?? base.fullScreen,
    zeroLevel: options.zeroLevel ?? base.zeroLevel,
    rectification: options.rectification ?? base.rectification,
    delimiter: options.delimiter === undefined ? base.delimiter : delimiters[options.delimiter],
    decimalMark: options.decimalMark === undefined ? base.decimalMark : options.decimalMark === 'comma' ? ',' : '.',
    encoding: options.encoding ?? base.encoding,
    headerLine: options.headerLine ?? base.headerLine,
    columns: {
      ...base.columns,
      axis: options.axisColumn === undefined ? base.columns.axis : columnReference(options.axisColumn),
      amplitudes: options.amplitudeColumns?.split(',').map(columnReference) ?? base.columns.amplitudes,
    },
    dateOrder: options.dateOrder ?? base.dateOrder,
    uneven: options.resample === true ? 'resample' : base.uneven,
  };
}

/** A position where it is a whole number, else a name. */
function columnReference(text: string): ColumnReference {
  const word = text.trim();
  return /^[1-9]\d{0,5}$/.test(word) ? Number(word) : word;
}

interface ConditioningOptions {
  baseline?: Review['conditioning']['baseline'];
  band?: { from: number; to: number };
  bandOrder?: number;
  padding?: Review['conditioning']['padding'];
  peak?: Review['conditioning']['peak'];
}

export function addConditioningOptions(command: Command): Command {
  return command
    .optionsGroup('Conditioning:')
    .option(
      '--baseline <kind>',
      'none, mean or linear (linear)',
      choiceOption('--baseline', ['none', 'mean', 'linear']),
    )
    .option('--band <span>', 'zero-phase band-pass, as in 1.5MHz..9MHz (none)', spanOption('--band', 'frequency'))
    .option('--band-order <order>', 'Butterworth order of one pass (4)', wholeNumberOption('--band-order', 1, 10))
    .option(
      '--padding <kind>',
      'extend (by odd reflection) or none (extend)',
      choiceOption('--padding', ['extend', 'none']),
    )
    .option(
      '--peak <kind>',
      'peak between samples: log-parabola or three-point (log-parabola)',
      choiceOption('--peak', ['log-parabola', 'three-point']),
    );
}

export function conditioningFrom(options: ConditioningOptions): Review['conditioning'] {
  const standard = defaultRecipe;
  return {
    baseline: options.baseline ?? standard.baseline,
    bandPass:
      options.band === undefined
        ? standard.bandPass
        : { lowMHz: options.band.from, highMHz: options.band.to, order: options.bandOrder ?? 4 },
    padding: options.padding ?? standard.padding,
    peak: options.peak ?? standard.peak,
  };
}

export type CommonOptions = ImportOptions &
  ConditioningOptions & { json?: boolean; recipe?: string; manifest?: string; jobs?: number };
