// Makes large input, seeded and quickly: `node tests/large/generate.mjs FOLDER SET…` (the sets are listed below).
//
// Each capture is a straight-beam record of a steel plate with two back-wall echoes. A few distinct bodies are made and used again; what sets one
// file apart from the next is its preamble, so that no two have one hash. What is written is the same on every machine.
import { closeSync, existsSync, mkdirSync, openSync, writeFileSync, writeSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const rateMHz = 50;
const frequencyMHz = 5;
const sigmaUs = 0.14;
const bodies = 32;

/** A small linear congruential generator (Numerical Recipes' constants): 0 to 1. */
function seeded(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** One record in % of full screen height, rounded to 0.01: the echoes' height and the noise differ from body to body. */
function record(body, samples) {
  const random = seeded(1000 + body);
  const height = 40 + 40 * random();
  const arrivals = [3.4, 6.8].map((us) => us + 0.004 * body);
  return Array.from({ length: samples }, (_, i) => {
    const t = i / rateMHz;
    let value = 0.6 * (random() + random() - 1);
    for (const [n, at] of arrivals.entries()) {
      const d = t - at;
      if (Math.abs(d) < 7 * sigmaUs)
        value +=
          height * (2 / 3) ** n * Math.exp(-(d ** 2) / (2 * sigmaUs ** 2)) * Math.cos(2 * Math.PI * frequencyMHz * d);
    }
    return value.toFixed(2);
  });
}

const timeAt = (i) => (i / rateMHz).toFixed(2);
const nameOf = (i) => `capture-${String(i).padStart(6, '0')}.csv`;

/** The text of one capture file, the `i`-th of its set. */
function captureTexts(samples) {
  const texts = Array.from({ length: bodies }, (_, body) => {
    const values = record(body, samples);
    return `time_us,amplitude_pct\n${values.map((value, i) => `${timeAt(i)},${value}\n`).join('')}`;
  });
  return (i) => `# capture: ${i}\n# rectification: rf\n# gain_db: 40\n${texts[i % bodies]}`;
}

/** `count` files of one capture each in `folder`. */
export function makeCaptures(folder, count, samples = 400) {
  mkdirSync(folder, { recursive: true });
  const textOf = captureTexts(samples);
  for (let i = 0; i < count; i++) writeFileSync(`${folder}/${nameOf(i)}`, textOf(i));
}

/** Check captures of one calibration, taken a minute apart. */
export function makeChecks(folder, count, samples = 400) {
  mkdirSync(folder, { recursive: true });
  const textOf = captureTexts(samples);
  const first = Date.UTC(2031, 0, 1);
  for (let i = 0; i < count; i++)
    writeFileSync(
      `${folder}/${nameOf(i)}`,
      `# taken_at: ${new Date(first + i * 60_000).toISOString().slice(0, 19)}Z\n${textOf(i)}`,
    );
}

/** One file of `traces` traces side by side. */
export function makeWide(path, traces, samples, mark = 0) {
  const columns = Array.from({ length: Math.min(bodies, traces) }, (_, body) => record(body, samples));
  const whole = Math.floor(traces / columns.length);
  const rest = traces % columns.length;
  const file = openSync(path, 'w');
  const names = Array.from({ length: traces }, (_, t) => `capture_${t + 1}_pct`).join(',');
  writeSync(file, `# wide: ${mark}\n# rectification: rf\n# gain_db: 40\ntime_us,${names}\n`);
  for (let i = 0; i < samples; i++) {
    const row = columns.map((column) => `,${column[i]}`);
    writeSync(file, `${timeAt(i)}${row.join('').repeat(whole)}${row.slice(0, rest).join('')}\n`);
  }
  closeSync(file);
}

/** One file of one trace: shots of 2,000 samples one after the other. */
export function makeLong(path, samples) {
  const perShot = 2000;
  const shots = Array.from({ length: bodies }, (_, body) => record(body, perShot));
  const file = openSync(path, 'w');
  writeSync(file, '# rectification: rf\n# gain_db: 40\ntime_us,amplitude_pct\n');
  for (let first = 0, shot = 0; first < samples; first += perShot, shot++) {
    const values = shots[shot % bodies];
    let text = '';
    for (let i = 0; i < Math.min(perShot, samples - first); i++) text += `${timeAt(first + i)},${values[i]}\n`;
    writeSync(file, text);
  }
  closeSync(file);
}

/** A calibration that these records agree with, as `calibrate --json` writes it. */
export function makeCalibration(path) {
  const point = (distance, time) => ({ distance_mm: distance, u_distance_mm: 0, time_us: time, u_time_us: 0.001 });
  writeFileSync(
    path,
    JSON.stringify({
      format: 'ascan-calibration',
      version: 1,
      velocity_m_per_s: 5920,
      u_velocity_m_per_s: 3,
      zero_offset_us: 0,
      u_zero_offset_us: 0.002,
      points: [point(10.064, 3.4), point(20.128, 6.8)],
      flags: [],
      settings: { timing: 'peak' },
    }),
  );
}

const sets = {
  '1000-files': (at) => makeCaptures(at, 1000),
  '10000-files': (at) => makeCaptures(at, 10_000),
  '100000-files': (at) => makeCaptures(at, 100_000),
  '1000-checks': (at) => makeChecks(at, 1000),
  '10000-checks': (at) => makeChecks(at, 10_000),
  '100000-checks': (at) => makeChecks(at, 100_000),
  '1-wide': (at) => makeManyWide(at, 1),
  '2-wide': (at) => makeManyWide(at, 2),
  '20-wide': (at) => makeManyWide(at, 20),
  'half-wide.csv': (at) => makeWide(at, 2500, 4000),
  'wide.csv': (at) => makeWide(at, 5000, 4000),
  'tenth-long.csv': (at) => makeLong(at, 5_000_000),
  'long.csv': (at) => makeLong(at, 50_000_000),
};

/** Files of 5,000 traces each. */
function makeManyWide(folder, count) {
  mkdirSync(folder, { recursive: true });
  for (let i = 0; i < count; i++) makeWide(`${folder}/${nameOf(i)}`, 5000, 400, i);
}

/** Makes a set where it is not there yet, and gives its path. */
export function setAt(folder, name) {
  const path = `${folder}/${name}`;
  if (!existsSync(path)) {
    mkdirSync(folder, { recursive: true });
    sets[name](path);
  }
  return path;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [folder, ...names] = process.argv.slice(2);
  const unknown = names.filter((name) => !(name in sets));
  if (folder === undefined || names.length === 0 || unknown.length > 0) {
    console.error(`node tests/large/generate.mjs FOLDER SET…, with SET one of ${Object.keys(sets).join(', ')}`);
    process.exit(2);
  }
  for (const name of names) console.log(setAt(folder, name));
}
