import { describe, expect, it } from 'vitest';
import { guessesOf } from '../../core/import/guesses.ts';
import { importBytes } from '../../core/import/import-file.ts';
import { type ImportRecipe, inferEverything } from '../../core/import/import-recipe.ts';
import { withoutAsked } from '../../core/import/recipe-file.ts';
import { resolutionOf, saturatedRuns } from '../../core/signal/saturation.ts';
import { onScreen } from '../../renderer/parts/on-screen.ts';
import { bytesOf, codesOf, importText, ofGood, problemsOf, readText } from '../core/import/csv-bytes.ts';

/**
 * Files that could be read as something else than they are. Each is understood, with a sentence where it could be otherwise, asked about, or refused at
 * its place; none is misread in silence. What is asked is answered by what a person states, and then read by it.
 */

const count = 400;
/** A burst on a little noise, in % of full screen: what most rows hold. */
const burst = (i: number, height = 60) =>
  height * Math.exp(-(((i - 200) / 12) ** 2)) * Math.cos((i - 200) / 2) + (((i * 37) % 11) - 5) * height * 0.002;
const rectified = (i: number, height = 60) => Math.abs(burst(i, height));
const fixed = (value: number, decimals = 2) => value.toFixed(decimals);
const comma = (value: number, decimals = 2) => value.toFixed(decimals).replace('.', ',');
/** A whole number with its thousands separated. */
const grouped = (value: number, mark: string) => String(Math.round(value)).replace(/(\d)(?=(\d{3})+$)/g, `$1${mark}`);

function table(header: string, row: (i: number) => string, rows = count): string {
  return `${header}\n${Array.from({ length: rows }, (_, i) => `${row(i)}\n`).join('')}`;
}
/** The usual columns, with other values in place of the amplitude. */
const heights = (header: string, value: (i: number) => string) =>
  table(header, (i) => `${fixed(i * 0.01)},${value(i)}`);
const plain = heights('time_us,a_pct', (i) => fixed(burst(i)));
const dated = (date: string) => `# date: ${date}\n${plain}`;

type Taken = Partial<{
  startUs: number;
  stepUs: number;
  zeroLevel: number;
  rectification: string;
  fullScreen: number;
  amplitudeUnit: string;
  traces: readonly string[];
  takenAt: string | null;
  gainDb: number | null;
  samples: readonly number[];
}>;

/** What was taken of a file that could be read, the first samples as far as they are asked for. */
function taken(text: string, recipe: Partial<ImportRecipe>, wanted: Taken): Taken {
  const { captures } = readText(text, recipe);
  expect(captures.length).toBeGreaterThan(0);
  const { waveform, takenAt, gainDb } = captures[0];
  const all: Required<Taken> = {
    startUs: Number(waveform.startUs.toPrecision(9)),
    stepUs: Number(waveform.stepUs.toPrecision(9)),
    zeroLevel: waveform.zeroLevel,
    rectification: waveform.rectification,
    fullScreen: waveform.fullScreen ?? Number.NaN,
    amplitudeUnit: waveform.amplitudeUnit ?? '',
    traces: captures.map(({ trace }) => trace),
    takenAt,
    gainDb,
    samples: [...waveform.samples.subarray(0, wanted.samples?.length ?? 0)],
  };
  return Object.fromEntries(Object.keys(wanted).map((key) => [key, all[key as keyof Taken]]));
}

interface Understood {
  readonly file: string;
  readonly text: string;
  readonly is: Taken;
  /** Codes of the sentences that say what could be otherwise. */
  readonly said: readonly string[];
  readonly recipe?: Partial<ImportRecipe>;
}

const understood: readonly Understood[] = [
  { file: 'a plain one', text: plain, is: { startUs: 0, stepUs: 0.01, rectification: 'rf', zeroLevel: 0 }, said: [] },
  {
    file: 'thousands between apostrophes, which are no decimal mark anywhere',
    text: table('time_ns;counts', (i) => `${grouped(990 + i * 10, "'")};${Math.round(burst(i, 900))}`),
    recipe: { fullScreen: 2048 },
    is: { startUs: 0.99, stepUs: 0.01 },
    said: ['thousands-separators'],
  },
  {
    file: 'thousands between points, and commas before decimals in the same numbers',
    text: table('time_ns;counts', (i) => `${grouped(1000 + i * 10, '.')},0;${comma(burst(i, 900), 1)}`),
    recipe: { fullScreen: 2048 },
    is: { startUs: 1, stepUs: 0.01 },
    said: ['thousands-separators'],
  },
  {
    file: 'three decimals behind each number, one of them 0.998',
    text: table('time_us;counts', (i) => `${fixed(0.998 + i * 0.01, 3)};${Math.round(burst(i, 900))}`),
    recipe: { fullScreen: 2048 },
    is: { startUs: 0.998, stepUs: 0.01 },
    said: [],
  },
  {
    file: 'three decimals behind each number, between commas',
    text: table('time_us,counts', (i) => `${fixed(10 + i * 0.01, 3)},${Math.round(burst(i, 900))}`),
    recipe: { fullScreen: 2048 },
    is: { startUs: 10, stepUs: 0.01 },
    said: [],
  },
  {
    file: 'time and sample number',
    text: table('sample,time_us,a_pct', (i) => `${i},${fixed(i * 0.02)},${fixed(burst(i))}`),
    is: { stepUs: 0.02, traces: ['a_pct'] },
    said: ['column-ignored'],
  },
  {
    file: 'the same time in two units',
    text: table('time_us,time_ns,a_pct', (i) => `${fixed(i * 0.01)},${i * 10},${fixed(burst(i))}`),
    is: { stepUs: 0.01, traces: ['a_pct'] },
    said: ['column-ignored'],
  },
  {
    file: 'the time of the trigger on every row, and the time',
    text: table('trigger_time_s,time_us,a_pct', (i) => `12.5,${fixed(i * 0.01)},${fixed(burst(i))}`),
    is: { stepUs: 0.01, traces: ['a_pct'] },
    said: ['column-ignored'],
  },
  {
    file: 'date and time on every row, and the time',
    text: table('timestamp,time_us,a_pct', (i) => `2026-03-02T06:05:00Z,${fixed(i * 0.01)},${fixed(burst(i))}`),
    is: { stepUs: 0.01, traces: ['a_pct'] },
    said: ['column-ignored'],
  },
  ...(
    [
      'gain_db',
      'gain',
      'gain setting',
      'tcg_db',
      'temperature',
      'block (°C)',
      'probe position',
      'encoder (mm)',
    ] as const
  ).map(
    (name): Understood => ({
      file: `a column ‘${name}’ beside the amplitudes`,
      text: table(`time_us,a_pct,${name}`, (i) => `${fixed(i * 0.01)},${fixed(burst(i))},${fixed(20 + i * 0.01)}`),
      is: { traces: ['a_pct'] },
      said: ['column-ignored'],
    }),
  ),
  {
    file: 'a row of units below the names',
    text: table('time,amplitude\nus,%', (i) => `${fixed(i * 0.01)},${fixed(burst(i))}`),
    is: { stepUs: 0.01, amplitudeUnit: 'percent' },
    said: [],
  },
  {
    file: 'a channel without signal',
    text: table('time_us,a_pct,b_pct', (i) => `${fixed(i * 0.01)},${fixed(burst(i))},0`),
    is: { traces: ['a_pct', 'b_pct'] },
    said: ['flat-column', 'rectification-inferred'],
  },
  {
    file: 'rectified, and nowhere said so',
    text: heights('time_us,a_pct', (i) => fixed(rectified(i))),
    is: { rectification: 'full', zeroLevel: 0 },
    said: ['rectification-inferred'],
  },
  {
    file: 'said to be RF, and never below zero',
    text: `# rectification: rf\n${heights('time_us,a_pct', (i) => fixed(rectified(i)))}`,
    is: { rectification: 'rf' },
    said: ['rectification-contradicts'],
  },
  {
    file: 'unsigned counts of eight bits about 128',
    text: heights('time_us,counts', (i) => String(Math.round(128 + burst(i, 100)))),
    recipe: { fullScreen: 127 },
    is: { rectification: 'rf', zeroLevel: 128 },
    said: ['zero-at-mid-scale'],
  },
  {
    file: 'RF with one strong stroke to one side',
    text: heights('time_us,a_pct', (i) => fixed(i < 4 ? -95 : burst(i, 6))),
    is: { rectification: 'rf', zeroLevel: 0 },
    said: [],
  },
  {
    file: 'noise alone, in %, below 1 %',
    text: heights('time_us,a_pct', (i) => fixed(((i * 37) % 101) / 125 - 0.4)),
    is: { amplitudeUnit: 'percent', fullScreen: 100 },
    said: ['fraction-under-percent'],
  },
  {
    file: 'captures in the long form with two sampling intervals',
    text: table(
      'capture,time_us,a_pct',
      (i) => `${i < 200 ? 'A' : 'B'},${fixed((i % 200) * (i < 200 ? 0.01 : 0.02))},${fixed(burst(i % 200))}`,
    ),
    is: { traces: ['A', 'B'], stepUs: 0.01 },
    said: ['mixed-sampling'],
  },
  {
    file: 'a time column of 4 µs in seconds, as the header says',
    text: table('Time (s),a_pct', (i) => `${(i * 4e-6).toExponential(6)},${fixed(burst(i))}`),
    is: { stepUs: 4 },
    said: ['unusual-sampling-rate'],
  },
  {
    file: 'a sampling rate that differs from the time column by a rounded digit',
    text: `# sample rate: 66.7 MHz\n${table('time_us,a_pct', (i) => `${fixed(i * 0.015, 3)},${fixed(burst(i))}`)}`,
    is: { stepUs: 0.015 },
    said: [],
  },
  {
    file: 'a date with points',
    text: dated('03.04.2026 06:05 Z'),
    is: { takenAt: '2026-04-03T06:05:00Z' },
    said: ['day-first-assumed'],
  },
  {
    file: 'a date with points of which only one can be the day',
    text: dated('23.04.2026 06:05 Z'),
    is: { takenAt: '2026-04-23T06:05:00Z' },
    said: [],
  },
  {
    file: 'a date with points, month first as told',
    text: dated('03.04.2026 06:05 Z'),
    recipe: { dateOrder: 'month-first' },
    is: { takenAt: '2026-03-04T06:05:00Z' },
    said: [],
  },
  { file: 'a year of two digits', text: dated('03.04.26'), is: { takenAt: null }, said: ['time-not-understood'] },
  {
    file: 'a year of two digits, year first',
    text: dated('26-04-03'),
    is: { takenAt: null },
    said: ['time-not-understood'],
  },
  {
    file: 'a time without zone, in the hour that summer time has twice',
    text: dated('2026-10-25 02:30'),
    is: { takenAt: '2026-10-25T02:30:00' },
    said: ['time-without-zone'],
  },
  {
    file: 'a zone by its letters',
    text: dated('2026-10-25 02:30 CEST'),
    is: { takenAt: null },
    said: ['time-not-understood'],
  },
  {
    file: 'an offset that no place has',
    text: dated('2026-10-25 02:30 +25:00'),
    is: { takenAt: null },
    said: ['time-not-understood'],
  },
  {
    file: 'a time of the afternoon by twelve hours',
    text: dated('2026-04-03 02:30 PM'),
    is: { takenAt: null },
    said: ['time-not-understood'],
  },
  {
    file: 'a date as a spreadsheet counts days',
    text: dated('46112.5'),
    is: { takenAt: null },
    said: ['time-not-understood'],
  },
  {
    file: 'a gain whose comma may separate thousands',
    text: `# gain (dB): 42,500\n${plain}`,
    is: { gainDb: null },
    said: ['ambiguous-figure'],
  },
  {
    file: 'a gain whose point may separate thousands, above decimal commas',
    text: `# gain (dB): 42.500\n${table('time_us;a_pct', (i) => `${comma(i * 0.01)};${comma(burst(i))}`)}`,
    is: { gainDb: null, stepUs: 0.01 },
    said: ['ambiguous-figure'],
  },
  {
    file: 'a gain with a comma that can only be decimal',
    text: `# gain (dB): 42,5\n${plain}`,
    is: { gainDb: 42.5 },
    said: [],
  },
  { file: 'a gain without unit', text: `# gain: 42\n${plain}`, is: { gainDb: 42 }, said: ['gain-unit-assumed'] },
  {
    file: 'a sampling rate without unit',
    text: `# sample rate: 50\n${plain}`,
    is: { stepUs: 0.01 },
    said: ['unit-not-stated'],
  },
];

describe('understood, with a sentence for what could be otherwise', () => {
  it.each(understood)('$file', ({ text, recipe = {}, is, said }) => {
    expect(codesOf(readText(text, recipe).asks)).toEqual([]);
    expect(taken(text, recipe, is)).toEqual(is);
    expect(codesOf(readText(text, recipe).warnings)).toEqual(said);
  });
});

interface Asked {
  readonly file: string;
  readonly text: string;
  readonly asks: readonly string[];
  /** What the sentence must say. */
  readonly says: RegExp;
  /** What a person may state, and what is then taken. */
  readonly answers: readonly { readonly stated: Partial<ImportRecipe>; readonly is: Taken }[];
}

const { columns } = inferEverything;
const counts = { fullScreen: 2048 };
const percent = { amplitudeUnit: 'percent' } as const;
const thousandsOf = (mark: '.' | ',') => ({
  text: table('time_ns;counts', (i) => `${grouped(1000 + i * 10, mark)};${Math.round(burst(i, 900))}`),
  says: new RegExp(`‘1[${mark}]000’ in ‘time_ns’ may be 1000 or 1\\.000`),
});

const asked: readonly Asked[] = [
  {
    file: 'a comma in the time that only stands before three digits',
    ...thousandsOf(','),
    asks: ['ambiguous-thousands 2'],
    answers: [
      { stated: { ...counts, decimalMark: '.' }, is: { startUs: 1, stepUs: 0.01 } },
      { stated: { ...counts, decimalMark: ',', timeUnit: 'us' }, is: { startUs: 1, stepUs: 0.01 } },
    ],
  },
  {
    file: 'a point in the time that only stands before three digits, between semicolons',
    ...thousandsOf('.'),
    asks: ['ambiguous-thousands 2'],
    answers: [
      { stated: { ...counts, decimalMark: ',' }, is: { startUs: 1, stepUs: 0.01 } },
      { stated: { ...counts, decimalMark: '.', timeUnit: 'us' }, is: { startUs: 1, stepUs: 0.01 } },
    ],
  },
  {
    file: 'counts of which only the high ones, deep in the record, have a comma',
    text: table('time_ns;counts', (i) => `${i * 10};${grouped(i === 200 ? 1234 : burst(i, 900), ',')}`),
    asks: ['ambiguous-thousands 202'],
    says: /‘1,234’ in ‘counts’/,
    answers: [{ stated: { ...counts, decimalMark: '.' }, is: { stepUs: 0.01 } }],
  },
  {
    file: 'quoted numbers with a comma, between commas',
    text: table('time_ns,counts', (i) => `"${grouped(1000 + i * 10, ',')}",${Math.round(burst(i, 900))}`),
    asks: ['ambiguous-thousands 2'],
    says: /‘1,000’/,
    answers: [{ stated: { ...counts, decimalMark: '.' }, is: { startUs: 1, stepUs: 0.01 } }],
  },
  ...(
    [
      ['us', 's', (i: number) => (i * 1e-8).toExponential(3)],
      ['us', 'ns', (i: number) => String(i * 10)],
      ['ms', 'us', (i: number) => fixed(i * 0.01)],
      ['ms', 'ns', (i: number) => String(i * 10)],
      ['s', 'us', (i: number) => fixed(i * 0.01)],
      ['ns', 'us', (i: number) => fixed(i * 0.01)],
    ] as const
  ).map(
    ([header, is, stamp]): Asked => ({
      file: `a time column that says ${header} and counts in ${is}`,
      text: table(`time_${header},a_pct`, (i) => `${stamp(i)},${fixed(burst(i))}`),
      asks: ['implausible-sampling-rate null'],
      says: new RegExp(
        `‘time_${header}’ gives a sampling rate of [\\d.e+-]+ MHz.*In ${is === 'us' ? 'µs' : is} it would be 100 MHz`,
      ),
      answers: [
        { stated: { timeUnit: is }, is: { startUs: 0, stepUs: 0.01 } },
        { stated: { sampleRateMHz: 100 }, is: { stepUs: 0.01 } },
      ],
    }),
  ),
  {
    file: 'a distance column that says m and counts in mm',
    text: `# velocity (m/s): 5920\n${table('path_m,a_pct', (i) => `${fixed(i * 0.0296, 4)},${fixed(burst(i))}`)}`,
    asks: ['implausible-sampling-rate null'],
    says: /‘path_m’ gives a sampling rate of 0.1 MHz/,
    answers: [{ stated: { distanceUnit: 'mm' }, is: { stepUs: 0.01 } }],
  },
  {
    file: 'a distance column that a stated sampling rate contradicts',
    text: `# velocity (m/s): 5920\n# sample rate: 50 MHz\n${table('path_mm,a_pct', (i) => `${fixed(i * 0.0296, 4)},${fixed(burst(i))}`)}`,
    asks: ['sampling-rate-contradicts null'],
    says: /stated sampling rate is 50 MHz, but ‘path_mm’ gives 100 MHz/,
    answers: [
      { stated: { distanceUnit: 'mm' }, is: { stepUs: 0.01 } },
      { stated: { sampleRateMHz: 50 }, is: { stepUs: 0.02 } },
    ],
  },
  {
    file: 'a time column without unit',
    text: table('time,a_pct', (i) => `${fixed(i * 0.01)},${fixed(burst(i))}`),
    asks: ['time-unit-not-stated null'],
    says: /does not say the unit of its axis ‘time’/,
    answers: [
      { stated: { timeUnit: 'us' }, is: { stepUs: 0.01 } },
      { stated: { axis: 'distance', distanceUnit: 'mm', axisVelocityMPerS: 4000 }, is: { stepUs: 0.005 } },
    ],
  },
  {
    file: 'a sampling rate of twice what the time column gives',
    text: `# sample rate: 200 MHz\n${plain}`,
    asks: ['sampling-rate-contradicts null'],
    says: /stated sampling rate is 200 MHz, but ‘time_us’ gives 100 MHz/,
    answers: [
      { stated: { timeUnit: 'us' }, is: { stepUs: 0.01 } },
      { stated: { sampleRateMHz: 200 }, is: { stepUs: 0.005 } },
    ],
  },
  {
    file: 'a sampling rate that the time column would have in another unit',
    text: `# sample rate: 100 MHz\n${plain.replace('time_us', 'time_ns')}`,
    asks: ['sampling-rate-contradicts null'],
    says: /Read in µs they would agree/,
    answers: [{ stated: { timeUnit: 'us' }, is: { stepUs: 0.01 } }],
  },
  {
    file: 'distances under the name of time, which the sampling rate gives away',
    text: `# velocity (m/s): 5920\n# sample rate: 100 MHz\n${table('time_us,a_pct', (i) => `${fixed(i * 0.0296, 4)},${fixed(burst(i))}`)}`,
    asks: ['sampling-rate-contradicts null'],
    says: /Read as distances in mm, drawn with 5920 m\/s, they would agree/,
    answers: [{ stated: { axis: 'distance', distanceUnit: 'mm' }, is: { stepUs: 0.01 } }],
  },
  {
    file: 'a sampling rate in Hz under the name of MHz',
    text: `# sample_rate_mhz: 100000000\n${table('a_pct', (i) => fixed(burst(i)))}`,
    asks: ['sampling-rate-implausible null'],
    says: /states a sampling rate of 100000000 MHz/,
    answers: [{ stated: { sampleRateMHz: 100 }, is: { stepUs: 0.01 } }],
  },
  {
    file: 'an increment in the header that counts in µs and is read in s',
    text: table('X,CH1,Start,Increment\nSequence,%,0,0.01', (i) => `${i},${fixed(burst(i))}`),
    asks: ['implausible-increment null'],
    says: /The header’s increment gives a sampling rate of 0\.0001 MHz/,
    answers: [{ stated: { sampleRateMHz: 100 }, is: { startUs: 0, stepUs: 0.01 } }],
  },
  {
    file: 'an increment in the header that the preamble’s sampling rate contradicts',
    text: `# sample rate: 50 MHz\n${table('X,CH1,Start,Increment\nSequence,%,0,1e-8', (i) => `${i},${fixed(burst(i))}`)}`,
    asks: ['increment-contradicts null'],
    says: /stated sampling rate is 50 MHz, but the header’s increment gives 100 MHz/,
    answers: [
      { stated: { sampleRateMHz: 100 }, is: { stepUs: 0.01 } },
      { stated: { sampleRateMHz: 50 }, is: { stepUs: 0.02 } },
    ],
  },
  {
    file: 'two columns of time that tell different times',
    text: table('time_us,time2_us,a_pct', (i) => `${fixed(i * 0.01)},${fixed(i * 0.02)},${fixed(burst(i))}`),
    asks: ['several-axes 1'],
    says: /‘time_us’ and ‘time2_us’ could both be the axis/,
    answers: [
      { stated: { columns: { ...columns, axis: 1 } }, is: { stepUs: 0.01, traces: ['a_pct'] } },
      { stated: { columns: { ...columns, axis: 'time2_us' } }, is: { stepUs: 0.02, traces: ['a_pct'] } },
    ],
  },
  {
    file: 'time from the trigger and time from the first sample',
    text: table('time_us,t_us,a_pct', (i) => `${fixed(i * 0.01)},${fixed(7.3 + i * 0.01)},${fixed(burst(i))}`),
    asks: ['several-axes 1'],
    says: /‘time_us’ and ‘t_us’/,
    answers: [{ stated: { columns: { ...columns, axis: 2 } }, is: { startUs: 7.3 } }],
  },
  {
    file: 'two captures side by side, each with its own sampling interval',
    text: table(
      't1_us,a1_pct,t2_us,a2_pct',
      (i) => `${fixed(i * 0.01)},${fixed(burst(i))},${fixed(i * 0.02)},${fixed(burst(i))}`,
    ),
    asks: ['several-axes 1'],
    says: /which amplitudes stand over it/,
    answers: [
      { stated: { columns: { ...columns, axis: 3, amplitudes: [4] } }, is: { stepUs: 0.02, traces: ['a2_pct'] } },
    ],
  },
  {
    file: 'a header and a row of units that contradict each other',
    text: table('time_us,a_pct\nns,%', (i) => `${i * 10},${fixed(burst(i))}`),
    asks: ['units-contradict 2'],
    says: /‘time_us’ states ‘us’ and the row of units below it ‘ns’/,
    answers: [{ stated: { timeUnit: 'ns' }, is: { stepUs: 0.01 } }],
  },
  {
    file: 'a column that is 42 on every row',
    text: `# amplitude unit: %\n${table('time_us,a,x', (i) => `${fixed(i * 0.01)},${fixed(burst(i))},42`)}`,
    asks: ['flat-column null'],
    says: /‘x’ is 42 on every row: a setting such as a gain/,
    answers: [{ stated: { columns: { ...columns, amplitudes: ['a'] } }, is: { traces: ['a'] } }],
  },
  {
    file: 'a column that rises in steps, as a gain over depth does',
    text: `# amplitude unit: %\n${table('time_us,a,x', (i) => `${fixed(i * 0.01)},${fixed(burst(i))},${20 + Math.floor(i / 40)}`)}`,
    asks: ['one-way-column null'],
    says: /‘x’ only ever rises, from 20 to 29/,
    answers: [{ stated: { columns: { ...columns, amplitudes: [2] } }, is: { traces: ['a'] } }],
  },
  {
    file: 'fractions under %',
    text: heights('time_us,a_pct', (i) => fixed(burst(i, 0.8), 4)),
    asks: ['fraction-under-percent null'],
    says: /‘a_pct’ is said to be in %, but never goes beyond 0\.8/,
    answers: [
      { stated: { amplitudeUnit: 'fraction' }, is: { amplitudeUnit: 'percent', samples: [-0.8] } },
      { stated: percent, is: { amplitudeUnit: 'percent', samples: [-0.008] } },
    ],
  },
  {
    file: '% under fractions',
    text: heights('time_us,a_fs', (i) => fixed(burst(i, 80))),
    asks: ['implausible-amplitude null'],
    says: /said to be a fraction of full scale, but would reach 8/,
    answers: [{ stated: percent, is: { samples: [-0.8] } }],
  },
  {
    file: 'counts under %',
    text: heights('time_us,a_pct', (i) => String(Math.round(burst(i, 2000)))),
    asks: ['implausible-amplitude null'],
    says: /would reach 20\d\d % of full screen/,
    answers: [{ stated: { amplitudeUnit: 'count', fullScreen: 2048 }, is: { amplitudeUnit: 'count' } }],
  },
  {
    file: 'counts under volts, with a full scale of 1 V',
    text: `# full_scale: 1 V\n${heights('time_us,a_V', (i) => String(Math.round(burst(i, 2000))))}`,
    asks: ['implausible-amplitude null'],
    says: /in volts, but would reach/,
    answers: [{ stated: { amplitudeUnit: 'count', fullScreen: 2048 }, is: { amplitudeUnit: 'count' } }],
  },
  {
    file: 'amplitudes without unit: %, volts or counts',
    text: heights('time_us,amplitude', (i) => fixed(burst(i))),
    asks: ['amplitude-unit-not-stated null'],
    says: /does not say the unit of ‘amplitude’/,
    answers: [{ stated: percent, is: { fullScreen: 100 } }],
  },
  {
    file: 'eight-bit numbers about 128 under %',
    text: heights('time_us,a_pct', (i) => String(Math.round(128 + burst(i, 60)))),
    asks: ['base-line-not-stated null'],
    says: /stays above zero, between 8\d and 18\d with a mean of 1\d\d/,
    answers: [{ stated: { ...percent, zeroLevel: 128 }, is: { zeroLevel: 128, rectification: 'rf' } }],
  },
  {
    file: 'counts about an offset that is no mid-scale',
    text: heights('time_us,counts', (i) => String(Math.round(118 + burst(i, 100)))),
    asks: ['full-screen-not-stated null', 'base-line-not-stated null'],
    says: /State its base line|how many are 100 %/,
    answers: [{ stated: { fullScreen: 127, zeroLevel: 118 }, is: { zeroLevel: 118, rectification: 'rf' } }],
  },
  {
    file: 'counts about an offset that is no mid-scale, down to zero',
    text: heights('time_us,counts', (i) => String(Math.max(0, Math.round(118 + burst(i, 130))))),
    asks: ['full-screen-not-stated null', 'base-line-not-stated null'],
    says: /State its base line|how many are 100 %/,
    answers: [{ stated: { fullScreen: 127, zeroLevel: 118 }, is: { zeroLevel: 118, rectification: 'rf' } }],
  },
  {
    file: 'rectified, on an offset of 20 %',
    text: heights('time_us,a_pct', (i) => fixed(20 + rectified(i))),
    asks: ['base-line-not-stated null'],
    says: /‘a_pct’ stays above zero, between 20/,
    answers: [{ stated: { zeroLevel: 20 }, is: { zeroLevel: 20, rectification: 'full' } }],
  },
  {
    file: 'volts about an offset of 2.5 V',
    text: `# full_scale: 2.5 V\n${heights('time_us,a_V', (i) => fixed(2.5 + burst(i, 1), 4))}`,
    asks: ['base-line-not-stated null'],
    says: /with a mean of 2\.5/,
    answers: [{ stated: { zeroLevel: 2.5 }, is: { zeroLevel: 2.5, rectification: 'rf' } }],
  },
  {
    file: 'rectified, with an offset of a converter below zero',
    text: heights('time_us,a_pct', (i) => fixed(rectified(i) - 2)),
    asks: ['rectification-doubtful null'],
    says: /RF, or rectified with an offset/,
    answers: [
      { stated: { rectification: 'full' }, is: { rectification: 'full' } },
      { stated: { rectification: 'rf' }, is: { rectification: 'rf' } },
    ],
  },
  {
    file: 'nothing above the base line',
    text: heights('time_us,a_pct', (i) => fixed(-rectified(i))),
    asks: ['rectification-doubtful null'],
    says: /never goes above its base line/,
    answers: [{ stated: { rectification: 'negative' }, is: { rectification: 'negative' } }],
  },
  ...(['03/04/2026', '03-04-2026 06:05'] as const).map(
    (date): Asked => ({
      file: `a date that may be day/month or month/day: ${date}`,
      text: dated(date),
      asks: ['ambiguous-date null'],
      says: /may be day\/month or month\/day/,
      answers: [
        { stated: { dateOrder: 'day-first' }, is: { takenAt: `2026-04-03${date.includes(':') ? 'T06:05:00' : ''}` } },
        { stated: { dateOrder: 'month-first' }, is: { takenAt: `2026-03-04${date.includes(':') ? 'T06:05:00' : ''}` } },
      ],
    }),
  ),
  {
    file: 'a velocity whose comma may separate thousands',
    text: `# velocity (m/s): 5,920\n${table('path_mm,a_pct', (i) => `${fixed(i * 0.0296, 4)},${fixed(burst(i))}`)}`,
    asks: ['axis-velocity-not-stated null'],
    says: /velocity it was drawn with is not stated/,
    answers: [{ stated: { axisVelocityMPerS: 5920 }, is: { stepUs: 0.01 } }],
  },
];

it('a mark is judged for each file of a batch afresh, although the names above it are the same', () => {
  const first = table('time_us;counts', (i) => `${fixed(i * 0.01, 3)};${Math.round(burst(i, 900))}`);
  const second = table('time_us;counts', (i) => `${grouped(1000 + i * 10, '.')};${Math.round(burst(i, 900))}`);
  // One and the same recipe, as for the files of a folder: what was found of the last file is then at hand.
  const recipe = { ...inferEverything, ...counts };
  const asksOf = (text: string) => codesOf(ofGood(importBytes('a.csv', bytesOf(text), recipe, null)).asks);
  expect([first, first, second].map(asksOf)).toEqual([[], [], ['ambiguous-thousands']]);
});

describe('asked, with nothing computed before it is answered', () => {
  it.each(asked)('$file', ({ text, asks, says, answers }) => {
    const file = readText(text);
    expect(file.asks.map(({ code, place }) => `${code} ${place.line}`)).toEqual(asks);
    expect(file.captures).toEqual([]);
    expect(file.asks[0].sentence).toMatch(says);
    for (const ask of file.asks) {
      // The sentence names its place: a line, or what stands between quotation marks.
      if (ask.place.line === null) expect(ask.sentence).toMatch(/‘[^’]+’|sampling rate/);
      expect(onScreen(ask.sentence)).not.toMatch(/--[a-z]/);
    }
    for (const { stated, is } of answers) {
      expect(codesOf(readText(text, stated).asks)).toEqual([]);
      expect(taken(text, stated, is)).toEqual(is);
    }
  });

  it.each(asked)(
    '$file: what was guessed says that it is to be stated, and a saved recipe leaves it open',
    ({ text }) => {
      const file = readText(text);
      expect(guessesOf(inferEverything, file).map(({ certainty }) => certainty)).toContain('asked');
      expect(codesOf(readText(text, withoutAsked(inferEverything, file)).asks)).toEqual(codesOf(file.asks));
    },
  );
});

interface Refused {
  readonly file: string;
  readonly text: string;
  readonly problems: readonly string[];
  readonly says: RegExp;
}

const withRow = (at: number, row: string) =>
  plain
    .split('\n')
    .map((line, i) => (i === at - 1 ? row : line))
    .join('\n');
const along = (values: (i: number) => string) => Array.from({ length: 200 }, (_, i) => values(i)).join(',');

const refused: readonly Refused[] = [
  {
    file: 'thousands between commas in one column, decimal points in another',
    text: table('time_ns;a_pct', (i) => `${grouped(990 + i * 10, ',')};${fixed(burst(i))}`)
      .split('\n')
      .slice(0, 4)
      .join('\n')
      .concat('\n'),
    problems: ['ambiguous-number 3:1', 'ambiguous-number 4:1'],
    says: /‘1,000’ here: the mark may separate thousands or decimals/,
  },
  {
    file: 'thousands between points in one column, decimal commas in another',
    text: table('time_ns;a_pct', (i) => `${grouped(990 + i * 10, '.')};${comma(burst(i))}`)
      .split('\n')
      .slice(0, 3)
      .join('\n')
      .concat('\n'),
    problems: ['ambiguous-number 3:1'],
    says: /‘1\.000’ here/,
  },
  {
    file: 'times of which the thousands, deep in the record, have a comma, and go backward by it',
    text: table('time_ns;counts', (i) => `${grouped(800 + i * 10, ',')};${Math.round(burst(i, 900))}`),
    problems: ['ambiguous-thousands 22:null', 'backward-time 22:1'],
    says: /‘1,000’ in ‘time_ns’ may be 1000 or 1\.000/,
  },
  {
    file: 'thousands between blanks',
    text: table('time_ns;counts', (i) => `${grouped(990 + i * 10, ' ')};${Math.round(burst(i, 900))}`, 2),
    problems: ['text-in-number 3:1'],
    says: /‘1 000’ here, which is no number/,
  },
  {
    file: 'thousands between blanks, between blanks',
    text: table('time_ns counts', (i) => `${grouped(1000 + i * 10, ' ')} ${Math.round(burst(i, 900))}`),
    problems: ['header-and-rows-differ 2:1'],
    says: /header has 2 names, this row has 3 fields/,
  },
  {
    file: 'decimal commas between commas',
    text: table('time_us,a_pct', (i) => `${comma(i * 0.01)},${comma(burst(i))}`),
    problems: ['decimal-comma-and-delimiter 2:1'],
    says: /both delimiter and decimal mark/,
  },
  {
    file: 'decimal commas in one of two columns, between commas',
    text: table('time_us,a_pct', (i) => `${i},${comma(burst(i))}`),
    problems: ['header-and-rows-differ 2:1'],
    says: /Commas may be decimal marks here, or separate thousands/,
  },
  {
    file: 'thousands between commas, between commas, beside decimal points',
    text: table('time_us,counts', (i) => `${fixed(i * 0.01)},${grouped(1000 + i, ',')}`),
    problems: ['header-and-rows-differ 2:1'],
    says: /this row has 3 fields/,
  },
  {
    file: 'names that lack that of the row number in front',
    text: table('time_us\ta_pct', (i) => `${i + 1}\t${fixed(i * 0.01)}\t${fixed(burst(i))}`),
    problems: ['header-and-rows-differ 2:1'],
    says: /which name belongs to which cannot be told/,
  },
  {
    file: 'more names than columns',
    text: table('time_us,gate,a_pct', (i) => `${fixed(i * 0.01)},${fixed(burst(i))}`),
    problems: ['header-and-rows-differ 2:1'],
    says: /header has 3 names, this row has 2 fields/,
  },
  {
    file: 'samples that are missing',
    text: table('time_us,a_pct', (i) => `${fixed((i > 29 ? i + 3 : i) * 0.01)},${fixed(burst(i))}`),
    problems: ['uneven-time 32:1'],
    says: /jumps here/,
  },
  {
    file: 'a time that comes twice',
    text: table('time_us,a_pct', (i) => `${fixed((i > 29 ? i - 1 : i) * 0.01)},${fixed(burst(i))}`),
    problems: ['repeated-time 32:1'],
    says: /two samples cannot have one time/,
  },
  {
    file: 'a step that changes',
    text: table('time_us,a_pct', (i) => `${fixed(i < 30 ? i * 0.01 : 0.3 + (i - 30) * 0.02)},${fixed(burst(i))}`),
    problems: ['uneven-time 33:1'],
    says: /Its usual step is 0\.01/,
  },
  {
    file: 'a counter of 32 bits that begins anew',
    text: table('sample,a_pct', (i) => `${(2 ** 32 - 6 + i) % 2 ** 32},${fixed(burst(i))}`),
    problems: ['backward-time 8:1'],
    says: /its counter began anew/,
  },
  {
    file: 'nanoseconds of 32 bits with a sign that turn negative',
    text: table('time_ns,a_pct', (i) => `${(2 ** 31 - 55 + i * 10) | 0},${fixed(burst(i))}`),
    problems: ['backward-time 8:1'],
    says: /goes backward here/,
  },
  {
    file: 'samples in reverse',
    text: table('time_us,a_pct', (i) => `${fixed((400 - i) * 0.01)},${fixed(burst(i))}`),
    problems: ['backward-time 3:1'],
    says: /in reverse, or it is no axis/,
  },
  {
    file: 'the names once more within the rows',
    text: withRow(42, 'time_us,a_pct'),
    problems: ['text-in-number 42:1', 'text-in-number 42:9'],
    says: /‘time_us’ here, which is no number/,
  },
  {
    file: 'amplitudes in dB alone',
    text: heights('time_us,amplitude (dB)', (i) => fixed(20 * Math.log10(rectified(i) / 100 + 1e-6))),
    problems: ['decibel-amplitude 1:1'],
    says: /a logarithm without sign/,
  },
  {
    file: 'a spectrum',
    text: table('frequency_MHz,amplitude_pct', (i) => `${fixed(i * 0.01)},${fixed(rectified(i))}`),
    problems: ['frequency-axis 1:1'],
    says: /a spectrum, and no waveform over time/,
  },
  {
    file: 'captures in rows, numbers alone',
    text: `${Array.from({ length: 5 }, () => along((i) => fixed(burst(i)))).join('\n')}\n`,
    problems: ['samples-along-rows 1:1'],
    says: /200 columns of amplitudes with 5 samples each/,
  },
  {
    file: 'captures in rows, a name before each',
    text: `capture,${along((i) => `s${i}`)}\n${['A', 'B', 'C'].map((name) => `${name},${along((i) => fixed(burst(i)))}`).join('\n')}\n`,
    problems: ['samples-along-rows 2:1'],
    says: /seem to stand along the rows/,
  },
  {
    file: 'captures in rows below a row of times',
    text: `time_us,${along((i) => fixed(i * 0.01))}\na_pct,${along((i) => fixed(burst(i)))}\nb_pct,${along((i) => fixed(burst(i)))}\n`,
    problems: ['text-in-number 1:1', 'text-in-number 2:1', 'text-in-number 3:1'],
    says: /‘time_us’ here, which is no number/,
  },
  {
    file: 'a date that a spreadsheet made of a number',
    text: withRow(22, '0.20,02-Mar'),
    problems: ['text-in-number 22:6'],
    says: /‘02-Mar’ here/,
  },
  {
    file: 'a date of three numbers in place of one',
    text: withRow(22, '0.20,01.05.2026'),
    problems: ['text-in-number 22:6'],
    says: /‘01\.05\.2026’ here/,
  },
  {
    file: 'signs for a column that was too narrow',
    text: withRow(22, '0.20,#####'),
    problems: ['text-in-number 22:6'],
    says: /‘#####’ here/,
  },
  {
    file: 'times that a spreadsheet rounded to three digits, until they repeat',
    text: table('time_ns,a_pct', (i) => `${(100_000 + i * 10).toExponential(2)},${fixed(burst(i))}`),
    problems: ['repeated-time 3:1'],
    says: /too few digits/,
  },
  {
    file: 'times that a spreadsheet rounded to three digits, so that they are uneven',
    text: table('time_s,a_pct', (i) => `${(9.9e-6 + i * 1.05e-7).toExponential(2)},${fixed(burst(i))}`, 12),
    problems: ['uneven-time 12:1'],
    says: /not evenly spaced/,
  },
];

describe('refused, at its place', () => {
  it.each(refused)('$file', ({ text, problems, says }) => {
    const outcome = importText(text);
    expect(problemsOf(outcome)).toEqual(problems);
    if (!outcome.ok) expect(outcome.problems[0].sentence).toMatch(says);
  });
});

describe('a record that was cut off is known by its samples, whichever unit they are in', () => {
  const cut = (height: number, lowest: number, highest: number) => (i: number) =>
    Math.min(highest, Math.max(lowest, burst(i, height)));
  it.each([
    { name: 'at ± 100 %', text: heights('time_us,a_pct', (i) => fixed(cut(300, -100, 100)(i))), recipe: {} },
    {
      name: 'at the limits of a converter of eight bits about 128',
      text: heights('time_us,counts', (i) => String(Math.round(128 + cut(300, -128, 127)(i)))),
      recipe: { fullScreen: 128 },
    },
    {
      name: 'on one side alone, below full screen',
      text: heights('time_us,a_pct', (i) => fixed(cut(90, -200, 55)(i))),
      recipe: {},
    },
    {
      name: 'at the limit of volts that is no full screen',
      text: heights('time_us,a_V', (i) => fixed(cut(3, -0.5, 0.5)(i), 4)),
      recipe: { fullScreen: 1 },
    },
  ])('$name', ({ text, recipe }) => {
    const { waveform } = readText(text, recipe).captures[0];
    const runs = saturatedRuns(waveform, resolutionOf(waveform.samples));
    expect(runs.length).toBeGreaterThan(0);
    for (const { first, last } of runs) expect([first > 160, last < 240]).toEqual([true, true]);
  });

  it('one that was not is not', () => {
    const { waveform } = readText(plain).captures[0];
    expect(saturatedRuns(waveform, resolutionOf(waveform.samples))).toEqual([]);
  });
});

describe('what was guessed, and how sure', () => {
  const certaintyOf = (text: string, what: string, recipe: Partial<ImportRecipe> = {}) => {
    const guess = guessesOf({ ...inferEverything, ...recipe }, readText(text, recipe)).find((g) => g.what === what);
    return guess === undefined ? null : [guess.taken, guess.certainty];
  };
  const rising = heights('time_us,a_pct', (i) => fixed(rectified(i)));

  it.each([
    ['unit of the axis', plain, {}, ['us', 'written']],
    ['unit of the axis', plain, { timeUnit: 'us' }, ['us', 'stated']],
    ['unit of the axis', `# sample rate: 100 MHz\n${plain.replace('time_us', 'time')}`, {}, ['us', 'inferred']],
    ['unit of the axis', plain.replace('time_us', 'time'), {}, [null, 'asked']],
    ['rectification', plain, {}, ['rf', 'inferred']],
    ['rectification', rising, {}, ['full', 'assumed']],
    ['rectification', rising, { rectification: 'envelope' }, ['envelope', 'stated']],
    ['decimal mark', plain, {}, ['point', 'inferred']],
    ['unit of amplitude', plain, {}, ['percent', 'written']],
    ['line of the names', plain, {}, ['1', 'inferred']],
    ['columns of amplitudes', plain, {}, ['2', 'inferred']],
    ['base line', plain, { zeroLevel: 1 }, ['1', 'stated']],
  ] as const)('%s', (what, text, recipe, expected) => {
    expect(certaintyOf(text, what, recipe)).toEqual(expected);
  });
});
