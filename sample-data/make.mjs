// Makes the demonstration data: an invented repair yard, its invented instruments and probes, one working day.
//
//     npm run sample                        writes every file
//     npm run sample -- --check             writes nothing; exit 1 when a file on disk is not what this script makes
//
// What is in the files, and what is hidden in them, stands in README.md; the figures behind them in truth.json.

import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { attenuated, capture, decibels, echoTimeUs } from './waveform.mjs';

const folder = dirname(fileURLToPath(import.meta.url));

const angleProbe = {
  name: 'angle probe 17, transverse, 4 MHz, 60 deg',
  pulse: { frequencyMHz: 4, bandwidth: 0.55 },
  velocityMPerS: 3241,
  zeroOffsetUs: 7.31,
  angleDeg: 60,
  attenuationDbPerMm: 0.02,
};
const straightProbe = {
  name: 'straight probe 5, longitudinal, 5 MHz',
  pulse: { frequencyMHz: 5, bandwidth: 0.6 },
  velocityMPerS: 5918,
  zeroOffsetUs: 0.62,
  attenuationDbPerMm: 0.03,
};
const instrument = 'flaw detector 2';
const quadrantBlock = 'quadrant block 3, radius 100 mm, return radius 25 mm';

const mainBang = { amplitudePercent: 260, ringDownUs: 0.28 };
const fineConverter = { stepPercent: 0.05, screenPercent: 100, rectified: false };
const quiet = { whitePercent: 0.3, grain: { rmsPercent: 0.5, decayUs: 60 }, offsetPercent: 0.2 };

/** `07:10` of the one working day; the instrument's clock runs on UTC. */
const dayTime = (time) => `2026-05-11T${time}:00Z`;
const twoDigits = (n) => String(n).padStart(2, '0');

// ---- text ------------------------------------------------------------------------------------------------

/** `steps · size` written out with all its digits, by whole-number arithmetic: `decimal(-7, 5, 2)` is `-0.35`. */
function decimal(steps, unitsPerStep, digits) {
  const units = Math.abs(steps * unitsPerStep);
  const scale = 10 ** digits;
  const whole = Math.floor(units / scale);
  const fraction = digits === 0 ? '' : `.${String(units % scale).padStart(digits, '0')}`;
  return `${steps < 0 ? '-' : ''}${whole}${fraction}`;
}

const lines = (list, end = '\n') => list.map((line) => line + end).join('');
const preamble = (entries, form) => Object.entries(entries).map(([key, value]) => form(key, value));
const numberSign = (key, value) => `# ${key}: ${value}`;
const equalsSign = (key, value) => `${key}=${value}`;

// ---- reference block ------------------------------------------------------------------------------------

const blockDistancesMm = [100, 225, 350];
const slot = [
  { distanceMm: 96.4, amplitudePercent: 12 },
  { distanceMm: 221.4, amplitudePercent: 6 },
];
const firstEchoPercent = 80;
/** Lost each time the pulse turns round at the return radius, beside the attenuation on the way. */
const turnLossDb = 3.1;

/** The quadrant's echoes: 100 mm, then every 125 mm more (outer plus return radius), and the slot's ahead of two of them. */
function quadrantEchoes(setUp, sensitivityDb) {
  const source = firstEchoPercent / decibels(-setUp.attenuationDbPerMm * blockDistancesMm[0]);
  const series = blockDistancesMm.map((distanceMm, turn) => ({
    distanceMm,
    amplitudePercent: attenuated(source, distanceMm, setUp.attenuationDbPerMm) * decibels(-turnLossDb * turn),
    phase: 0.4 + turn,
  }));
  return [...series, ...slot.map((echo) => ({ ...echo, phase: 2.2 }))].map((echo) => ({
    ...echo,
    amplitudePercent: echo.amplitudePercent * decibels(sensitivityDb),
    timeUs: echoTimeUs(echo.distanceMm, setUp),
  }));
}

const echoTruth = ({ distanceMm, timeUs, amplitudePercent }) => ({
  distance_mm: distanceMm,
  time_us: timeUs,
  amplitude_percent: amplitudePercent,
});

function referenceBlock() {
  const axis = { startUs: 0, sampleRateMHz: 100, count: 24_000 };
  const echoes = quadrantEchoes(angleProbe, 0);
  const steps = capture({
    axis,
    pulse: angleProbe.pulse,
    echoes,
    mainBang: { ...mainBang, ringDownUs: 0.9 },
    noise: quiet,
    converter: fineConverter,
    seed: 101,
  });
  const head = preamble(
    {
      title: 'quadrant block, index point on the centre of the 100 mm radius, echo peaked',
      instrument,
      probe: angleProbe.name,
      block: quadrantBlock,
      gain_db: '42.0',
      taken_at: dayTime('05:40'),
      temperature_c: '19.5',
      sample_rate_mhz: 100,
      rectification: 'rf',
    },
    numberSign,
  );
  const rows = Array.from(steps, (step, i) => `${decimal(i, 1, 2)},${decimal(step, 5, 2)}`);
  return {
    files: { 'reference-block.csv': lines([...head, 'time_us,amplitude_pct', ...rows]) },
    truth: {
      velocity_m_per_s: angleProbe.velocityMPerS,
      zero_offset_us: angleProbe.zeroOffsetUs,
      reflectors: echoes.slice(0, blockDistancesMm.length).map(echoTruth),
      belongs_to_no_reflector: echoes.slice(blockDistancesMm.length).map(echoTruth),
    },
  };
}

// ---- step block -----------------------------------------------------------------------------------------

/** As the micrometer found them, not as the drawing has them. */
const stepsMm = [10.02, 19.98, 30.01];

function stepBlock() {
  const axis = { startUs: 0, sampleRateMHz: 100, count: 2500 };
  const files = {};
  const truth = stepsMm.map((thicknessMm, index) => {
    const echoes = [1, 2, 3, 4].map((n) => ({
      distanceMm: n * thicknessMm,
      timeUs: echoTimeUs(n * thicknessMm, straightProbe),
      amplitudePercent: attenuated(84, n * thicknessMm, straightProbe.attenuationDbPerMm) * decibels(-5.5 * (n - 1)),
      phase: 0.7 * n,
    }));
    const steps = capture({
      axis,
      pulse: straightProbe.pulse,
      echoes,
      mainBang,
      noise: quiet,
      converter: fineConverter,
      seed: 201 + index,
    });
    const nominalMm = Math.round(thicknessMm);
    const head = preamble(
      {
        instrument,
        probe: straightProbe.name,
        block: 'step block 1, steps 10 / 20 / 30 mm',
        step_thickness_mm: String(thicknessMm).replace('.', ','),
        gain_db: 28,
        taken_at: dayTime(`05:5${index}`),
        temperature_c: 19,
        rectification: 'rf',
      },
      equalsSign,
    );
    const rows = Array.from(steps, (step, i) => `${decimal(i, 1, 2)};${decimal(step, 5, 2)}`.replaceAll('.', ','));
    const file = `step-block/step-${nominalMm}-mm.csv`;
    files[file] = `\uFEFF${lines([...head, 'Time (µs);Amplitude (%FSH)', ...rows], '\r\n')}`;
    return { file, thickness_mm: thicknessMm, echoes: echoes.filter((e) => e.timeUs < 24).map(echoTruth) };
  });
  return {
    files,
    truth: {
      velocity_m_per_s: straightProbe.velocityMPerS,
      zero_offset_us: straightProbe.zeroOffsetUs,
      steps: truth,
    },
  };
}

// ---- probe positions over a side-drilled hole -----------------------------------------------------------

const hole = { centreDepthMm: 40, diameterMm: 3, positionMm: 0.4, peakPercent: 78, minusSixDbAtMm: 5.5 };
const seriesGainDb = 46;
/** Gains other than the series' own. The one next to the peak drives the echo off the screen. */
const otherGainDb = new Map([
  [-6, 52],
  [1, 52],
  [7, 52],
]);
const withoutCouplingAtMm = -4;

function holeSeries() {
  const axis = { startUs: 0, sampleRateMHz: 100, count: 1800 };
  const files = {};
  const manifest = ['file,position_mm,gain_db,taken_at,probe,block'];
  const truth = [];
  for (let positionMm = -10; positionMm <= 10; positionMm++) {
    const index = positionMm + 10;
    const file = `position-${positionMm < 0 ? 'minus' : 'plus'}-${twoDigits(Math.abs(positionMm))}.csv`;
    const gainDb = otherGainDb.get(positionMm) ?? seriesGainDb;
    const coupled = positionMm !== withoutCouplingAtMm;
    const aside = positionMm - hole.positionMm;
    // The echo comes from the hole's wall, half a diameter nearer than its centre.
    const pathMm = Math.hypot(hole.centreDepthMm, aside) - hole.diameterMm / 2;
    const belowPeakDb = 6.0206 * (aside / hole.minusSixDbAtMm) ** 2;
    const atSeriesGain = hole.peakPercent * decibels(-belowPeakDb);
    const timeUs = echoTimeUs(pathMm, straightProbe);
    const steps = capture({
      axis,
      pulse: straightProbe.pulse,
      echoes: coupled ? [{ timeUs, amplitudePercent: atSeriesGain, phase: 0.9 }] : [],
      mainBang,
      noise: coupled ? quiet : { ...quiet, grain: null },
      converter: fineConverter,
      gainRatio: decibels(gainDb - seriesGainDb),
      seed: 301 + index,
    });
    const takenAt = dayTime(`06:${twoDigits(20 + index)}`);
    const head = preamble(
      {
        instrument,
        probe: straightProbe.name,
        block: 'hole block 2, side-drilled hole 3 mm',
        position_mm: positionMm,
        gain_db: gainDb,
        taken_at: takenAt,
        rectification: 'rf',
      },
      numberSign,
    );
    const rows = Array.from(steps, (step, i) => `${decimal(i, 1, 2)},${decimal(step, 5, 2)}`);
    files[`hole-series/${file}`] = lines([...head, 'time_us,amplitude_pct', ...rows]);
    manifest.push(
      [file, positionMm, gainDb, takenAt, '"straight probe 5, longitudinal, 5 MHz"', 'hole block 2'].join(','),
    );
    const onScreen = atSeriesGain * decibels(gainDb - seriesGainDb);
    truth.push({
      file: `hole-series/${file}`,
      position_mm: positionMm,
      gain_db: gainDb,
      coupled,
      sound_path_mm: coupled ? pathMm : null,
      time_us: coupled ? timeUs : null,
      amplitude_percent: coupled ? onScreen : null,
      below_peak_db: coupled ? belowPeakDb : null,
      saturated: coupled && onScreen > 100,
    });
  }
  files['hole-series/manifest.csv'] = lines(manifest);
  return {
    files,
    truth: {
      peak_position_mm: hole.positionMm,
      peak_amplitude_percent: hole.peakPercent,
      peak_gain_db: seriesGainDb,
      shortest_sound_path_mm: hole.centreDepthMm - hole.diameterMm / 2,
      minus_6_db_at_mm: hole.minusSixDbAtMm,
      captures: truth,
    },
  };
}

// ---- a shift's drift checks -----------------------------------------------------------------------------

/** What changed since the reference capture. The velocity never does. */
const checks = [
  { time: '06:05', zeroOffsetChangeUs: 0, sensitivityDb: 0.1, gainDb: 42, note: 'start of shift' },
  { time: '07:10', zeroOffsetChangeUs: 0.004, sensitivityDb: -0.2, gainDb: 42, note: 'after the first frame' },
  { time: '08:05', zeroOffsetChangeUs: -0.003, sensitivityDb: 0, gainDb: 40, note: 'gain set back by 2 dB' },
  { time: '09:30', zeroOffsetChangeUs: 0.002, sensitivityDb: -0.3, gainDb: 42, note: 'before the break' },
  { time: '10:15', zeroOffsetChangeUs: 0.11, sensitivityDb: -0.4, gainDb: 42, note: 'work on the warm side' },
  { time: '11:20', zeroOffsetChangeUs: 0.19, sensitivityDb: -0.6, gainDb: 42, note: 'work on the warm side' },
  { time: '12:40', zeroOffsetChangeUs: 3.42, sensitivityDb: -0.9, gainDb: 42, note: 'after the break' },
  { time: '13:30', zeroOffsetChangeUs: 3.43, sensitivityDb: -2.9, gainDb: 42, note: 'cable replugged' },
  { time: '14:15', zeroOffsetChangeUs: 3.45, sensitivityDb: -5.4, gainDb: 42, note: 'end of shift' },
];

function shift() {
  const axis = { startUs: 50, sampleRateMHz: 50, count: 5750 };
  const files = {};
  const truth = checks.map((check, index) => {
    const setUp = { ...angleProbe, zeroOffsetUs: angleProbe.zeroOffsetUs + check.zeroOffsetChangeUs };
    const gainChangeDb = check.gainDb - 42;
    const echoes = quadrantEchoes(setUp, check.sensitivityDb);
    const steps = capture({
      axis,
      pulse: angleProbe.pulse,
      echoes,
      noise: quiet,
      converter: fineConverter,
      gainRatio: decibels(gainChangeDb),
      seed: 401 + index,
    });
    const head = preamble(
      {
        instrument,
        probe: angleProbe.name,
        block: quadrantBlock,
        gain_db: check.gainDb,
        taken_at: dayTime(check.time),
        temperature_c: '19.5',
        note: check.note,
        full_screen_volt: '0.8',
        rectification: 'rf',
      },
      equalsSign,
    );
    // Full screen is 0.8 V: a converter step of 0.05 % is 0.0004 V.
    const rows = Array.from(steps, (step, i) => `${50_000 + 20 * i}\t${decimal(step, 4, 4)}`);
    const file = `shift/check-${index + 1}.csv`;
    files[file] = lines([...head, 't/ns\tsignal/V', ...rows]);
    return {
      file,
      taken_at: dayTime(check.time),
      gain_db: check.gainDb,
      zero_offset_us: setUp.zeroOffsetUs,
      zero_offset_change_us: check.zeroOffsetChangeUs,
      velocity_change_percent: 0,
      amplitude_change_db: check.sensitivityDb,
      distance_error_mm: (check.zeroOffsetChangeUs * angleProbe.velocityMPerS) / 2000,
      reflectors: echoes
        .slice(0, 2)
        .map(echoTruth)
        .map((e) => ({ ...e, amplitude_percent: e.amplitude_percent * decibels(gainChangeDb) })),
    };
  });
  return { files, truth: { velocity_m_per_s: angleProbe.velocityMPerS, checks: truth } };
}

// ---- plate weld -----------------------------------------------------------------------------------------

const plate = { thicknessMm: 16, lengthMm: 200, everyMm: 5 };
/** Along the weld the beam's amplitude is a Gaussian of this standard deviation: a long flaw's end stands at −6 dB. */
const beamSigmaMm = 3;

/**
 * Two passes with the probe at a fixed distance from the weld. In each the echoes lie on the beam's axis, so that
 * depth and surface distance follow from the path alone:
 *
 *     probe >                weld                      surface distance = path · sin 60°
 *     -----------\-------------\/---------             first leg:  depth = path · cos 60°
 *                  \          /                        second leg: depth = 2 · thickness − path · cos 60°
 *     ---------------\------/-------------
 */
const passes = [
  {
    name: 'first-leg',
    standOffMm: 26,
    gainDb: 50,
    targets: [
      { name: 'root, lack of penetration', depthMm: 15, leg: 1, fromMm: 42, toMm: 87, amplitudePercent: 66 },
      { name: 'root bead', geometry: true, pathMm: 33.4, fromMm: -50, toMm: 250, amplitudePercent: 9 },
    ],
  },
  {
    name: 'second-leg',
    standOffMm: 49.5,
    gainDb: 52,
    targets: [
      { name: 'lack of side-wall fusion', depthMm: 7, leg: 2, fromMm: 118, toMm: 146, amplitudePercent: 84 },
      { name: 'pore', cluster: 'porosity', depthMm: 3.1, leg: 2, atMm: 24, amplitudePercent: 17 },
      { name: 'pore', cluster: 'porosity', depthMm: 3.9, leg: 2, atMm: 28, amplitudePercent: 24 },
      { name: 'pore', cluster: 'porosity', depthMm: 2.6, leg: 2, atMm: 31, amplitudePercent: 20 },
      { name: 'pore', cluster: 'porosity', depthMm: 4.4, leg: 2, atMm: 35, amplitudePercent: 15 },
      { name: 'cap edge', geometry: true, pathMm: 68.4, fromMm: -50, toMm: 250, amplitudePercent: 38 },
    ],
  },
];

/** Share of a Gaussian beam at `positionMm` that falls on a flaw from `fromMm` to `toMm`, by the trapezium rule. */
function shareOnFlaw(positionMm, { fromMm, toMm }) {
  const from = Math.max(fromMm, positionMm - 6 * beamSigmaMm);
  const to = Math.min(toMm, positionMm + 6 * beamSigmaMm);
  if (from >= to) return 0;
  const parts = 200;
  let sum = 0;
  for (let i = 0; i <= parts; i++) {
    const aside = (from + ((to - from) * i) / parts - positionMm) / beamSigmaMm;
    sum += Math.exp(-0.5 * aside * aside) * (i === 0 || i === parts ? 0.5 : 1);
  }
  return (sum * (to - from)) / parts / (beamSigmaMm * Math.sqrt(2 * Math.PI));
}

function targetPathMm(target) {
  if (target.pathMm) return target.pathMm;
  const straightened = target.leg === 1 ? target.depthMm : 2 * plate.thicknessMm - target.depthMm;
  return straightened / Math.cos((angleProbe.angleDeg * Math.PI) / 180);
}

function targetEcho(target, positionMm) {
  const share =
    target.atMm === undefined
      ? shareOnFlaw(positionMm, target)
      : Math.exp(-0.5 * ((positionMm - target.atMm) / beamSigmaMm) ** 2);
  // A cap and a root bead are never quite even along the weld.
  const ripple = target.geometry ? 1 + 0.12 * Math.sin(positionMm / 9) : 1;
  return {
    timeUs: echoTimeUs(targetPathMm(target), angleProbe),
    amplitudePercent: target.amplitudePercent * share * ripple,
    phase: positionMm / 40,
  };
}

function plateWeld() {
  const axis = { startUs: 8, sampleRateMHz: 50, count: 2400 };
  const files = {};
  const manifest = ['file,trace,position_mm,gain_db'];
  const positions = Array.from({ length: plate.lengthMm / plate.everyMm + 1 }, (_, i) => i * plate.everyMm);
  const truth = passes.map((pass, passIndex) => {
    const file = `${pass.name}.csv`;
    const names = positions.map((_, i) => `capture_${twoDigits(i + 1)}_pct`);
    const columns = positions.map((positionMm, i) =>
      capture({
        axis,
        pulse: angleProbe.pulse,
        echoes: pass.targets.map((target) => targetEcho(target, positionMm)),
        noise: { whitePercent: 0.5, grain: { rmsPercent: 1.2, decayUs: 60 }, offsetPercent: 0 },
        // An eight-bit screen: 250 steps of 0.4 %.
        converter: { stepPercent: 0.4, screenPercent: 100, rectified: true },
        seed: 501 + 100 * passIndex + i,
      }),
    );
    const head = preamble(
      {
        title: `frame 12, butt weld in ${plate.thicknessMm} mm plate, ${pass.name.replace('-', ' ')}`,
        instrument,
        probe: angleProbe.name,
        index_point_to_weld_centre_mm: pass.standOffMm,
        gain_db: pass.gainDb,
        taken_at: dayTime(passIndex === 0 ? '08:30' : '08:55'),
        sample_rate_mhz: 50,
        rectification: 'full',
      },
      numberSign,
    );
    const rows = Array.from({ length: axis.count }, (_, i) =>
      [decimal(400 + i, 2, 2), ...columns.map((steps) => decimal(steps[i], 4, 1))].join(','),
    );
    files[`plate-weld/${file}`] = lines([...head, ['time_us', ...names].join(','), ...rows]);
    positions.forEach((positionMm, i) => {
      manifest.push(`${file},${names[i]},${positionMm},${pass.gainDb}`);
    });
    return {
      file: `plate-weld/${file}`,
      stand_off_mm: pass.standOffMm,
      positions_mm: positions,
      targets: pass.targets.map((target) => {
        const pathMm = targetPathMm(target);
        const surfaceMm = pathMm * Math.sin((angleProbe.angleDeg * Math.PI) / 180);
        return {
          name: target.cluster ?? target.name,
          geometry: target.geometry ?? false,
          sound_path_mm: pathMm,
          time_us: echoTimeUs(pathMm, angleProbe),
          depth_mm: target.depthMm ?? null,
          leg: target.leg ?? null,
          surface_distance_mm: surfaceMm,
          from_mm: target.atMm ?? Math.max(0, target.fromMm),
          to_mm: target.atMm ?? Math.min(plate.lengthMm, target.toMm),
          amplitude_percent: target.amplitudePercent,
        };
      }),
    };
  });
  files['plate-weld/manifest.csv'] = lines(manifest);
  return { files, truth: { thickness_mm: plate.thicknessMm, angle_deg: angleProbe.angleDeg, passes: truth } };
}

// ---- broken files ---------------------------------------------------------------------------------------

function broken() {
  const head = ['# gain_db: 40', 'time_us,amplitude_pct'];
  const rows = Array.from({ length: 60 }, (_, i) => `${decimal(1000 + i, 2, 2)},${decimal((i * 7) % 13, 5, 2)}`);
  /** The file with row `index` (counted from 0) put otherwise; it stands on line `index + 3`. */
  const withRow = (index, row) => lines([...head, ...rows.with(index, row)]);
  const random = Uint8Array.from({ length: 600 }, (_, i) => (i * 197 + (i >> 3) * 31) & 255);
  return {
    files: {
      'broken/missing-field.csv': withRow(20, '20.40'),
      'broken/field-too-many.csv': withRow(31, '20.62,0.25,7'),
      'broken/not-a-number.csv': withRow(12, '20.24,NaN'),
      'broken/over-range-sign.csv': withRow(44, '20.88,∞'),
      'broken/time-goes-back.csv': withRow(35, '20.10,0.30'),
      'broken/gap-in-time.csv': lines([...head, ...rows.slice(0, 30), ...rows.slice(38)]),
      'broken/last-line-cut-off.csv': lines([...head, ...rows]).slice(0, -6),
      'broken/no-units.csv': lines(['time,amplitude', ...rows]),
      'broken/empty.csv': '',
      'broken/not-text.csv': random,
    },
    truth: {
      'broken/missing-field.csv': { line: 23 },
      'broken/field-too-many.csv': { line: 34 },
      'broken/not-a-number.csv': { line: 15 },
      'broken/over-range-sign.csv': { line: 47 },
      'broken/time-goes-back.csv': { line: 38 },
      'broken/gap-in-time.csv': { line: 33 },
      'broken/last-line-cut-off.csv': { line: 62 },
      'broken/no-units.csv': { line: 1 },
      'broken/empty.csv': { line: null },
      'broken/not-text.csv': { line: null },
    },
  };
}

// ---- all of them ----------------------------------------------------------------------------------------

/** Every file by its path inside this folder, as bytes; `truth.json` with what stands behind them. */
function everything() {
  const parts = {
    reference_block: referenceBlock(),
    step_block: stepBlock(),
    hole_series: holeSeries(),
    shift: shift(),
    plate_weld: plateWeld(),
    broken: broken(),
  };
  const files = Object.assign({}, ...Object.values(parts).map((part) => part.files));
  // Nine digits are more than any reading has, and fewer than the last bit that machines differ in.
  const nineDigits = (_key, value) => (typeof value === 'number' ? Number(value.toPrecision(9)) : value);
  const truth = Object.fromEntries(Object.entries(parts).map(([name, part]) => [name, part.truth]));
  files['truth.json'] = `${JSON.stringify(truth, nineDigits, 2)}\n`;
  return new Map(Object.entries(files).map(([path, content]) => [path, Buffer.from(content)]));
}

/** The files here that this script should have made: all tables, and the truth. */
function onDisk() {
  return readdirSync(folder, { recursive: true })
    .map((path) => path.split(sep).join('/'))
    .filter((path) => path.endsWith('.csv') || path === 'truth.json');
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
