/**
 * The formulas behind every figure, so that a number can be asked where it comes from.
 * Results name them by key; the text stands once in each evaluation.
 */
export const formulas = {
  'distance-fit': {
    text: 'time = zero offset + 2 · distance / velocity, fitted as time on distance',
    source: 'Exact for two points, least squares for more: JCGM 100:2008 (GUM), H.3',
  },
  'sound-path': {
    text: 'sound path = (time − zero offset) · velocity / 2',
    source: 'Pulse-echo definition; uncertainty with the covariance of the fit: JCGM 100:2008 (GUM), 5.2.2 and H.3',
  },
  depth: {
    text: 'z = sound path · cos angle − whole legs · thickness; depth = z on odd legs, thickness − z on even legs',
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
  'distance-error': {
    text: 'distance error = sound path by the calibration − known distance',
    source: 'Definition',
  },
  'amplitude-change': {
    text: 'amplitude change = 20 · log10(amplitude now / amplitude at calibration) − gain difference',
    source: 'Definition of the decibel for amplitudes',
  },
  'drift-cause': {
    text: 'zero offset and velocity of the check by the same line through its own reflectors, less those of the calibration',
    source: 'The same algebra as the calibration',
  },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;

export type FormulaKey = keyof typeof formulas;
