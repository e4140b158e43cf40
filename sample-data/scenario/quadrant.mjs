import { attenuated, decibels, echoTimeUs } from '../waveform.mjs';

export const blockDistancesMm = [100, 225, 350];
const slot = [
  { distanceMm: 96.4, amplitudePercent: 12 },
  { distanceMm: 221.4, amplitudePercent: 6 },
];
export const referenceGainDb = 42;
const firstEchoPercent = 80;
/** Lost each time the pulse turns round at the return radius, beside the attenuation on the way. */
const turnLossDb = 3.1;

/** The quadrant's echoes: 100 mm, then every 125 mm more (outer plus return radius), and the slot's ahead of two of them. */
export function quadrantEchoes(setUp, sensitivityDb) {
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

export const echoTruth = ({ distanceMm, timeUs, amplitudePercent }) => ({
  distance_mm: distanceMm,
  time_us: timeUs,
  amplitude_percent: amplitudePercent,
});
