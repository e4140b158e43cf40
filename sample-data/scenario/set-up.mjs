// Who and what took part: probes, instrument, block, noise and converter, and the one working day.

export const angleProbe = {
  name: 'angle probe 17, transverse, 4 MHz, 60 deg',
  pulse: { frequencyMHz: 4, bandwidth: 0.55 },
  velocityMPerS: 3241,
  zeroOffsetUs: 7.31,
  angleDeg: 60,
  attenuationDbPerMm: 0.02,
};
export const straightProbe = {
  name: 'straight probe 5, longitudinal, 5 MHz',
  pulse: { frequencyMHz: 5, bandwidth: 0.6 },
  elementMm: 6,
  velocityMPerS: 5918,
  zeroOffsetUs: 0.62,
  attenuationDbPerMm: 0.03,
};
export const instrument = 'flaw detector 2';
export const quadrantBlock = 'quadrant block 3, radius 100 mm, return radius 25 mm';

export const mainBang = { amplitudePercent: 260, ringDownUs: 0.28 };
export const fineConverter = { stepPercent: 0.05, screenPercent: 100, rectified: false };
export const quiet = { whitePercent: 0.3, grain: { rmsPercent: 0.5, decayUs: 60 }, offsetPercent: 0.2 };

/** `07:10` of the one working day; the instrument's clock runs on UTC. */
export const dayTime = (time) => `2026-05-11T${time}:00Z`;
