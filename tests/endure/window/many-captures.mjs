import { existsSync, mkdirSync, writeFileSync } from 'node:fs';

/** Samples of each capture, at 50 MHz. */
const samples = 100;

/** One echo at 1 µs, highest in the middle of the scan and lower to both sides. */
function heights(place, count) {
  const height = 20 + 60 * Math.exp(-(((place - count / 2) / (0.3 * count)) ** 2));
  return Array.from({ length: samples }, (_, i) => {
    const t = i / 50 - 1;
    const wave = height * Math.exp(-((t / 0.12) ** 2)) * Math.cos(10 * Math.PI * t);
    return (wave + (i % 2 === 0 ? 0.2 : -0.2)).toFixed(2);
  });
}

const name = (i, count) => String(i).padStart(String(count - 1).length, '0');

/** A folder of so many files with one short capture and its position in each: their paths. Made once. */
export async function manyFiles(folder, count) {
  const below = `${folder}/files-${count}`;
  const paths = Array.from({ length: count }, (_, i) => `${below}/scan-${name(i, count)}.csv`);
  if (existsSync(paths.at(-1))) return paths;
  mkdirSync(below, { recursive: true });
  for (const [i, path] of paths.entries()) {
    const rows = heights(i, count).map((height, s) => `${(s / 50).toFixed(2)},${height}`);
    const head = `# rectification: rf\n# position_mm: ${i}\n# gain_db: 40\ntime_us,amplitude_pct`;
    writeFileSync(path, `${head}\n${rows.join('\n')}\n`);
  }
  return paths;
}

/** One file with so many traces side by side. Made once. */
export async function wideFile(folder, count) {
  const path = `${folder}/wide-${count}.csv`;
  if (existsSync(path)) return path;
  mkdirSync(folder, { recursive: true });
  const columns = Array.from({ length: count }, (_, i) => heights(i, count));
  const head = ['time_us', ...columns.map((_, i) => `scan_${name(i, count)}_pct`)].join(',');
  const rows = Array.from({ length: samples }, (_, s) =>
    [(s / 50).toFixed(2), ...columns.map((own) => own[s])].join(','),
  );
  writeFileSync(path, `# rectification: rf\n# gain_db: 40\n${head}\n${rows.join('\n')}\n`);
  return path;
}
