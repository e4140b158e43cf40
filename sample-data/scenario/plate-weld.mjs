import { capture, decibels, echoTimeUs } from '../waveform.mjs';
import { angleProbe, dayTime, instrument } from './set-up.mjs';
import { decimal, lines, numberSign, preamble, twoDigits } from './text.mjs';

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

/**
 * One place of the second pass again, before and after a wet finger on the cap's edge. The finger takes of the edge's echo what passes into it; what lies
 * inside the plate keeps its echo, but for the coupling, which is never the same twice.
 */
const damping = {
  positionMm: 130,
  before: { file: 'cap-before-damping.csv', takenAt: '09:10', couplingDb: 0, edgeDb: 0, seed: 701 },
  after: { file: 'cap-damped.csv', takenAt: '09:11', couplingDb: 0.3, edgeDb: -8.5, seed: 702 },
};

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

const axis = { startUs: 8, sampleRateMHz: 50, count: 2400 };
// An eight-bit screen: 250 steps of 0.4 %.
const converter = { stepPercent: 0.4, screenPercent: 100, rectified: true };
const noise = { whitePercent: 0.5, grain: { rmsPercent: 1.2, decayUs: 60 }, offsetPercent: 0 };

function headOf(title, pass, time, more = {}) {
  return preamble(
    {
      title: `frame 12, butt weld in ${plate.thicknessMm} mm plate, ${title}`,
      instrument,
      probe: angleProbe.name,
      index_point_to_weld_centre_mm: pass.standOffMm,
      gain_db: pass.gainDb,
      taken_at: dayTime(time),
      ...more,
      sample_rate_mhz: 50,
      rectification: 'full',
    },
    numberSign,
  );
}

const timeWritten = (i) => decimal(400 + i, 2, 2);

function dampedCapture({ takenAt, couplingDb, edgeDb, seed }, title) {
  const pass = passes[1];
  const { positionMm } = damping;
  const steps = capture({
    axis,
    pulse: angleProbe.pulse,
    echoes: pass.targets.map((target) => {
      const echo = targetEcho(target, positionMm);
      const changeDb = couplingDb + (target.name === 'cap edge' ? edgeDb : 0);
      return { ...echo, amplitudePercent: echo.amplitudePercent * decibels(changeDb) };
    }),
    noise,
    converter,
    seed,
  });
  const head = headOf(title, pass, takenAt, { position_mm: positionMm, across_mm: pass.standOffMm });
  const rows = Array.from(steps, (step, i) => `${timeWritten(i)},${decimal(step, 4, 1)}`);
  return lines([...head, 'time_us,amplitude_pct', ...rows]);
}

export function plateWeld() {
  const files = {};
  const manifest = ['file,trace,position_mm,across_mm,gain_db'];
  const positions = Array.from({ length: plate.lengthMm / plate.everyMm + 1 }, (_, i) => i * plate.everyMm);
  const truth = passes.map((pass, passIndex) => {
    const file = `${pass.name}.csv`;
    const names = positions.map((_, i) => `capture_${twoDigits(i + 1)}_pct`);
    const columns = positions.map((positionMm, i) =>
      capture({
        axis,
        pulse: angleProbe.pulse,
        echoes: pass.targets.map((target) => targetEcho(target, positionMm)),
        noise,
        converter,
        seed: 501 + 100 * passIndex + i,
      }),
    );
    const head = headOf(pass.name.replace('-', ' '), pass, passIndex === 0 ? '08:30' : '08:55');
    const rows = Array.from({ length: axis.count }, (_, i) =>
      [timeWritten(i), ...columns.map((steps) => decimal(steps[i], 4, 1))].join(','),
    );
    files[`plate-weld/${file}`] = lines([...head, ['time_us', ...names].join(','), ...rows]);
    positions.forEach((positionMm, i) => {
      manifest.push(`${file},${names[i]},${positionMm},${pass.standOffMm},${pass.gainDb}`);
    });
    return {
      file: `plate-weld/${file}`,
      stand_off_mm: pass.standOffMm,
      beam_width_minus_6_db_mm: 2 * beamSigmaMm * Math.sqrt(2 * Math.log(2)),
      first_position_mm: 0,
      every_mm: plate.everyMm,
      positions: positions.length,
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
  const { positionMm, before, after } = damping;
  files[`plate-weld/${before.file}`] = dampedCapture(before, 'second leg, before damping');
  files[`plate-weld/${after.file}`] = dampedCapture(after, 'second leg, wet finger on the edge of the cap');
  const damped = {
    before: `plate-weld/${before.file}`,
    after: `plate-weld/${after.file}`,
    position_mm: positionMm,
    coupling_change_db: after.couplingDb,
    cap_edge_change_db: after.couplingDb + after.edgeDb,
  };
  return {
    files,
    truth: { thickness_mm: plate.thicknessMm, angle_deg: angleProbe.angleDeg, passes: truth, damping: damped },
  };
}
