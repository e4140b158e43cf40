// Makes the demonstration data: an invented repair yard, its invented instruments and probes, one working day.
//
//     npm run sample                        writes every file
//     npm run sample -- --check             writes nothing; exit 1 when a file on disk is not what this script makes
//
// What is in the files, and what is hidden in them, stands in README.md; the figures behind them in truth.json.

import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { broken } from './scenario/broken.mjs';
import { holeSeries } from './scenario/hole-series.mjs';
import { instrumentReview } from './scenario/instrument-review.mjs';
import { instrumentsOnTheBench } from './scenario/instruments.mjs';
import { plateWeld } from './scenario/plate-weld.mjs';
import { probesOnOnePlate } from './scenario/probes.mjs';
import { probesReview } from './scenario/probes-review.mjs';
import { referenceBlock } from './scenario/reference-block.mjs';
import { review } from './scenario/review.mjs';
import { shift } from './scenario/shift.mjs';
import { stepBlock } from './scenario/step-block.mjs';

const folder = dirname(fileURLToPath(import.meta.url));

/** Every file by its path inside this folder, as bytes; `truth.json` with what stands behind them. */
function everything() {
  const parts = {
    reference_block: referenceBlock(),
    step_block: stepBlock(),
    hole_series: holeSeries(),
    shift: shift(),
    plate_weld: plateWeld(),
    instruments: instrumentsOnTheBench(),
    probes: probesOnOnePlate(),
    broken: broken(),
  };
  const files = Object.assign({}, ...Object.values(parts).map((part) => part.files));
  // Nine digits are more than any reading has, and fewer than the last bit that machines differ in.
  const nineDigits = (_key, value) => (typeof value === 'number' ? Number(value.toPrecision(9)) : value);
  const truth = Object.fromEntries(Object.entries(parts).map(([name, part]) => [name, part.truth]));
  files['truth.json'] = `${JSON.stringify(truth, nineDigits, 2)}\n`;
  files['review.json'] = `${JSON.stringify(review(files), null, 2)}\n`;
  files['instruments/review.json'] = `${JSON.stringify(instrumentReview(files), null, 2)}\n`;
  files['probes/review.json'] = `${JSON.stringify(probesReview(files), null, 2)}\n`;
  return new Map(Object.entries(files).map(([path, content]) => [path, Buffer.from(content)]));
}

/** The files here that this script should have made: all tables, and the truth. */
function onDisk() {
  return readdirSync(folder, { recursive: true })
    .map((path) => path.split(sep).join('/'))
    .filter(
      (path) =>
        path.endsWith('.csv') || path === 'truth.json' || path.endsWith('review.json') || path === 'probes/stated.json',
    );
}

function check(files) {
  const wrong = [];
  for (const [path, bytes] of files) {
    const place = join(folder, path);
    if (!existsSync(place)) wrong.push(`${path} is missing`);
    else if (!readFileSync(place).equals(bytes)) wrong.push(`${path} is not what the script makes`);
  }
  for (const path of onDisk()) if (!files.has(path)) wrong.push(`${path} is not made by the script`);
  return wrong;
}

const files = everything();
if (process.argv.includes('--check')) {
  const wrong = check(files);
  for (const line of wrong) console.error(`sample-data/${line}: run npm run sample, and look at what changed`);
  if (wrong.length > 0) process.exit(1);
  console.log(`sample-data: ${files.size} files are what the script makes`);
} else {
  for (const [path, bytes] of files) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), bytes);
  }
  const size = [...files.values()].reduce((sum, bytes) => sum + bytes.length, 0);
  console.log(`${relative(process.cwd(), folder) || '.'}: ${files.size} files, ${(size / 1e6).toFixed(2)} MB`);
}
