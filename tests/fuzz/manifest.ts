import { type Manifest, readManifest } from '../../core/import/manifest.ts';
import type { Outcome } from '../../core/outcome.ts';
import type { Chance } from './chance.ts';
import { edgeNumbers, edgeWords } from './edges.ts';
import { importer } from './importer/importer.ts';
import { slowCells, slowLines } from './importer/slow-reader.ts';
import type { Input, Subject, Verdict } from './subject.ts';

interface WrittenManifest {
  readonly rows: readonly { readonly file: string; readonly trace: string | null; readonly gainDb: number | null }[];
}

const fileName = 'manifest.csv';

/** The table that describes a folder of captures. */
export const manifest: Subject<WrittenManifest> = {
  name: 'manifest',
  ending: 'csv',
  make: madeManifest,
  change: (bytes, other, chance) => importer.change(bytes, other, chance),
  judge: ({ bytes, truth }) => judgeManifest(bytes, readManifest(fileName, bytes), truth),
};

function madeManifest(chance: Chance): Input<WrittenManifest> {
  const isClean = chance.oneIn(2);
  const delimiter = chance.pick([',', ';', '\t']);
  const hasTrace = chance.oneIn(3);
  const rows = Array.from({ length: chance.pick([1, 2, 5, 40]) }, (_, i) => ({
    file: `capture-${i}.csv`,
    trace: hasTrace && chance.oneIn(2) ? 'left' : null,
    gainDb: chance.oneIn(5) ? null : 30 + chance.below(400) / 10,
  }));
  const quoted = (cell: string) => (chance.oneIn(4) ? `"${cell}"` : cell);
  const odd = (cell: string) => (isClean || !chance.oneIn(6) ? cell : chance.pick([...edgeNumbers, ...edgeWords]));
  const header = ['file', ...(hasTrace ? ['trace'] : []), 'gain_db', chance.pick(['position_mm', 'probe', 'taken_at'])];
  const third: Record<string, () => string> = {
    position_mm: () => String(chance.below(500) / 10),
    probe: () => 'angle 60',
    taken_at: () => '2026-03-02T06:05:00Z',
  };
  const lines = rows.map(({ file, trace, gainDb }) =>
    [
      file,
      ...(hasTrace ? [trace ?? ''] : []),
      gainDb === null ? '' : String(gainDb),
      third[header[header.length - 1]](),
    ]
      .map((cell) => quoted(odd(cell)))
      .join(delimiter),
  );
  const end = chance.pick(['\n', '\r\n', '\r']);
  const text =
    [...(chance.oneIn(4) ? ['# a comment', ''] : []), header.join(delimiter), ...lines].join(end) +
    (chance.oneIn(3) ? '' : end);
  const bytes = Buffer.from(text, chance.oneIn(5) ? 'utf16le' : 'utf8');
  return { bytes: new Uint8Array(bytes), truth: isClean ? { rows } : null };
}

export function judgeManifest(bytes: Uint8Array, outcome: Outcome<Manifest>, truth: WrittenManifest | null): Verdict {
  const faults: string[] = [];
  if (outcome.ok) faults.push(...againstSlowReader(outcome.value, bytes));
  else if (outcome.problems.length === 0 || outcome.problems.length > 20)
    faults.push(`refused with ${outcome.problems.length} problems`);
  const told = outcome.ok ? outcome.warnings : outcome.problems;
  for (const { code, place, sentence } of told) {
    if (place.file !== fileName || sentence.length < 12) faults.push(`${code} has no place or sentence`);
    if (place.line === null && code !== 'empty-file') faults.push(`${code} has no line`);
    if (place.line !== null && place.line > Math.max(1, linesOf(bytes).length))
      faults.push(`${code} stands in line ${place.line}`);
  }
  if (truth !== null) faults.push(...againstTruth(outcome, truth));
  const codes = [...new Set(told.map(({ code, place }) => `${code}${place.column === null ? '' : ':c'}`))]
    .sort()
    .join('+');
  return { outcome: `${outcome.ok ? `read ${Math.min(3, outcome.value.rows.length)}` : 'refused'} ${codes}`, faults };
}

function linesOf(bytes: Uint8Array) {
  const wide =
    bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : bytes[0] === 0xfe && bytes[1] === 0xff ? 'utf-16be' : null;
  const most = 0.4 * (Math.min(bytes.length, 256) & ~1);
  const zeros = (from: 0 | 1) => bytes.subarray(0, 256).filter((byte, i) => i % 2 === from && byte === 0).length;
  const encoding =
    wide ?? (zeros(1) > most && zeros(0) === 0 ? 'utf-16le' : zeros(0) > most && zeros(1) === 0 ? 'utf-16be' : 'utf-8');
  const lines = slowLines(bytes, encoding);
  // A manifest is Latin-1 from its first line on where any line is no UTF-8.
  return encoding === 'utf-8' && !isUtf8(bytes) ? slowLines(bytes, 'latin-1') : lines;
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

/** Every line that says something is one row, with the very cells that stand in it. */
function againstSlowReader({ rows }: Manifest, bytes: Uint8Array): string[] {
  const lines = linesOf(bytes).filter(({ text }) => text.replace(/[\s,;]/g, '') !== '' && !/^\s*#/.test(text));
  if (rows.length !== lines.length - 1)
    return [`${rows.length} rows, where ${lines.length - 1} lines follow the header`];
  const delimiters = [',', ';', '\t'];
  const delimiter = delimiters.reduce((best, one) =>
    lines[0].text.split(one).length > lines[0].text.split(best).length ? one : best,
  );
  return rows.flatMap((row, i) => {
    const line = lines[i + 1];
    const cells = slowCells(line.text, delimiter)?.map((cell) => cell.trim()) ?? [];
    const told = [
      row.file,
      ...(row.trace === null ? [] : [row.trace]),
      ...row.entries.map(({ value }) => value),
    ].sort();
    const written = cells.filter((cell) => cell !== '').sort();
    const isSame = JSON.stringify(told) === JSON.stringify(written);
    return [
      ...(row.line === line.number ? [] : [`line ${line.number} is called line ${row.line}`]),
      ...(isSame ? [] : [`line ${line.number} holds ${JSON.stringify(written)}, and ${JSON.stringify(told)} was read`]),
      ...Object.values(row.facts).flatMap((fact) =>
        typeof fact === 'number' && !Number.isFinite(fact) ? ['a fact is no finite number'] : [],
      ),
    ];
  });
}

function againstTruth(outcome: Outcome<Manifest>, { rows }: WrittenManifest): string[] {
  if (!outcome.ok) return [`refused although written by the conventions: ${outcome.problems[0].code}`];
  const read = outcome.value.rows.map(({ file, trace, facts }) => ({ file, trace, gainDb: facts.gainDb }));
  return JSON.stringify(read) === JSON.stringify(rows) ? [] : ['other rows were read than were written'];
}
