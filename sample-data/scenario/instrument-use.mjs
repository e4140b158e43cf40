// What the sound instrument was used for: sensitivity on side-drilled holes, two back walls, a calibration and its checks over five weeks, two indications.
import { attenuated, decibels, detectedCapture, echoTimeUs, randomSource } from '../waveform.mjs';
import { percentStep, record, sampleRateMHz, screenNoise } from './screen-record.mjs';
import { straightProbe } from './set-up.mjs';

const folder = 'instruments/sound';
const perMm = straightProbe.attenuationDbPerMm;

/** A hole's echo falls with the distance to the power 3/2, and by the attenuation; in dB against the one at 25 mm. */
const holeReferenceMm = 25;
const holeReferenceGainDb = 40;
const holeLevelDb = (pathMm) => -30 * Math.log10(pathMm / holeReferenceMm) - perMm * (pathMm - holeReferenceMm);
const holePercent = (pathMm, gainDb, relativeDb = 0) =>
  80 * decibels(holeLevelDb(pathMm) + gainDb - holeReferenceGainDb + relativeDb);

function shown(axis, echoes, setUp, seed) {
  return detectedCapture({
    axis: { sampleRateMHz, ...axis },
    pulse: straightProbe.pulse,
    echoes: echoes.map((echo) => ({ ...echo, timeUs: echoTimeUs(echo.distanceMm, setUp) })),
    noise: screenNoise,
    converter: { stepPercent: percentStep, screenPercent: 100 },
    seed,
  });
}

function saved(instrument, { file, axis, echoes, gainDb, takenAt, block, title, seed, setUp = straightProbe }) {
  const facts = { title, instrument, probe: straightProbe.name, gain_db: gainDb, taken_at: takenAt };
  const head = block === null ? facts : { ...facts, block };
  return {
    content: record(head, { sampleRateMHz, ...axis }, shown(axis, echoes, setUp, seed)),
    truth: {
      file: `${folder}/${file}`,
      gain_db: gainDb,
      taken_at: takenAt,
      echoes: echoes.map(({ distanceMm, amplitudePercent }) => ({
        distance_mm: distanceMm,
        time_us: echoTimeUs(distanceMm, setUp),
        amplitude_percent: amplitudePercent,
      })),
    },
  };
}

const partAxis = { startUs: 4, count: 1700 };

/** Sound paths to the holes' walls, and the gain that brings each near 80 %. */
const holes = [
  { pathMm: 25, gainDb: 40 },
  { pathMm: 50, gainDb: 50 },
  { pathMm: 75, gainDb: 56 },
  { pathMm: 100, gainDb: 60 },
];

const sensitivity = (instrument) =>
  holes.map(({ pathMm, gainDb }, index) =>
    saved(instrument, {
      file: `sensitivity/hole-${String(pathMm).padStart(3, '0')}-mm.csv`,
      axis: partAxis,
      echoes: [{ distanceMm: pathMm, amplitudePercent: holePercent(pathMm, gainDb), phase: 0.4 + index }],
      gainDb,
      takenAt: `2026-05-12T10:1${index}:00Z`,
      block: 'hole block 6, side-drilled holes 3 mm',
      title: `side-drilled hole, ${pathMm} mm to its wall, echo peaked`,
      seed: 2600 + index,
    }),
  );

const thickMm = 80;
const farFieldSpreadDb = 20 * Math.log10(2);

/** Second back wall against the first: twice the distance in the far field, and the attenuation on the way. */
const backWall = (instrument) =>
  saved(instrument, {
    file: 'back-wall.csv',
    axis: { startUs: 24, count: 1700 },
    echoes: [1, 2].map((n) => ({
      distanceMm: n * thickMm,
      amplitudePercent: 82 * decibels(-(farFieldSpreadDb + perMm * thickMm) * (n - 1)),
      phase: 0.9 * n,
    })),
    gainDb: 26,
    takenAt: '2026-05-12T10:30:00Z',
    block: 'forged block 80 mm',
    title: 'two back-wall echoes of a thick block',
    seed: 2650,
  });

/** Echoes of indications in a part, in dB against a hole at the same distance. */
const indications = [
  { pathMm: 40, relativeDb: -8, gainDb: 52, takenAt: '2026-05-07T13:20:00Z' },
  { pathMm: 66, relativeDb: -1.5, gainDb: 54, takenAt: '2026-05-12T10:50:00Z' },
];

const part = (instrument) =>
  indications.map(({ pathMm, relativeDb, gainDb, takenAt }, index) => {
    const made = saved(instrument, {
      file: `part/indication-${index + 1}.csv`,
      axis: partAxis,
      echoes: [{ distanceMm: pathMm, amplitudePercent: holePercent(pathMm, gainDb, relativeDb), phase: 1.3 * index }],
      gainDb,
      takenAt,
      block: null,
      title: `shaft 9, indication ${index + 1}, echo peaked`,
      seed: 2660 + index,
    });
    return { ...made, truth: { ...made.truth, against_curve_db: relativeDb } };
  });

const checkAxis = { startUs: 7, count: 1500 };
const checkBlock = 'plate 25 mm';
const plateEchoes = (sensitivityDb) =>
  [1, 2, 3, 4].map((n) => ({
    distanceMm: 25 * n,
    amplitudePercent: attenuated(80, 25 * (n - 1), perMm) * decibels(-1.2 * (n - 1) + sensitivityDb),
    phase: 0.5 * n,
  }));

const calibration = (instrument) =>
  saved(instrument, {
    file: 'calibration.csv',
    axis: checkAxis,
    echoes: plateEchoes(0),
    gainDb: 33,
    takenAt: '2026-04-07T06:40:00Z',
    block: checkBlock,
    title: 'four back-wall echoes of the plate, set-up of the season',
    seed: 2690,
  });

/** Every working morning the sensitivity is a little lower and the probe's face a little thinner; neither is seen from one day to the next. */
const dailyLossDb = 0.03;
const dailyZeroOffsetUs = -0.0006;
const scatterDb = 0.12;
const scatterUs = 0.003;
const checkCount = 24;

function mornings() {
  const days = [];
  for (let day = 0; days.length < checkCount; day++) {
    const date = new Date(Date.UTC(2026, 3, 7 + day));
    if (date.getUTCDay() >= 1 && date.getUTCDay() <= 5) days.push({ day, date: date.toISOString().slice(0, 10) });
  }
  return days;
}

function checks(instrument) {
  const random = randomSource(2700);
  return mornings().map(({ day, date }, index) => {
    const sensitivityDb = -dailyLossDb * day + scatterDb * random.normal();
    const zeroOffsetChangeUs = dailyZeroOffsetUs * day + scatterUs * random.normal();
    const made = saved(instrument, {
      file: `checks/${date}.csv`,
      axis: checkAxis,
      echoes: plateEchoes(sensitivityDb),
      gainDb: 33,
      takenAt: `${date}T07:0${index % 10}:00Z`,
      block: checkBlock,
      title: 'check before work',
      seed: 2710 + index,
      setUp: { ...straightProbe, zeroOffsetUs: straightProbe.zeroOffsetUs + zeroOffsetChangeUs },
    });
    return {
      ...made,
      truth: {
        ...made.truth,
        day,
        amplitude_change_db: sensitivityDb,
        zero_offset_change_us: zeroOffsetChangeUs,
        distance_error_mm: (zeroOffsetChangeUs * straightProbe.velocityMPerS) / 2000,
      },
    };
  });
}

export function instrumentUse(instrument) {
  const made = {
    sensitivity: sensitivity(instrument),
    back_wall: backWall(instrument),
    part: part(instrument),
    calibration: calibration(instrument),
    checks: checks(instrument),
  };
  const files = Object.values(made)
    .flat()
    .map(({ content, truth }) => [truth.file, content]);
  const truths = Object.fromEntries(
    Object.entries(made).map(([name, entry]) => [
      name,
      Array.isArray(entry) ? entry.map((one) => one.truth) : entry.truth,
    ]),
  );
  return {
    files: Object.fromEntries(files),
    truth: {
      ...truths,
      hole_law: { distance_exponent: 1.5, attenuation_db_per_mm: perMm },
      back_wall_law: { spread_db: farFieldSpreadDb, attenuation_db_per_mm: perMm, thickness_mm: thickMm },
      checks_law: {
        sensitivity_db_per_day: -dailyLossDb,
        zero_offset_us_per_day: dailyZeroOffsetUs,
        distance_mm_per_day: (dailyZeroOffsetUs * straightProbe.velocityMPerS) / 2000,
        scatter_db: scatterDb,
        scatter_us: scatterUs,
      },
    },
  };
}
