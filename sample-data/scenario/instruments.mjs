// Four invented instruments on the bench, each put through the same checks of its linearity. One is sound; the others have one fault each.
import { attenuated, decibels, detectedCapture, echoTimeUs } from '../waveform.mjs';
import { instrumentUse } from './instrument-use.mjs';
import { percentStep, record, sampleRateMHz, screenNoise, timesWritten } from './screen-record.mjs';
import { mainBang, straightProbe } from './set-up.mjs';
import { decimal, lines, numberSign, preamble, twoDigits } from './text.mjs';

const plateMm = 25;
const echoCount = 11;
/** The time base is checked over its full width: from the first back-wall echo to the eleventh. */
const fullRangeMm = (echoCount - 1) * plateMm;

/** `gainScale`: what 1 dB on the dial is worth; `bendPercent`: of the full range, at its middle; `clipPercent`: where the screen stops to rise. */
const instruments = [
  { folder: 'sound', name: 'flaw detector 4', gainScale: 1, bendPercent: 0, clipPercent: 100, seed: 2000 },
  { folder: 'gain-drifts', name: 'flaw detector 5', gainScale: 0.9, bendPercent: 0, clipPercent: 100, seed: 3000 },
  { folder: 'time-base-bends', name: 'flaw detector 6', gainScale: 1, bendPercent: 1.6, clipPercent: 100, seed: 4000 },
  { folder: 'clips', name: 'flaw detector 7', gainScale: 1, bendPercent: 0, clipPercent: 96, seed: 5000 },
];

const block = {
  plate: 'plate 25 mm',
  pair: 'hole block 5, two holes in ratio 2 to 1',
  single: 'hole block 5, one hole',
};

/** What an instrument shows of echoes at `distanceMm`, its own faults included; its heights before the screen's limit are `truth`. */
function shown(instrument, axis, echoes, seed, bang = null) {
  const first = echoTimeUs(plateMm, straightProbe);
  const rangeUs = (2000 * fullRangeMm) / straightProbe.velocityMPerS;
  const displaced = echoes.map((echo) => {
    const place = (echoTimeUs(echo.distanceMm, straightProbe) - first) / rangeUs;
    const bend = place > 0 && place < 1 ? (instrument.bendPercent / 100) * rangeUs * 4 * place * (1 - place) : 0;
    return { ...echo, timeUs: echoTimeUs(echo.distanceMm, straightProbe) + bend };
  });
  const steps = detectedCapture({
    axis,
    pulse: straightProbe.pulse,
    echoes: displaced,
    mainBang: bang,
    noise: screenNoise,
    converter: { stepPercent: percentStep, screenPercent: instrument.clipPercent },
    seed: instrument.seed + seed,
  });
  const truth = displaced.map(({ distanceMm, timeUs, amplitudePercent }) => ({
    distance_mm: distanceMm,
    time_us: timeUs,
    amplitude_percent: Math.min(amplitudePercent, instrument.clipPercent),
    cut_off: amplitudePercent > instrument.clipPercent,
  }));
  return { steps, truth };
}

/** Eleven back-wall echoes of the plate; the main bang stands ahead of them and is none of them. */
function timeBase(instrument) {
  const axis = { startUs: 0, sampleRateMHz, count: 5000 };
  const echoes = Array.from({ length: echoCount }, (_, i) => ({
    distanceMm: (i + 1) * plateMm,
    amplitudePercent: attenuated(88, i * plateMm, straightProbe.attenuationDbPerMm) * decibels(-0.6 * i),
    phase: 0.5 * i,
  }));
  const { steps, truth } = shown(instrument, axis, echoes, 1, { ...mainBang, ringDownUs: 0.35 });
  const rangeUs = (2000 * fullRangeMm) / straightProbe.velocityMPerS;
  return {
    files: [{ file: 'time-base.csv', axis, steps, block: block.plate, gainDb: 34 }],
    truth: {
      file: 'time-base.csv',
      spacing_mm: plateMm,
      full_range_mm: fullRangeMm,
      full_range_us: rangeUs,
      echoes: truth,
      /** Against the straight line through the first and the last echo; other lines give other figures. */
      end_point_deviation_percent: truth.map(({ distance_mm, time_us }) => {
        const ideal = echoTimeUs(distance_mm, straightProbe);
        return (100 * (time_us - ideal)) / rangeUs;
      }),
    },
  };
}

/** The first echo's top lies midway between two samples, so that a crest cut off at 96 % has four flat ones and steep shoulders. */
const pairAxis = { startUs: 8.01, sampleRateMHz, count: 400 };
const singleAxis = { startUs: 8.01, sampleRateMHz, count: 300 };
const largerMm = 30;
const smallerMm = 38;

/** The dial's tenth of a dB nearest to a change of `db`; for the highest step the one that stays on the screen. */
function dialFor(db, onScreen, gainScale) {
  const tenths = (10 * db) / gainScale;
  return (onScreen ? Math.floor(tenths) : Math.round(tenths)) / 10;
}

/** Two echoes in ratio 2 to 1; the gain's fine steps of 0.1 dB bring the larger as near to each height as they can. */
function twoEchoes(instrument) {
  const atEighty = 40;
  const heights = [100, 90, 80, 70, 60, 50, 40, 30, 20];
  const made = heights.map((heightPercent, index) => {
    const dialDb = dialFor(20 * Math.log10(heightPercent / 80), heightPercent === 100, instrument.gainScale);
    const larger = 80 * decibels(instrument.gainScale * dialDb);
    const echoes = [
      { distanceMm: largerMm, amplitudePercent: larger, phase: 0.3 },
      { distanceMm: smallerMm, amplitudePercent: larger / 2, phase: 1.1 },
    ];
    const { steps, truth } = shown(instrument, pairAxis, echoes, 10 + index);
    const file = `screen-height/two-echo-${String(heightPercent).padStart(3, '0')}-percent.csv`;
    const gainDb = Math.round(10 * (atEighty + dialDb)) / 10;
    return {
      file: { file, axis: pairAxis, steps, block: block.pair, gainDb },
      truth: { file, set_percent: heightPercent, gain_db: gainDb, larger: truth[0], smaller: truth[1] },
    };
  });
  return { files: made.map((m) => m.file), truth: made.map((m) => m.truth) };
}

const signed = (db, digits = 2) => `${db < 0 ? 'minus' : 'plus'}-${String(Math.abs(db)).padStart(digits, '0')}`;

/** One echo at `setPercent`, then with the gain changed by `changeDb`: what stands on the screen. */
function stepped(instrument, { file, setPercent, gainAtSetDb, changeDb, seed }) {
  const amplitudePercent = setPercent * decibels(instrument.gainScale * changeDb);
  const { steps, truth } = shown(
    instrument,
    singleAxis,
    [{ distanceMm: largerMm, amplitudePercent, phase: 0.3 }],
    seed,
  );
  const gainDb = gainAtSetDb + changeDb;
  return {
    file: { file, axis: singleAxis, steps, block: block.single, gainDb },
    truth: { file, set_percent: setPercent, change_db: changeDb, gain_db: gainDb, ...truth[0] },
  };
}

function oneEcho(instrument) {
  const made = [2, 0, -6, -12, -18, -24].map((changeDb, index) =>
    stepped(instrument, {
      file: `screen-height/one-echo-${changeDb === 0 ? '00' : signed(changeDb)}-db.csv`,
      setPercent: 80,
      gainAtSetDb: 40,
      changeDb,
      seed: 30 + index,
    }),
  );
  return { files: made.map((m) => m.file), truth: made.map((m) => m.truth) };
}

/** The four settings: set at a height, then change the gain. Each set height is saved, too. */
function fourSettings(instrument) {
  const settings = [
    { setPercent: 80, changes: [0, -6, -12] },
    { setPercent: 40, changes: [0, 6] },
    { setPercent: 20, changes: [0, 12] },
  ];
  const made = settings.flatMap(({ setPercent, changes }, group) =>
    changes.map((changeDb, index) =>
      stepped(instrument, {
        file: `gain/${changeDb === 0 ? `set-${setPercent}-percent` : `from-${setPercent}-percent-${signed(changeDb)}-db`}.csv`,
        setPercent,
        gainAtSetDb: 40,
        changeDb,
        seed: 50 + 10 * group + index,
      }),
    ),
  );
  return { files: made.map((m) => m.file), truth: made.map((m) => m.truth) };
}

/** Over 60 dB: at each of ten gains the echo is set to 40 % by moving the probe, then the gain raised by 2, 4 and 6 dB. One file, a trace each. */
function overSixtyDb(instrument) {
  const file = 'gain/run-over-60-db.csv';
  const made = Array.from({ length: 10 }, (_, tens) =>
    [0, 2, 4, 6].map((changeDb) =>
      stepped(instrument, {
        file,
        setPercent: 40,
        gainAtSetDb: 20 + 6 * tens,
        changeDb,
        seed: 100 + 10 * tens + changeDb,
      }),
    ),
  ).flat();
  const names = made.map(
    ({ truth }, i) =>
      `span_${twoDigits(Math.floor(i / 4) + 1)}_${truth.change_db === 0 ? 'set' : `plus_${truth.change_db}`}_pct`,
  );
  const head = {
    title: 'gain over 60 dB: echo set to 40 % FSH, then raised by 2, 4 and 6 dB; gains in the manifest',
    instrument: instrument.name,
    probe: straightProbe.name,
    block: block.single,
    rectification: 'envelope',
  };
  const rows = timesWritten(singleAxis).map((time, i) =>
    [time, ...made.map((m) => decimal(m.file.steps[i], 1, 1))].join(','),
  );
  return {
    file,
    content: lines([...preamble(head, numberSign), ['time_us', ...names].join(','), ...rows]),
    traces: made.map(({ truth }, i) => ({ trace: names[i], gainDb: truth.gain_db, step: stepWords(truth) })),
    truth: made.map(({ truth }, i) => ({ ...truth, trace: names[i] })),
  };
}

function stepWords({ set_percent, change_db }) {
  return change_db === 0
    ? `echo set to ${set_percent} % FSH`
    : `${change_db > 0 ? '+' : '−'}${Math.abs(change_db)} dB from ${set_percent} % FSH`;
}

/** Minute by minute of the checking day, from 08:00. */
const minuteOf = (minute) => `2026-05-12T${twoDigits(8 + Math.floor(minute / 60))}:${twoDigits(minute % 60)}:00Z`;

function checked(instrument) {
  const base = timeBase(instrument);
  const pair = twoEchoes(instrument);
  const single = oneEcho(instrument);
  const settings = fourSettings(instrument);
  const run = overSixtyDb(instrument);
  const files = {};
  const manifest = ['file,trace,gain_db,taken_at,probe,instrument,step'];
  let minute = 0;
  const row = (file, trace, gainDb, step) => {
    const takenAt = minuteOf(minute++);
    manifest.push([file, trace, gainDb, takenAt, `"${straightProbe.name}"`, instrument.name, step].join(','));
    return takenAt;
  };
  const wordsOf = new Map([...single.truth, ...settings.truth].map((truth) => [truth.file, stepWords(truth)]));
  for (const { file, axis, steps, block: on, gainDb } of [base, pair, single, settings].flatMap((part) => part.files)) {
    const takenAt = row(file, '', gainDb, wordsOf.get(file) ?? '');
    const head = {
      instrument: instrument.name,
      probe: straightProbe.name,
      block: on,
      gain_db: gainDb,
      taken_at: takenAt,
    };
    files[`instruments/${instrument.folder}/${file}`] = record(head, axis, steps);
  }
  for (const { trace, gainDb, step } of run.traces) row(run.file, trace, gainDb, step);
  files[`instruments/${instrument.folder}/${run.file}`] = run.content;
  files[`instruments/${instrument.folder}/manifest.csv`] = lines(manifest);
  return {
    files,
    truth: {
      folder: `instruments/${instrument.folder}`,
      instrument: instrument.name,
      dial_db_worth_db: instrument.gainScale,
      bend_percent_of_full_range: instrument.bendPercent,
      clips_at_percent: instrument.clipPercent,
      time_base: base.truth,
      two_echo: pair.truth,
      one_echo: single.truth,
      four_settings: settings.truth,
      over_60_db: run.truth,
    },
  };
}

export function instrumentsOnTheBench() {
  const parts = instruments.map(checked);
  const use = instrumentUse(instruments[0].name);
  return {
    files: Object.assign({}, ...parts.map((part) => part.files), use.files),
    truth: {
      velocity_m_per_s: straightProbe.velocityMPerS,
      zero_offset_us: straightProbe.zeroOffsetUs,
      ...Object.fromEntries(parts.map((part, i) => [instruments[i].folder.replaceAll('-', '_'), part.truth])),
      use: use.truth,
    },
  };
}
