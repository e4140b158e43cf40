/**
 * The formulas behind every figure, so that a number can be asked where it comes from.
 * Results name them by key; the text stands once in each evaluation.
 */
export const formulas = {
  'distance-fit': {
    text: 'time = zero offset + 2 · distance / velocity, fitted as time on distance',
    source: 'Exact for two points, least squares for more: JCGM 100:2008 (GUM), H.3',
  },
  velocity: {
    text: 'velocity = 2 · Σ (distance − mean distance)² / Σ (distance − mean distance) · (time − mean time)',
    source: 'Least squares of time on distance, as distance-fit: JCGM 100:2008 (GUM), H.3',
  },
  'velocity-of-two': {
    text: 'velocity = 2 · (farther distance − nearer distance) / (later time − earlier time)',
    source: 'The line through two points (common practice)',
  },
  'zero-offset': {
    text: 'zero offset = mean time − 2 · mean distance / velocity',
    source: 'The fitted line goes through the means: JCGM 100:2008 (GUM), H.3',
  },
  residual: {
    text: 'residual = (time − zero offset) · velocity / 2 − known distance',
    source: 'Definition',
  },
  'sound-path': {
    text: 'sound path = (time − zero offset) · velocity / 2',
    source: 'Pulse-echo definition; uncertainty with the covariance of the fit: JCGM 100:2008 (GUM), 5.2.2 and H.3',
  },
  depth: {
    text: 'z = sound path · cos angle − whole legs · thickness; depth = z on odd legs, thickness − z on even legs',
    source: 'Plane geometry of a parallel plate (common practice)',
  },
  leg: {
    text: 'leg = number of thicknesses that sound path · cos angle fills, counted up to the one it ends in',
    source: 'Plane geometry of a parallel plate (common practice)',
  },
  'surface-distance': {
    text: 'surface distance = sound path · sin angle, from the index point',
    source: 'Plane geometry (common practice)',
  },
  'below-peak': {
    text: 'dB below peak = 20 · log10(fitted peak / amplitude), gain taken out; the peak from a parabola of dB against position',
    source: 'Amplitude in dB over a Gaussian beam is a parabola (common practice)',
  },
  'signal-to-noise': {
    text: 'signal to noise = 20 · log10(peak amplitude / standard deviation of the noise)',
    source: 'Peak to root mean square (common practice)',
  },
  'path-range': {
    text: 'range of sound paths = longest − shortest of the series',
    source: 'Definition',
  },
  'distance-error': {
    text: 'distance error = sound path by the calibration − known distance',
    source: 'Definition',
  },
  'amplitude-change': {
    text: 'amplitude change = 20 · log10(amplitude now / amplitude at calibration) − gain difference',
    source: 'Definition of the decibel for amplitudes',
  },
  'velocity-change': {
    text: 'velocity change = 100 · (velocity by the check / velocity by the calibration − 1)',
    source: 'The same algebra as the calibration',
  },
  'zero-offset-change': {
    text: 'zero offset change = zero offset by the check − zero offset by the calibration',
    source: 'The same algebra as the calibration',
  },
  verdict: {
    text: 'pass where deviation ± 2 u lies inside the limits, fail where it lies wholly outside, inconclusive between',
    source: 'Reasoning of ISO 14253-1 (from memory)',
  },
  'verdict-simple': {
    text: 'pass where the deviation lies inside the limits, fail where it does not; its uncertainty is left out, as chosen',
    source: 'Simple acceptance (common practice)',
  },
  'verdict-of-check': {
    text: 'the check has the worst of its verdicts; what could not be assessed makes it inconclusive, never a pass',
    source: 'A missing step is never passed (common practice)',
  },
  'drift-cause': {
    text: 'zero offset and velocity of the check by the same line through its own reflectors, less those of the calibration',
    source: 'The same algebra as the calibration',
  },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;

export type FormulaKey = keyof typeof formulas;

/** How the uncertainties of figures combine: u² is the sum of the shares, each (change of the figure for a change of the input · u of the input)². */
export const uncertaintyFormulas = {
  'sound-path': {
    text: 'u² = (velocity / 2)² · [u²(time) + u²(zero offset)] + [path · u(velocity) / velocity]² + 2 · path · (velocity / 2)² · covariance of zero offset and slope',
    source: 'JCGM 100:2008 (GUM), 5.2.2 and H.3.5',
  },
  depth: {
    text: 'u² = [cos angle · u(path)]² + [path · sin angle · u(angle)]²',
    source: 'JCGM 100:2008 (GUM), 5.1.2; the thickness counts as exact',
  },
  'surface-distance': {
    text: 'u² = [sin angle · u(path)]² + [path · cos angle · u(angle)]²',
    source: 'JCGM 100:2008 (GUM), 5.1.2',
  },
  difference: {
    text: 'u² = u²(now) + u²(at calibration), taken as independent',
    source: 'JCGM 100:2008 (GUM), 5.1.2',
  },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;

/** How figures are read off a trace where no formula of a line makes them. */
export const methods = {
  'peak-log-parabola':
    'The highest point of the envelope, between samples: the vertex of a parabola through the logarithms of the samples at the top.',
  'peak-three-point':
    'The highest point of the envelope, between samples: the vertex of a parabola through the highest sample and its two neighbours.',
  crossing:
    'The first time at which the envelope rises through the threshold, on the straight line between the samples on either side.',
  'series-peak': 'The vertex of a parabola of the heights in dB against position, gain taken out.',
  'series-highest': 'The highest reading of the series: no parabola could be trusted.',
  given: 'Taken over from a calibration made earlier, as its document states it.',
} as const;
