import { capture, decibels, echoTimeUs } from '../waveform.mjs';
import { dayTime, fineConverter, instrument, mainBang, quiet, straightProbe } from './set-up.mjs';
import { decimal, lines, numberSign, preamble, twoDigits } from './text.mjs';

const hole = { centreDepthMm: 40, diameterMm: 3, positionMm: 0.4, peakPercent: 78, minusSixDbAtMm: 5.5 };
const seriesGainDb = 46;
/** Gains other than the series' own. The one next to the peak drives the echo off the screen. */
const otherGainDb = new Map([
  [-6, 52],
  [1, 52],
  [7, 52],
]);
const withoutCouplingAtMm = -4;

export function holeSeries() {
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
