import type { Chance } from '../chance.ts';
import { edgeNumbers, edgeWords } from '../edges.ts';
import type { Input } from '../subject.ts';
import type { WrittenFile } from './judge.ts';

/**
 * Makes a waveform file from what it should be read as. One in three has something in it that the conventions do not allow, or edges of
 * numbers as values: then nothing is known of it, and only the slow reader says what it holds.
 */
export function madeFile(chance: Chance): Input<WrittenFile> {
  const style = anyStyle(chance);
  const isClean = !chance.oneIn(3);
  const layout = chance.pick(isClean ? cleanLayouts : layouts)(chance, style);
  const odd = isClean ? [] : oddities(chance, style);
  const lines = [...layout.preamble, ...layout.header, ...layout.rows.map((cells) => rowText(cells, style, chance))];
  for (const change of odd) change(lines);
  const end = style.endsLine ? style.lineEnd() : '';
  const text = lines.reduce((all, line, i) => `${all}${line}${i + 1 < lines.length ? style.lineEnd() : end}`, '');
  return { bytes: encoded(text, style.encoding, style.hasMark), truth: isClean ? layout.truth : null };
}

type EncodingName = 'utf-8' | 'latin-1' | 'utf-16le' | 'utf-16be';

interface Style {
  readonly delimiter: ',' | ';' | '\t' | ' ';
  readonly mark: '.' | ',';
  readonly encoding: EncodingName;
  readonly hasMark: boolean;
  readonly lineEnd: () => string;
  readonly endsLine: boolean;
  readonly quotes: 'none' | 'all' | 'some';
  readonly blankTail: boolean;
  readonly spaced: boolean;
}

function anyStyle(chance: Chance): Style {
  const delimiter = chance.pick([',', ';', '\t', ' '] as const);
  const mark = delimiter === ',' || chance.oneIn(2) ? '.' : ',';
  const encoding = chance.pick(['utf-8', 'utf-8', 'utf-8', 'latin-1', 'utf-16le', 'utf-16be'] as const);
  const lineEnd = chance.pick(['\n', '\n', '\r\n', '\r']);
  const isMixed = chance.oneIn(8);
  return {
    delimiter,
    mark,
    encoding,
    // Without a mark UTF-16 is told by the zeros of its first letters: all of these files begin with plain letters.
    hasMark: encoding === 'utf-8' ? chance.oneIn(3) : encoding !== 'latin-1' && !chance.oneIn(3),
    lineEnd: () => (isMixed ? chance.pick(['\n', '\r\n', '\r']) : lineEnd),
    endsLine: !chance.oneIn(5),
    quotes: delimiter === ' ' ? 'none' : chance.pick(['none', 'none', 'none', 'all', 'some'] as const),
    blankTail: delimiter !== ' ' && chance.oneIn(8),
    spaced: delimiter !== '\t' && chance.oneIn(6),
  };
}

function encoded(text: string, encoding: EncodingName, hasMark: boolean): Uint8Array {
  const marked = hasMark ? `\ufeff${text}` : text;
  if (encoding === 'utf-8') return new Uint8Array(Buffer.from(marked, 'utf8'));
  if (encoding === 'latin-1') return new Uint8Array(Buffer.from(text, 'latin1'));
  const bytes = Buffer.from(marked, 'utf16le');
  return new Uint8Array(encoding === 'utf-16le' ? bytes : bytes.swap16());
}

interface Layout {
  readonly preamble: readonly string[];
  readonly header: readonly string[];
  readonly rows: readonly (readonly string[])[];
  readonly truth: WrittenFile;
}

function rowText(cells: readonly string[], style: Style, chance: Chance): string {
  const padded = cells.map((cell) => {
    const isQuoted = style.quotes === 'all' || (style.quotes === 'some' && chance.oneIn(3));
    if (isQuoted) return `"${cell}"`;
    return style.spaced && chance.oneIn(2) ? ` ${cell}` : cell;
  });
  return padded.join(style.delimiter) + (style.blankTail ? style.delimiter : '');
}

/** A decimal number as text in the file's own mark, and as the language reads it. */
function decimal(units: number, decimals: number, style: Style): { readonly text: string; readonly value: number } {
  const digits = String(Math.abs(units)).padStart(decimals + 1, '0');
  const whole = digits.slice(0, digits.length - decimals);
  const plain = `${units < 0 ? '-' : ''}${whole}${decimals > 0 ? `.${digits.slice(-decimals)}` : ''}`;
  return { text: plain.replace('.', style.mark), value: Number(plain) };
}

/** A signal of both signs, with values that a converter or a screen could give, in as many decimals. */
function signal(chance: Chance, rows: number, decimals: number, style: Style) {
  const most = 10 ** Math.min(decimals + 2, 14);
  const column = Array.from({ length: rows }, () => decimal(chance.below(2 * most) - most, decimals, style));
  // Both half waves, so that the record is RF whatever chance gave.
  column[0] = decimal(-most + 1, decimals, style);
  column[1] = decimal(most - 1, decimals, style);
  return column;
}

const timeHeads = [
  { unit: 1, texts: ['time_us', 'Time (us)', 't/us', 'Time [us]', 'time in us'] },
  { unit: 1e6, texts: ['time_s', 'Time (s)', 't/s', 'seconds'] },
  { unit: 1e3, texts: ['time_ms', 'Time (ms)'] },
  { unit: 1e-3, texts: ['time_ns', 't [ns]'] },
];

function timeColumn(chance: Chance, rows: number, style: Style, unit: number) {
  // A rate that a waveform has: the step is 1 to 100 ns, written exactly.
  const stepNs = chance.pick([1, 2, 4, 5, 8, 10, 16, 20, 25, 40, 50, 100]);
  const startNs = chance.pick([0, 0, 100, -500, 12_345, 7]) * 1;
  const decimals = unit === 1e6 ? 9 : unit === 1e3 ? 6 : unit === 1 ? 3 : 0;
  return {
    cells: Array.from({ length: rows }, (_, i) => decimal(startNs + i * stepNs, decimals, style).text),
    startUs: startNs / 1000,
    stepUs: stepNs / 1000,
  };
}

function words(chance: Chance, style: Style): string[] {
  const lines = [
    '# gain_db: 42',
    '# probe: angle 60',
    'instrument=bench 3',
    '# taken_at: 2026-03-02T06:05:00Z',
    '# position_mm: 12.5',
    '# note without a key',
    '#',
    '',
    '# operator: day shift',
    '# block: own block, 25 mm',
  ];
  const chosen = Array.from({ length: chance.pick([0, 0, 1, 2, 5]) }, () => chance.pick(lines));
  return style.hasMark || style.encoding.startsWith('utf-16') ? ['# exported waveform', ...chosen] : chosen;
}

function joined(cells: readonly string[], style: Style, chance: Chance): string {
  return rowText(cells, { ...style, spaced: false, quotes: style.quotes === 'all' ? 'all' : 'none' }, chance);
}

/** Time and one amplitude or several. */
function timeAndTraces(chance: Chance, style: Style): Layout {
  const rows = chance.pick([10, 17, 40, 100, chance.oneIn(20) ? 3000 : 30]);
  const traces = chance.pick([1, 1, 1, 2, 3, chance.oneIn(30) ? 200 : 4]);
  const decimals = chance.pick([1, 2, 3, 6, 9]);
  const { unit, texts } = chance.pick(timeHeads);
  const time = timeColumn(chance, rows, style, unit);
  const columns = Array.from({ length: traces }, () => signal(chance, rows, decimals, style));
  // Where blanks separate, a name has none; a comma that separates stands in no name.
  const head = style.delimiter === ' ' ? texts[0] : chance.pick(texts);
  const names = columns.map((_, i) => (traces === 1 ? 'amplitude_pct' : `echo${i + 1}_pct`));
  return {
    preamble: words(chance, style),
    header: [joined([head, ...names], style, chance)],
    rows: time.cells.map((cell, row) => [cell, ...columns.map((column) => column[row].text)]),
    truth: {
      startUs: time.startUs,
      stepUs: time.stepUs,
      traces: columns.map((column, i) => ({ name: names[i], samples: column.map(({ value }) => value) })),
    },
  };
}

/** No axis: the preamble has rate and start. */
function rateAlone(chance: Chance, style: Style): Layout {
  const rows = chance.pick([10, 40, 200]);
  const column = signal(chance, rows, chance.pick([1, 3, 6]), style);
  const pair = style.delimiter === ' ' ? null : signal(chance, rows, 3, style);
  return {
    preamble: [...words(chance, style), '# sample_rate_mhz: 100', '# start_us: 2.5'],
    header: [pair === null ? 'amplitude_pct' : joined(['left_pct', 'right_pct'], style, chance)],
    rows: column.map(({ text }, row) => (pair === null ? [text] : [text, pair[row].text])),
    truth: {
      startUs: 2.5,
      stepUs: 0.01,
      traces: [
        { name: pair === null ? 'amplitude_pct' : 'left_pct', samples: column.map(({ value }) => value) },
        ...(pair === null ? [] : [{ name: 'right_pct', samples: pair.map(({ value }) => value) }]),
      ],
    },
  };
}

/** Capture id, time, amplitude; the captures one after the other or in turn. */
function longForm(chance: Chance, style: Style): Layout {
  const ids = chance
    .pick([
      ['A1', 'A2'],
      ['1', '2', '3'],
      ['x', '2'],
      ['9007199254740992', '9007199254740993'],
      ['20260302060500123', '20260302060500124', '20260302060500125'],
      ['-1125899906842624', 'shot'],
      ['-1125899906842625', '-1125899906842626', 'b'],
      ['10', '2', 'c d'],
    ])
    .filter((id) => style.delimiter !== ' ' || !id.includes(' '));
  const rows = chance.pick([10, 25]);
  const time = timeColumn(chance, rows, style, 1);
  const columns = ids.map(() => signal(chance, rows, 3, style));
  const order = chance.oneIn(2)
    ? ids.flatMap((_, c) => time.cells.map((_cell, row) => [c, row]))
    : time.cells.flatMap((_cell, row) => ids.map((_, c) => [c, row]));
  return {
    preamble: words(chance, style),
    header: [joined(['capture', 'time_us', 'amplitude_pct'], style, chance)],
    rows: order.map(([c, row]) => [ids[c], time.cells[row], columns[c][row].text]),
    truth: {
      startUs: time.startUs,
      stepUs: time.stepUs,
      traces: ids.map((name, c) => ({ name, samples: columns[c].map(({ value }) => value) })),
    },
  };
}

/** One-way distance, with the velocity it was drawn at. */
function distanceAxis(chance: Chance, style: Style): Layout {
  const rows = chance.pick([12, 60]);
  const column = signal(chance, rows, 2, style);
  return {
    preamble: [...words(chance, style), '# axis_velocity_m_per_s: 6000'],
    header: [joined(['distance_mm', 'amplitude_pct'], style, chance)],
    rows: column.map(({ text }, i) => [decimal(i * 3, 2, style).text, text]),
    truth: {
      startUs: 0,
      stepUs: 0.01,
      traces: [{ name: 'amplitude_pct', samples: column.map(({ value }) => value) }],
    },
  };
}

/** Volts or millivolts with a full screen, and a row of units below the names. */
function unitsRow(chance: Chance, style: Style): Layout {
  const rows = chance.pick([12, 60]);
  const time = timeColumn(chance, rows, style, 1);
  const column = signal(chance, rows, 3, style);
  const isMilli = chance.oneIn(2);
  return {
    preamble: [...words(chance, style), '# full_screen_volt: 2'],
    header: [
      joined(
        ['time', 'probe signal'].map((cell) => (style.delimiter === ' ' ? cell.replace(' ', '_') : cell)),
        style,
        chance,
      ),
      joined(['us', isMilli ? 'mV' : 'V'], style, chance),
    ],
    rows: time.cells.map((cell, row) => [cell, column[row].text]),
    truth: {
      startUs: time.startUs,
      stepUs: time.stepUs,
      traces: [
        {
          name: style.delimiter === ' ' ? 'probe_signal' : 'probe signal',
          samples: column.map(({ value }) => (isMilli ? value / 1000 : value)),
        },
      ],
    },
  };
}

/** Sample numbers with a rate; counts with a full scale. */
function sampleNumbers(chance: Chance, style: Style): Layout {
  const rows = chance.pick([12, 60]);
  const column = Array.from({ length: rows }, (_, i) => (i === 0 ? -1000 : i === 1 ? 1000 : chance.below(2000) - 1000));
  return {
    preamble: [...words(chance, style), '# sample_rate_mhz: 50', '# full_scale: 2048'],
    header: [joined(['sample', 'adc_counts'], style, chance)],
    rows: column.map((value, i) => [String(i), String(value)]),
    truth: { startUs: 0, stepUs: 0.02, traces: [{ name: 'adc_counts', samples: column }] },
  };
}

const cleanLayouts = [
  timeAndTraces,
  timeAndTraces,
  timeAndTraces,
  rateAlone,
  longForm,
  distanceAxis,
  unitsRow,
  sampleNumbers,
];

/** The same with cells from the edges, few rows, or no header. */
function withEdges(chance: Chance, style: Style): Layout {
  const layout = chance.pick(cleanLayouts)(chance, style);
  const rows = layout.rows.map((cells) => [...cells]);
  for (let times = 1 + chance.small(40); times > 0; times--) {
    const row = chance.pick(rows);
    const value = chance.pick(edgeNumbers);
    row[chance.below(row.length)] = chance.oneIn(3) ? value : value.replace('.', style.mark);
  }
  return { ...layout, rows };
}

function withoutHeader(chance: Chance, style: Style): Layout {
  const layout = chance.pick(cleanLayouts)(chance, style);
  return {
    ...layout,
    header: chance.oneIn(2) ? [] : layout.header,
    preamble: chance.oneIn(2) ? [] : layout.preamble,
    rows: layout.rows.slice(0, 1 + chance.below(12)),
  };
}

/** All values of one column from the edges alone. */
function edgesAlone(chance: Chance, style: Style): Layout {
  const layout = chance.pick(cleanLayouts)(chance, style);
  const magnitude = chance.pick([
    '1e308',
    '5e-324',
    '1e-310',
    '1e300',
    '9007199254740993',
    '1e22',
    '0.1',
    '1e-7',
    '4e307',
  ]);
  const column = chance.below(layout.rows[0].length);
  const rows = layout.rows.map((cells, i) =>
    cells.map((cell, field) =>
      field === column ? `${(i * 3) % 7}${style.mark}${i % 10}${magnitude.replace(/^[\d.]+/, '')}` : cell,
    ),
  );
  return { ...layout, rows };
}

const layouts = [...cleanLayouts, withEdges, withEdges, withEdges, withoutHeader, edgesAlone];

/** What no convention allows, or only just. */
function oddities(chance: Chance, style: Style): ((lines: string[]) => void)[] {
  const anywhere = (lines: string[]) => chance.below(lines.length + 1);
  const all: ((lines: string[]) => void)[] = [
    (lines) => lines.splice(anywhere(lines), 0, ''),
    (lines) =>
      lines.splice(anywhere(lines), 0, chance.pick(['# said in between', '% so', '// so', '! so', '  # so', '#'])),
    (lines) => lines.splice(anywhere(lines), 0, style.delimiter.repeat(1 + chance.below(4))),
    (lines) => lines.splice(anywhere(lines), 0, chance.pick(edgeNumbers)),
    (lines) =>
      lines.splice(
        anywhere(lines),
        0,
        `${chance.pick(edgeWords)}${chance.pick([':', '=', ','])}${chance.pick([...edgeNumbers, ...edgeWords])}`,
      ),
    (lines) => lines.splice(anywhere(lines), 1),
    (lines) => lines.splice(anywhere(lines), 0, lines[chance.below(lines.length)] ?? ''),
    (lines) => lines.push(`${chance.below(100)}`),
    (lines) => lines.push('"'.repeat(1 + chance.below(9))),
    (lines) => lines.splice(anywhere(lines), 1, chance.pick(edgeWords)),
  ];
  return Array.from({ length: 1 + chance.small(9) }, () => chance.pick(all));
}
