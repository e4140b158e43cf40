import { capture, decibels, envelopeSigmaUs } from '../waveform.mjs';
import { dayTime, fineConverter, instrument, mainBang } from './set-up.mjs';
import { decimal, lines, numberSign, preamble, twoDigits } from './text.mjs';

/** Three straight probes on one plate, each put on anew six times. */
const probes = [
  {
    name: 'straight probe 21',
    file: 'probe-21',
    frequencyMHz: 5.05,
    bandwidth: 0.62,
    gainDb: 30,
    height: 82,
    phase: 0.3,
  },
  {
    name: 'straight probe 22',
    file: 'probe-22',
    frequencyMHz: 4.35,
    bandwidth: 0.55,
    gainDb: 30,
    height: 71,
    phase: 0.9,
  },
  {
    name: 'straight probe 23',
    file: 'probe-23',
    frequencyMHz: 5.0,
    bandwidth: 0.34,
    gainDb: 24,
    height: 78,
    phase: 0.5,
  },
];
const couplingsDb = [0, -0.4, 0.2, -0.1, -0.6, 0.3];

export const plate = {
  thicknessMm: 25,
  velocityMPerS: 5918,
  zeroOffsetUs: 0.62,
  elementMm: 6,
  /** dB for each mm of travel and MHz²: grain scatter of no real steel, chosen to show. */
  attenuationDbPerMmMHz2: 0.0012,
};

/**
 * The n-th echo of the back wall. Attenuation by the square of the frequency leaves a Gaussian spectrum Gaussian: with exp(−c·(f − f₀)²), c = 2π²σ², and
 * exp(−k·f²), the product is again one, about c·f₀/(c + k), of c + k. Spreading is 1/n, the far field of an element of 6 mm.
 */
function backWallEcho(probe, n) {
  const sigma = envelopeSigmaUs(probe);
  const c = 2 * Math.PI ** 2 * sigma ** 2;
  const k = plate.attenuationDbPerMmMHz2 * (Math.LN10 / 20) * 2 * plate.thicknessMm * (n - 1);
  const frequencyMHz = (c * probe.frequencyMHz) / (c + k);
  const newSigma = Math.sqrt((c + k) / (2 * Math.PI ** 2));
  const bandwidth = Math.sqrt(2 * Math.LN2) / (Math.PI * newSigma * frequencyMHz);
  const fall = (sigma / newSigma) * Math.exp((-c * k * probe.frequencyMHz ** 2) / (c + k));
  return {
    timeUs: plate.zeroOffsetUs + (2000 * n * plate.thicknessMm) / plate.velocityMPerS,
    amplitudePercent: (probe.height * fall) / n,
    phase: probe.phase,
    pulse: { frequencyMHz, bandwidth },
  };
}

export function probesOnOnePlate() {
  const axis = { startUs: 6, sampleRateMHz: 100, count: 2300 };
  const files = {};
  const truth = probes.map((probe, index) => {
    const echoes = [1, 2, 3].map((n) => backWallEcho(probe, n));
    const captures = couplingsDb.map((couplingDb, repeat) => {
      const ratio = decibels(couplingDb);
      const steps = capture({
        axis,
        pulse: probe,
        echoes: echoes.map((echo) => ({ ...echo, amplitudePercent: echo.amplitudePercent * ratio })),
        mainBang,
        noise: { whitePercent: 0.12, grain: { rmsPercent: 0.08, decayUs: 60 }, offsetPercent: 0.2 },
        converter: fineConverter,
        seed: 901 + 10 * index + repeat,
      });
      const head = preamble(
        {
          instrument,
          probe: probe.name,
          block: 'plate 4, 25.00 mm',
          gain_db: probe.gainDb,
          taken_at: dayTime(`13:${twoDigits(10 * index + repeat)}`),
          temperature_c: 20,
          rectification: 'rf',
        },
        numberSign,
      );
      const rows = Array.from(steps, (step, i) => `${decimal(600 + i, 1, 2)},${decimal(step, 5, 2)}`);
      const file = `probes/${probe.file}-capture-${repeat + 1}.csv`;
      files[file] = lines([...head, 'Time (µs),Amplitude (%FSH)', ...rows]);
      return { file, coupling_db: couplingDb };
    });
    const sigma = envelopeSigmaUs(probe);
    // The −6 dB limits of a Gaussian spectrum lie 0.187070/σ from its middle; 10 % of its envelope 2.14597·σ from its peak.
    const half = Math.sqrt((6 * Math.LN10) / 20 / 2) / (Math.PI * sigma);
    return {
      probe: probe.name,
      gain_db: probe.gainDb,
      peak_frequency_mhz: probe.frequencyMHz,
      lower_limit_6db_mhz: probe.frequencyMHz - half,
      upper_limit_6db_mhz: probe.frequencyMHz + half,
      bandwidth_6db_mhz: 2 * half,
      pulse_duration_at_10_percent_us: 2 * sigma * Math.sqrt(2 * Math.LN10),
      echoes: echoes.map(({ timeUs, amplitudePercent, pulse }) => ({
        time_us: timeUs,
        amplitude_percent: amplitudePercent,
        frequency_mhz: pulse.frequencyMHz,
      })),
      captures,
    };
  });
  files['probes/stated.json'] = `${JSON.stringify(stated(), null, 2)}\n`;
  return {
    files,
    truth: {
      thickness_mm: plate.thicknessMm,
      velocity_m_per_s: plate.velocityMPerS,
      attenuation_db_per_mm_of_travel_per_mhz2: plate.attenuationDbPerMmMHz2,
      probes: truth,
    },
  };
}

/** All three were bought as 5 MHz probes. */
function stated() {
  return {
    probes: probes.map(({ name }) => ({
      name,
      element_mm: plate.elementMm,
      stated: { centre_frequency_astm_e1065_mhz: 5, bandwidth_6db_mhz: 3 },
    })),
  };
}
