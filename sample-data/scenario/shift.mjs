import { capture, decibels } from '../waveform.mjs';
import { echoTruth, quadrantEchoes, referenceGainDb } from './quadrant.mjs';
import { angleProbe, dayTime, fineConverter, instrument, quadrantBlock, quiet } from './set-up.mjs';
import { decimal, equalsSign, lines, preamble } from './text.mjs';

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

export function shift() {
  const axis = { startUs: 50, sampleRateMHz: 50, count: 5750 };
  const files = {};
  const truth = checks.map((check, index) => {
    const setUp = { ...angleProbe, zeroOffsetUs: angleProbe.zeroOffsetUs + check.zeroOffsetChangeUs };
    const gainChangeDb = check.gainDb - referenceGainDb;
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
