// `npm run demo`: the main job on the sample data, as the tables a person reads. Each command is printed as it could be typed.
import { spawnSync } from 'node:child_process';
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const cli = `${root}electron/cli/run.mjs`;
const folder = 'build/demo';

const angleProbe = `${folder}/angle-probe.json`;
const straightProbe = `${folder}/straight-probe.json`;

const calibrations = [
  {
    title: 'Distance calibration of the angle probe on the quadrant block',
    words:
      'calibrate sample-data/reference-block.csv --block iso-2400/quadrant-return-25 --material steel --mode transverse',
    saveAs: angleProbe,
  },
  {
    title: 'Distance calibration of the straight probe on three steps',
    words:
      'calibrate sample-data/step-block --reflector 10.02mm@3us..5us#sample-data/step-block/step-10-mm.csv --reflector 19.98mm@6.5us..8.5us#sample-data/step-block/step-20-mm.csv --reflector 30.01mm@10us..12us#sample-data/step-block/step-30-mm.csv --tolerance 0.01mm',
    saveAs: straightProbe,
  },
];

const jobs = [
  {
    title: 'Readings over a side-drilled hole: off the peak, walking, cut off',
    words: `read sample-data/hole-series --calibration ${straightProbe} --gate hole=36mm..42mm@20`,
  },
  {
    title: 'Readings along a plate weld, first leg',
    words: `read sample-data/plate-weld/first-leg.csv --calibration ${angleProbe} --gate root=24mm..36mm@20 --angle 60 --thickness 16mm`,
  },
  {
    title: 'A shift’s drift checks against the calibration',
    words: `drift sample-data/shift --calibration ${angleProbe} --reflector 100mm@65us..75us --reflector 225mm@142us..152us --amplitude 80 --range 250mm --rule iso-17640`,
  },
];

process.chdir(root);
mkdirSync(folder, { recursive: true });
for (const { title, words, saveAs } of calibrations) {
  show(title, words);
  const result = spawnSync(process.execPath, [cli, ...words.split(' '), '--json'], { encoding: 'utf8' });
  writeFileSync(saveAs, result.stdout);
}
for (const { title, words } of jobs) show(title, words);
console.log('\nThese figures support and never replace an evaluation by qualified personnel to the written procedure.');

function show(title, words) {
  console.log(`\n${title}\n${'='.repeat(title.length)}\nnpm run --silent cli -- ${words}\n`);
  // Exit status 1 only says that something in the table is doubtful: the sample data are made to show just that.
  const { status } = spawnSync(process.execPath, [cli, ...words.split(' ')], { stdio: 'inherit' });
  if (status === 2 || status === null) process.exit(2);
}
