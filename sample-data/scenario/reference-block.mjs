import { capture } from '../waveform.mjs';
import { blockDistancesMm, echoTruth, quadrantEchoes, referenceGainDb } from './quadrant.mjs';
import { angleProbe, dayTime, fineConverter, instrument, mainBang, quadrantBlock, quiet } from './set-up.mjs';
import { decimal, lines, numberSign, preamble } from './text.mjs';

export function referenceBlock() {
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
      gain_db: referenceGainDb.toFixed(1),
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
