// The physical model: how one A-scan comes about. Times in µs, frequencies in MHz, distances in mm
// (one-way sound path), velocities in m/s, amplitudes in per cent of full screen height (% FSH).
//
//     main bang + echoes + grain noise + white noise  ->  rectifier or detector (if any)  ->  screen limit and converter
//
// Every sample leaves as a whole number of converter steps. Whatever the last bit of a sine or an exponential
// is on this machine or that, it is gone after that rounding: the same seed gives the same bytes.

/** A source of random numbers that uses whole numbers alone (32-bit xorshift, Marsaglia 2003). */
export function randomSource(seed) {
  let [a, b, c, d] = [123456789, 362436069, 521288629, seed | 0 || 1];
  const uniform = () => {
    let t = a ^ (a << 11);
    [a, b, c] = [b, c, d];
    t ^= t >>> 8;
    d = (d ^ (d >>> 19) ^ t) | 0;
    return (d >>> 0) / 4294967296;
  };
  for (let i = 0; i < 64; i++) uniform();
  /** Twelve uniform numbers added up have variance 1 and need no logarithm. */
  const normal = () => {
    let sum = -6;
    for (let i = 0; i < 12; i++) sum += uniform();
    return sum;
  };
  return { uniform, normal };
}

/** Standard deviation of the Gaussian envelope whose spectrum is `bandwidth` (a fraction of the centre frequency) wide at half height. */
export function envelopeSigmaUs(pulse) {
  return Math.sqrt(2 * Math.LN2) / (Math.PI * pulse.bandwidth * pulse.frequencyMHz);
}

/** t = zero offset + 2 · distance / velocity. */
export function echoTimeUs(distanceMm, setUp) {
  return setUp.zeroOffsetUs + (2000 * distanceMm) / setUp.velocityMPerS;
}

/** Height on the screen after attenuation along the path, for a height of `sourcePercent` without any. */
export function attenuated(sourcePercent, distanceMm, attenuationDbPerMm) {
  return sourcePercent * decibels(-attenuationDbPerMm * distanceMm);
}

/** The amplitude ratio that is `db`. */
export function decibels(db) {
  return 10 ** (db / 20);
}

function addEcho(samples, axis, pulse, echo) {
  const sigma = envelopeSigmaUs(pulse);
  const rate = axis.sampleRateMHz;
  const first = Math.max(0, Math.ceil((echo.timeUs - 7 * sigma - axis.startUs) * rate));
  const last = Math.min(samples.length - 1, Math.floor((echo.timeUs + 7 * sigma - axis.startUs) * rate));
  for (let i = first; i <= last; i++) {
    const t = axis.startUs + i / rate - echo.timeUs;
    const envelope = echo.amplitudePercent * Math.exp(-0.5 * (t / sigma) ** 2);
    samples[i] += envelope * Math.cos(2 * Math.PI * pulse.frequencyMHz * t + (echo.phase ?? 0));
  }
}

/** The transmit pulse and its ring-down, far beyond the screen at first. Only a record that begins at 0 holds it. */
function addMainBang(samples, axis, pulse, bang) {
  for (let i = 0; i < samples.length; i++) {
    const t = axis.startUs + i / axis.sampleRateMHz;
    const height = bang.amplitudePercent * (1 - Math.exp(-t / 0.05)) * Math.exp(-t / bang.ringDownUs);
    if (t > 0 && height < 0.001) break;
    samples[i] += height * Math.sin(2 * Math.PI * pulse.frequencyMHz * t);
  }
}

/** Echoes of countless grains: white noise shaped by the probe's own pulse, of the given rms at time 0, dying away with depth. */
function addGrainNoise(samples, axis, pulse, grain, random) {
  const sigma = envelopeSigmaUs(pulse);
  const half = Math.ceil(3.5 * sigma * axis.sampleRateMHz);
  const shape = [];
  for (let i = -half; i <= half; i++) {
    const t = i / axis.sampleRateMHz;
    shape.push(Math.exp(-0.5 * (t / sigma) ** 2) * Math.cos(2 * Math.PI * pulse.frequencyMHz * t));
  }
  const scale = grain.rmsPercent / Math.sqrt(shape.reduce((sum, s) => sum + s * s, 0));
  const white = Float64Array.from({ length: samples.length + 2 * half }, random.normal);
  for (let i = 0; i < samples.length; i++) {
    let sum = 0;
    for (let k = 0; k < shape.length; k++) sum += shape[k] * white[i + k];
    const t = axis.startUs + i / axis.sampleRateMHz;
    samples[i] += scale * sum * Math.exp(-t / grain.decayUs);
  }
}

/**
 * One capture as whole converter steps (`Int32Array`), clipped where the screen ends.
 *
 *     axis:      { startUs, sampleRateMHz, count }
 *     pulse:     { frequencyMHz, bandwidth }
 *     echoes:    [{ timeUs, amplitudePercent, phase?, pulse? }]   a pulse of its own, where the material took some of it
 *     noise:     { whitePercent, grain: { rmsPercent, decayUs } | null, offsetPercent }
 *     converter: { stepPercent, screenPercent, rectified }
 */
export function capture({ axis, pulse, echoes, mainBang = null, noise, converter, gainRatio = 1, seed }) {
  const random = randomSource(seed);
  const samples = new Float64Array(axis.count);
  if (mainBang) addMainBang(samples, axis, pulse, mainBang);
  for (const echo of echoes) addEcho(samples, axis, echo.pulse ?? pulse, echo);
  if (noise.grain) addGrainNoise(samples, axis, pulse, noise.grain, random);
  const limit = Math.round(converter.screenPercent / converter.stepPercent);
  return Int32Array.from(samples, (sample) => {
    let value = (sample + noise.whitePercent * random.normal()) * gainRatio + noise.offsetPercent;
    if (converter.rectified) value = Math.abs(value);
    return Math.max(-limit, Math.min(limit, Math.round(value / converter.stepPercent)));
  });
}

/**
 * One capture as the screen of an instrument shows it: detected, so that only the envelope is left. Echoes and noise are added with their phases before that.
 * Parameters as for `capture`; no grain, and the screen's limit is where the instrument stops to rise.
 */
export function detectedCapture({ axis, pulse, echoes, mainBang = null, noise, converter, seed }) {
  const random = randomSource(seed);
  const inPhase = new Float64Array(axis.count);
  const quadrature = new Float64Array(axis.count);
  for (const echo of echoes) {
    addEcho(inPhase, axis, pulse, echo);
    addEcho(quadrature, axis, pulse, { ...echo, phase: (echo.phase ?? 0) - Math.PI / 2 });
  }
  if (mainBang) addMainBang(inPhase, axis, pulse, mainBang);
  const limit = Math.round(converter.screenPercent / converter.stepPercent);
  return Int32Array.from(inPhase, (sample, i) => {
    const height = Math.hypot(
      sample + noise.whitePercent * random.normal(),
      quadrature[i] + noise.whitePercent * random.normal(),
    );
    return Math.min(limit, Math.round(height / converter.stepPercent));
  });
}
