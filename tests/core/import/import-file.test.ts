import { describe, expect, it } from 'vitest';
import { importBytes } from '../../../core/import/import-file.ts';
import { type ImportRecipe, inferEverything } from '../../../core/import/import-recipe.ts';
import { bytesOf, codesOf, importText, ofGood, plainFile, plainRows, problemsOf, readText } from './csv-bytes.ts';

const counted = (count: number, row: (i: number) => string) =>
  Array.from({ length: count }, (_, i) => `${row(i)}\n`).join('');
const rows = counted(5, (i) => `${i * 10},${[0, 30, -40, 20, -10][i]}`);
/** The same five samples in every form: 10 ns apart, in the unit that the form states. */
const amplitudes = [0, 30, -40, 20, -10];

describe('one record in many forms', () => {
  it.each([
    { name: 'comma, point', text: `time_ns,a_pct\n${rows}` },
    { name: 'semicolon', text: `time_ns;a_pct\n${rows.replaceAll(',', ';')}` },
    { name: 'tab', text: `time_ns\ta_pct\n${rows.replaceAll(',', '\t')}` },
    { name: 'spaces', text: `time_ns   a_pct\n${rows.replaceAll(',', '    ')}` },
    {
      name: 'spaces before and behind',
      text: `  time (ns)  a (%)\n${rows.replace(/^/gm, '  ').replaceAll(',', '  ').replaceAll('\n', ' \n')}`,
    },
    { name: 'semicolon, decimal comma', text: 'time_us;a_pct\n0,00;0\n0,01;30,0\n0,02;-40,0\n0,03;20,0\n0,04;-10,0\n' },
    { name: 'tab, decimal comma', text: 'time_us\ta_pct\n0,00\t0\n0,01\t30,0\n0,02\t-40,0\n0,03\t20,0\n0,04\t-10,0\n' },
    { name: 'spaces, decimal comma', text: 'time_us a_pct\n0,00 0\n0,01 30,0\n0,02 -40,0\n0,03 20,0\n0,04 -10,0\n' },
    {
      name: 'quoted decimal commas between commas',
      text: 'time_us,a_pct\n"0,00","0"\n"0,01","30,0"\n"0,02","-40,0"\n"0,03","20,0"\n"0,04","-10,0"\n',
    },
    { name: 'everything quoted', text: `"time_ns","a_pct"\n${rows.replace(/[^,\n]+/g, '"$&"')}` },
    { name: 'CRLF', text: `time_ns,a_pct\n${rows}`.replaceAll('\n', '\r\n') },
    { name: 'lone CR', text: `time_ns,a_pct\n${rows}`.replaceAll('\n', '\r') },
    { name: 'mixed line ends', text: `time_ns,a_pct\r\n${rows.replace('\n', '\r\n').replace('10,', '10,')}` },
    { name: 'blanks behind the delimiter', text: `time_ns, a_pct\n${rows.replaceAll(',', ', ')}` },
    { name: 'a blank last field on every row', text: `time_ns,a_pct,\n${rows.replaceAll('\n', ',\n')}` },
    { name: 'a blank last field on the rows only', text: `time_ns,a_pct\n${rows.replaceAll('\n', ', \n')}` },
    { name: 'exponents', text: 'time (s),a (%)\n0E0,0\n1E-8,3E+1\n2.0e-08,-4e1\n3e-8,2.0E1\n4E-8,-1e1\n' },
    { name: 'integers first, then decimals', text: `time_us;a_pct\n0;0\n0,01;30\n0,02;-40\n0,03;20\n0,04;-10\n` },
    { name: 'a row of units', text: `Time,Amplitude\nns,%\n${rows}` },
    { name: 'a row of units in brackets', text: `Time,Amplitude\n[ns],[%]\n${rows}` },
    { name: 'a header of units alone', text: `[ns],[%FSH]\n${rows}` },
    { name: 'the header in a comment', text: `# time_ns,a_pct\n${rows}` },
    { name: 'amplitude before time', text: `a_pct,time_ns\n${counted(5, (i) => `${amplitudes[i]},${i * 10}`)}` },
    {
      name: 'a column that is neither',
      text: `time_ns,a_pct,temperature\n${rows.replaceAll('\n', ',21.5\n')}`,
      warnings: ['column-ignored'],
    },
    {
      name: 'a sample number beside the time',
      text: `sample,time_ns,a_pct\n${counted(5, (i) => `${i},${i * 10},${amplitudes[i]}`)}`,
      warnings: ['column-ignored'],
    },
    {
      name: 'amplitude alone, the rate in the preamble',
      text: `# sample_rate_MHz: 100\na_pct\n${amplitudes.join('\n')}\n`,
      warnings: ['start-assumed'],
    },
    {
      name: 'amplitude alone, step and start in the preamble',
      text: `step_ns=10\nstart_us=0\na_pct\n${amplitudes.join('\n')}\n`,
    },
    {
      name: 'amplitude alone, decimal comma',
      text: '# sample_rate_MHz: 100\n# start_us: 0\na (%)\n0,0\n30,0\n-40,0\n20,0\n-10,0\n',
    },
    {
      name: 'sample numbers, the rate in the preamble',
      text: `# sampling rate: 100 MHz\n# start_us: 0\nsample,a_pct\n${counted(5, (i) => `${i},${amplitudes[i]}`)}`,
    },
    {
      name: 'start and increment in the header rows',
      text: `X,CH1,Start,Increment,\nSequence,%,0,1e-8,\n${counted(5, (i) => `${i},${amplitudes[i]},`)}`,
      warnings: ['increment-in-seconds'],
    },
    {
      name: 'sound path of steel, 10 ns of two-way time',
      text: `# velocity (m/s): 6000\nsound_path_mm,a_pct\n${counted(5, (i) => `${(i * 0.03).toFixed(2)},${amplitudes[i]}`)}`,
      warnings: ['axis-velocity-from-file'],
    },
    {
      name: 'fractions of full scale',
      text: `time_ns,a_fs\n${counted(5, (i) => `${i * 10},${amplitudes[i] / 100}`)}`,
      warnings: ['fraction-to-percent'],
    },
    { name: 'units told in the preamble', text: `time unit: ns\namplitude unit: %FSH\nTime,Amplitude\n${rows}` },
    {
      name: 'the time unit told by the rate',
      text: `# sample rate: 100 MHz\nTime,a_pct\n${rows}`,
      warnings: ['time-unit-from-rate'],
    },
  ])('$name', ({ text, warnings = [] as string[] }) => {
    const file = readText(text);
    expect(codesOf(file.asks)).toEqual([]);
    expect(codesOf(file.warnings)).toEqual(warnings);
    expect(file.captures).toHaveLength(1);
    const { waveform } = file.captures[0];
    expect([...waveform.samples].map((sample) => Number(sample.toPrecision(12)))).toEqual(amplitudes);
    expect(waveform).toMatchObject({
      startUs: 0,
      amplitudeUnit: 'percent',
      fullScreen: 100,
      zeroLevel: 0,
      rectification: 'rf',
    });
    expect(waveform.stepUs).toBeCloseTo(0.01, 14);
  });

  it.each([
    { encoding: 'utf-8', mark: '' },
    { encoding: 'utf-8', mark: '\ufeff' },
    { encoding: 'utf-16le', mark: '\ufeff' },
    { encoding: 'utf-16be', mark: '\ufeff' },
    { encoding: 'utf-16le', mark: '' },
    { encoding: 'utf-16be', mark: '' },
    { encoding: 'latin-1', mark: '' },
  ] as const)('$encoding, byte order mark ‘$mark’', ({ encoding, mark }) => {
    const text = `${mark}# Prüfer: Süd\nTime (µs);Amplitude (%)\n${plainRows(3000).join('\n').replaceAll(',', ';')}\n`;
    const file = ofGood(importBytes('a.csv', bytesOf(text, encoding), inferEverything, null));
    expect(file.encoding).toBe(encoding);
    expect(codesOf(file.warnings)).toEqual(encoding === 'latin-1' ? ['encoding-latin-1'] : []);
    expect(file.metadata).toEqual([{ key: 'Prüfer', value: 'Süd' }]);
    expect(file.traces).toEqual([
      {
        name: 'Amplitude (%)',
        samples: 3000,
        startUs: 0,
        stepUs: 0.01,
        amplitudeUnit: 'percent',
        rectification: 'rf',
        zeroLevel: 0,
      },
    ]);
  });
});

describe('units of the axis in the usual ways', () => {
  it.each([
    ['time_us', 1],
    ['Time (µs)', 1],
    ['Time (μs)', 1],
    ['t/µs', 1],
    ['[us]', 1],
    ['time.us', 1],
    ['timeUs', 1],
    ['Time in microseconds', 1],
    ['time_s', 1e6],
    ['t/s', 1e6],
    ['Time [s]', 1e6],
    ['Second', 1e6],
    ['time_ms', 1e3],
    ['Time (ms)', 1e3],
    ['T (ns)', 1e-3],
    ['nanoseconds', 1e-3],
  ])('‘%s’', (header, unitUs) => {
    // 10 ns apart, in the unit that the header states.
    const stamps = [0, 1, 2].map((i) => (i * 0.01) / unitUs);
    const file = readText(`"${header}",a_pct\n${stamps.map((stamp, i) => `${stamp},${[1, -2, 3][i]}\n`).join('')}`);
    expect(codesOf(file.asks)).toEqual([]);
    expect(file.traces[0].stepUs).toBeCloseTo(0.01, 12);
  });

  it.each([
    ['path_mm', 2 / 5.92],
    ['Distance (cm)', 20 / 5.92],
    ['sound path [m]', 2000 / 5.92],
    ['range/in', 50.8 / 5.92],
  ])('‘%s’ with 5920 m/s', (header, unitUs) => {
    const stamps = [0, 1, 2].map((i) => (i * 0.01) / unitUs);
    const text = `"${header}",a_pct\n${stamps.map((stamp, i) => `${stamp},${[1, -2, 3][i]}\n`).join('')}`;
    const file = readText(text, { axisVelocityMPerS: 5920 });
    expect(codesOf(file.asks)).toEqual([]);
    expect(file.traces[0].stepUs).toBeCloseTo(0.01, 9);
  });
});

describe('units of the amplitude in the usual ways', () => {
  it.each([
    ['amplitude_pct', 'percent', 1],
    ['Amplitude (%FSH)', 'percent', 1],
    ['A/%', 'percent', 1],
    ['amplitude_percent', 'percent', 1],
    ['amplitude_fs', 'percent', 100],
    ['CH1 (V)', 'volt', 1],
    ['Volt', 'volt', 1],
    ['U_mV', 'volt', 0.001],
    ['Voltage (µV)', 'volt', 0.000001],
    ['counts', 'count', 1],
    ['echo [LSB]', 'count', 1],
    ['adc', 'count', 1],
  ])('‘%s’ is %s', (header, unit, scale) => {
    const { captures } = readText(`time_us,"${header}"\n0,250\n1,-125\n2,375\n`, { fullScreen: 1000 });
    expect(captures[0].waveform.amplitudeUnit).toBe(unit);
    expect([...captures[0].waveform.samples]).toEqual(
      [250, -125, 375].map((value) => (scale < 1 ? value / Math.round(1 / scale) : value * scale)),
    );
  });
});

describe('what a person must say before the file can be measured with', () => {
  it.each([
    {
      name: 'the unit of time',
      text: 'Time,a_pct\n0,1\n1e-8,-2\n2e-8,3\n',
      asks: ['time-unit-not-stated'],
      recipe: { timeUnit: 's' },
    },
    {
      name: 'the unit of amplitude',
      text: 'time_us,Amplitude\n0,1\n1,-2\n2,3\n',
      asks: ['amplitude-unit-not-stated'],
      recipe: { amplitudeUnit: 'percent' },
    },
    {
      name: 'full screen in volts',
      text: 'time_us,a_V\n0,1\n1,-2\n2,3\n',
      asks: ['full-screen-not-stated'],
      recipe: { fullScreen: 5 },
    },
    {
      name: 'full screen in counts',
      text: 'time_us,counts\n0,1\n1,-2\n2,3\n',
      asks: ['full-screen-not-stated'],
      recipe: { fullScreen: 127 },
    },
    {
      name: 'the velocity of a distance axis',
      text: 'path_mm,a_pct\n0,1\n1,-2\n2,3\n',
      asks: ['axis-velocity-not-stated'],
      recipe: { axisVelocityMPerS: 5920 },
    },
    {
      name: 'the unit of a distance axis',
      text: 'path,a_pct\n0,1\n1,-2\n2,3\n',
      asks: ['distance-unit-not-stated'],
      recipe: { distanceUnit: 'mm' },
      also: { axisVelocityMPerS: 5920 },
    },
    {
      name: 'the sampling rate of amplitudes alone',
      text: 'a_pct\n1\n-2\n3\n',
      asks: ['sampling-rate-not-stated'],
      recipe: { sampleRateMHz: 100 },
    },
    {
      name: 'the order of day and month',
      text: 'date: 03/04/2026 06:00\ntime_us,a_pct\n0,1\n1,-2\n2,3\n',
      asks: ['ambiguous-date'],
      recipe: { dateOrder: 'day-first' },
    },
  ] as const)('$name', ({ text, asks, recipe, ...more }) => {
    const also = 'also' in more ? more.also : {};
    const unsaid = readText(text, also);
    expect(codesOf(unsaid.asks)).toEqual(asks);
    expect(unsaid.captures).toEqual([]);
    expect(unsaid.traces).toHaveLength(1);
    const said = readText(text, { ...also, ...(recipe as Partial<ImportRecipe>) });
    expect(codesOf(said.asks)).toEqual([]);
    expect(said.captures).toHaveLength(1);
  });

  it('an unstated time unit is inferred for the description where only one gives a plausible rate', () => {
    // 0.01: 100 Hz in s, 100 kHz in ms, 100 MHz in µs, 100 GHz in ns.
    const file = readText('t,a_pct\n0,1\n0.01,-2\n0.02,3\n');
    expect(file.traces[0]).toMatchObject({ startUs: 0, stepUs: 0.01 });
    expect(file.asks[0].sentence).toMatch(/only µs gives a plausible sampling rate \(100 MHz\)/);
  });

  it('and left unknown where two do', () => {
    // 2e-8: 50 MHz in s, 50 GHz in ms.
    const file = readText('t,a_pct\n0,1\n2e-8,-2\n4e-8,3\n');
    expect(file.traces[0]).toMatchObject({ startUs: null, stepUs: null });
  });
});

describe('nothing is inferred in silence', () => {
  const codes = (text: string, recipe: Partial<ImportRecipe> = {}) => codesOf(readText(text, recipe).warnings);

  it('a record that never goes below zero', () => {
    expect(codes('time_us,a_pct\n0,1\n1,2\n2,3\n')).toEqual(['rectification-inferred']);
  });

  describe('unsigned counts around mid-scale', () => {
    const text = `time_us,counts\n${counted(40, (i) => `${i},${2048 + (((i * 701) % 1001) - 500)}`)}`;

    it.each([
      { name: 'full screen told', preamble: '', fullScreen: 2048, is: 2048, warnings: ['zero-at-mid-scale'] },
      {
        name: 'full screen told too large',
        preamble: '',
        fullScreen: 4096,
        is: 4096,
        warnings: ['zero-at-mid-scale', 'full-screen-out-of-range'],
      },
      {
        name: 'the range of the converter in the file',
        preamble: '# adc_full_scale: 4096\n',
        fullScreen: null,
        is: 2048,
        warnings: ['zero-at-mid-scale', 'full-scale-of-converter'],
      },
      {
        name: 'full screen in the file',
        preamble: '# full_screen: 2000\n',
        fullScreen: null,
        is: 2000,
        warnings: ['zero-at-mid-scale'],
      },
    ])('$name', ({ preamble, fullScreen, is, warnings }) => {
      const file = readText(preamble + text, { fullScreen });
      expect(codesOf(file.warnings)).toEqual(warnings);
      expect(file.captures[0].waveform).toMatchObject({ zeroLevel: 2048, rectification: 'rf', fullScreen: is });
    });
  });

  it('units that the recipe overrides', () => {
    expect(codes(plainFile(40, 'time_ns,a_pct'), { timeUnit: 'us' })).toEqual(['unit-overridden']);
    expect(codes(plainFile(), { amplitudeUnit: 'volt', fullScreen: 50 })).toEqual(['unit-overridden']);
  });

  it('thousands separators', () => {
    const file = readText('time_us;counts\n0;1.234,5\n1;-2.345,5\n2;17,0\n', { fullScreen: 2048 });
    expect(codesOf(file.warnings)).toEqual(['thousands-separators']);
    expect([...file.captures[0].waveform.samples]).toEqual([1234.5, -2345.5, 17]);
  });

  it('a first row that is not sample 0', () => {
    const file = readText(
      `X,CH1,Start,Increment,\nSequence,%,-1e-3,2e-6,\n${counted(5, (i) => `${i + 22},${amplitudes[i]},`)}`,
    );
    expect(file.warnings.map(({ sentence }) => sentence).join()).toMatch(
      /sample 22.*start \+ 22 increments.*44 µs too late/,
    );
    expect(file.traces[0].startUs).toBeCloseTo(-956, 9);
  });

  it('stamps of few digits', () => {
    const file = readText(`time_us,a_pct\n${counted(600, (i) => `${(i / 60).toFixed(2)},${(i % 9) - 4}`)}`);
    expect(codesOf(file.warnings)).toEqual(['coarse-axis']);
    expect(1 / (file.traces[0].stepUs ?? 0)).toBeCloseTo(60, 1);
  });
});

describe('rectification', () => {
  it.each([
    ['rf_pct', '1,-2,3', 'rf'],
    ['a (%) rectified', '1,2,3', 'full'],
    ['full-wave_pct', '1,2,3', 'full'],
    ['positive half-wave (%)', '1,2,3', 'positive'],
    ['negative_pct', '1,2,3', 'negative'],
    ['envelope_pct', '1,2,3', 'envelope'],
    ['video (%)', '1,2,3', 'envelope'],
    ['a_pct', '1,-2,3', 'rf'],
    ['a_pct', '100,-1,3', 'full'],
  ])('‘%s’ with %s is %s', (header, values, rectification) => {
    const text = `time_us,${header}\n${values
      .split(',')
      .map((value, i) => `${i},${value}\n`)
      .join('')}`;
    expect(readText(text).traces[0].rectification).toBe(rectification);
  });

  it('is taken from the preamble, and from the recipe before that', () => {
    const text = `# rectification: full\n${'time_us,a_pct\n0,1\n1,2\n2,3\n'}`;
    expect(readText(text).traces[0].rectification).toBe('full');
    expect(codesOf(readText(text).warnings)).toEqual([]);
    expect(readText(text, { rectification: 'envelope' }).traces[0].rectification).toBe('envelope');
  });

  it('that samples contradict is mentioned', () => {
    expect(codesOf(readText('# rectification: full\ntime_us,a_pct\n0,1\n1,-2\n2,3\n').warnings)).toEqual([
      'rectification-contradicts',
    ]);
  });
});

describe('several traces', () => {
  it('one for each column, named by its header', () => {
    const file = readText('time_us,ch 1 (%),ch 2 (%)\n0,1,-4\n1,-2,5\n2,3,-6\n');
    expect(file.captures.map(({ id, trace, waveform }) => [id, trace, ...waveform.samples])).toEqual([
      ['a.csv#ch 1 (%)', 'ch 1 (%)', 1, -2, 3],
      ['a.csv#ch 2 (%)', 'ch 2 (%)', -4, 5, -6],
    ]);
  });

  it('channels of one name are told apart by the preamble', () => {
    const file = readText(
      '"Channel Data","CH 1","CH 2"\n"Time (s)","Voltage (V)","Voltage (V)"\n0,1,-4\n1E-8,-2,5\n2E-8,3,-6\n',
      { fullScreen: 5 },
    );
    expect(file.captures.map(({ trace }) => trace)).toEqual(['CH 1', 'CH 2']);
  });

  it('of several hundred columns', () => {
    const names = Array.from({ length: 500 }, (_, i) => `trace_${i}`);
    const text = `time_us,${names.join(',')}\n${counted(300, (i) => [i / 100, ...names.map((_, k) => ((i * 31 + k * 17) % 101) - 50)].join(','))}`;
    const file = readText(text, { amplitudeUnit: 'percent' });
    expect(file.captures).toHaveLength(500);
    expect(file.captures[499].waveform.samples[299]).toBe(((299 * 31 + 499 * 17) % 101) - 50);
  });

  it('in the long form, one after the other or mixed, by number or by name', () => {
    const longRows = (ids: readonly string[]) =>
      ids.flatMap((id, k) => [0, 1, 2].map((i) => `${id},${i * 0.01},${k * 10 + i - 1}`));
    for (const ids of [
      ['1', '2'],
      ['north', 'south'],
      ['A-1', '2'],
    ]) {
      const ordered = longRows(ids);
      const mixed = [0, 1, 2].flatMap((i) => [ordered[i], ordered[3 + i]]);
      for (const form of [ordered, mixed]) {
        const file = readText(`capture,time_us,a_pct\n${form.join('\n')}\n`);
        expect(file.captures.map(({ trace, waveform }) => [trace, waveform.stepUs, ...waveform.samples])).toEqual([
          [ids[0], 0.01, -1, 0, 1],
          [ids[1], 0.01, 9, 10, 11],
        ]);
      }
    }
  });

  it('a jump in one capture of the long form is told at its line', () => {
    const text = 'capture,time_us,a_pct\n1,0,1\n2,0,1\n1,1,1\n2,1,1\n1,2,1\n2,3,1\n1,3,1\n2,4,1\n';
    expect(problemsOf(importText(text))).toEqual(['uneven-time 7:null']);
  });
});

describe('columns that the recipe names', () => {
  const text = 'time_us,a_pct,b_pct\n0,1,-4\n1,-2,5\n2,3,-6\n';
  const columns = inferEverything.columns;

  it('by header or by position', () => {
    for (const reference of ['b_pct', 3]) {
      const file = readText(text, { columns: { ...columns, amplitudes: [reference] } });
      expect(file.captures.map(({ trace, waveform }) => [trace, ...waveform.samples])).toEqual([['b_pct', -4, 5, -6]]);
    }
  });

  it('an unknown one is refused with the known ones', () => {
    for (const reference of ['c_pct', 4]) {
      const outcome = importText(text, { columns: { ...columns, amplitudes: [reference] } });
      expect(problemsOf(outcome)).toEqual(['unknown-column 1:null']);
      if (!outcome.ok) expect(outcome.problems[0].sentence).toMatch(/‘time_us’, ‘a_pct’, ‘b_pct’/);
    }
    expect(problemsOf(importText(text, { columns: { ...columns, axis: 'x' } }))).toEqual(['unknown-column 1:null']);
  });
});

describe('how a capture was taken', () => {
  it('is found in the preamble, which is kept whole', () => {
    const preamble = [
      '# exported after shift',
      '# Gain (dB): 42,5',
      '# taken_at: 2026-03-02T06:05:00+01:00',
      'probe position=1.5 cm',
      'y position (mm): 26',
      'probe: P-7, 4 MHz',
      '"block","two steps"',
      'temperature_C,21',
      '# operator: R. N.',
    ];
    const file = readText(`${preamble.join('\n')}\n${plainFile()}`);
    expect(file.captures[0]).toMatchObject({
      gainDb: 42.5,
      takenAt: '2026-03-02T06:05:00+01:00',
      positionMm: 15,
      acrossMm: 26,
      probe: 'P-7, 4 MHz',
      block: 'two steps',
      temperatureC: 21,
    });
    expect(file.metadata).toEqual([
      { key: 'note', value: 'exported after shift' },
      { key: 'Gain (dB)', value: '42,5' },
      { key: 'taken_at', value: '2026-03-02T06:05:00+01:00' },
      { key: 'probe position', value: '1.5 cm' },
      { key: 'y position (mm)', value: '26' },
      { key: 'probe', value: 'P-7, 4 MHz' },
      { key: 'block', value: 'two steps' },
      { key: 'temperature_C', value: '21' },
      { key: 'operator', value: 'R. N.' },
    ]);
  });

  it.each([
    { name: 'a gain without unit', line: 'gain: 42', warning: 'gain-unit-assumed', facts: { gainDb: 42 } },
    { name: 'a gain that is no number', line: 'gain: high', warning: 'gain-not-understood', facts: { gainDb: null } },
    {
      name: 'a position without unit',
      line: 'position: 12',
      warning: 'position-not-understood',
      facts: { positionMm: null },
    },
    {
      name: 'a position across without unit',
      line: 'across: 12',
      warning: 'position-not-understood',
      facts: { acrossMm: null, positionMm: null },
    },
    {
      name: 'a time without zone',
      line: 'taken_at: 2026-03-02 06:05',
      warning: 'time-without-zone',
      facts: { takenAt: '2026-03-02T06:05:00' },
    },
    {
      name: 'a time that is none',
      line: 'taken_at: yesterday',
      warning: 'time-not-understood',
      facts: { takenAt: null },
    },
  ])('$name is mentioned', ({ line, warning, facts }) => {
    const file = readText(`# ${line}\n${plainFile()}`);
    expect(codesOf(file.warnings)).toEqual([warning]);
    expect(file.captures[0]).toMatchObject(facts);
  });

  it('full screen and zero level', () => {
    const file = readText('# full_scale: 500 mV\n# zero_level: 0.01\ntime_us,a_V\n0,0.1\n1,-0.2\n2,0.3\n');
    expect(file.captures[0].waveform).toMatchObject({ amplitudeUnit: 'volt', fullScreen: 0.5, zeroLevel: 0.01 });
  });
});

describe('the recipe of an import serves the next file of its shape', () => {
  it.each([
    ['a plain file', plainFile()],
    [
      'decimal commas',
      'a;b\n'.replace('a;b', 'time_us;amplitude (%)') +
        plainRows().join('\n').replaceAll(',', ';').replaceAll('.', ','),
    ],
    ['the long form', `capture,time_us,a_pct\n${counted(6, (i) => `${i < 3 ? 'x' : 'y'},${i % 3},${i - 2}`)}`],
    ['a distance axis', '# velocity (m/s): 5920\npath_mm,a_pct\n0,1\n1,-2\n2,3\n'],
    ['fractions', 'time_us,a_fs\n0,0.1\n1,-0.2\n2,0.3\n'],
  ])('%s', (_name, text) => {
    const first = readText(text);
    const again = readText(text, JSON.parse(JSON.stringify(first.recipe)) as ImportRecipe);
    expect(again.captures).toEqual(first.captures);
    expect(again.recipe).toEqual(first.recipe);
  });

  it('what was inferred stands in it', () => {
    expect(readText(plainFile()).recipe).toMatchObject({
      encoding: 'utf-8',
      delimiter: ',',
      decimalMark: '.',
      headerLine: 1,
      axis: 'time',
      timeUnit: 'us',
      amplitudeUnit: 'percent',
      fullScreen: 100,
      columns: { axis: 1, amplitudes: [2], captureId: null },
    });
  });
});
