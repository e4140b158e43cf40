import { attenuated, capture, decibels, echoTimeUs } from '../waveform.mjs';
import { echoTruth } from './quadrant.mjs';
import { dayTime, fineConverter, instrument, mainBang, quiet, straightProbe } from './set-up.mjs';
import { decimal, equalsSign, lines, preamble } from './text.mjs';

/** As the micrometer found them, not as the drawing has them. */
const stepsMm = [10.02, 19.98, 30.01];

export function stepBlock() {
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
