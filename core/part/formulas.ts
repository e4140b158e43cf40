/** The formulas behind the figures of a location. */
export const locationFormulas = {
  'depth-flat': {
    text: 'z = sound path · cos angle − whole legs · thickness; depth = z on odd legs, thickness − z on even legs',
    source: 'Plane geometry of a parallel plate (common practice)',
  },
  'depth-pipe-outside': {
    text: 'depth = R − √(R² + s² − 2 · R · s · cos angle), s = way from the outside on this leg',
    source: 'Cosine rule, R the outside radius (common practice)',
  },
  'depth-pipe-inside': {
    text: 'depth = √(R² + s² + 2 · R · s · cos angle) − R, s = way from the bore on this leg',
    source: 'Cosine rule, R the radius of the bore (common practice)',
  },
  'surface-flat': {
    text: 'surface distance = sound path · sin angle, from the index point',
    source: 'Plane geometry (common practice)',
  },
  'surface-pipe': {
    text: 'surface distance = R · angle round the axis, summed over the legs; on a leg arctan[s · sin angle / (R ∓ s · cos angle)] · π / 180',
    source: 'Cosine rule, an arc on the scanned surface; − from outside, + from the bore (common practice)',
  },
  'from-front': {
    text: 'from the front = surface distance − index point to front',
    source: 'Definition',
  },
  across: {
    text: 'across = surface distance − offset of the index point; with the other sign where the probe stands to the right',
    source: 'Definition: from the weld’s middle, to the right positive',
  },
  leg: {
    text: 'leg = number of leg lengths that the sound path fills, counted up to the one it ends in',
    source: 'Plane geometry; a path that ends at a surface belongs to the leg that arrives there (common practice)',
  },
  'leg-length': { text: 'leg = thickness / cos angle', source: 'Plane geometry (common practice)' },
  'half-skip': { text: 'half skip = thickness · tan angle', source: 'Plane geometry (common practice)' },
  skip: { text: 'skip = 2 · thickness · tan angle', source: 'Plane geometry (common practice)' },
  'v-path': { text: 'V-path = 2 · thickness / cos angle', source: 'Plane geometry (common practice)' },
  'index-point': {
    text: 'index point to front = radius − reading from the front to the end',
    source: 'Index point on block No. 1 of ISO 2400 (read second-hand)',
  },
  'probe-angle': {
    text: 'tan angle = (reading from the front to the end + index point to front − reflector from the end) / depth of the reflector',
    source: 'Angle on block No. 1 of ISO 2400 (read second-hand)',
  },
  'expected-angle': {
    text: 'sin expected angle = sin angle · velocity there / velocity here',
    source: 'Snell’s law; with another wedge, times the wedge’s velocity here / there',
  },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;

export const locationUncertainties = {
  depth: {
    text: 'u² = [cos angle · u(path)]² + [path · sin angle · u(angle)]² + [thicknesses passed · u(thickness)]²',
    source: 'JCGM 100:2008 (GUM), 5.1.2',
  },
  surface: {
    text: 'u² = [sin angle · u(path)]² + [path · cos angle · u(angle)]²',
    source: 'JCGM 100:2008 (GUM), 5.1.2',
  },
  across: {
    text: 'u² = u²(surface distance) + u²(offset) + u²(index point)',
    source: 'JCGM 100:2008 (GUM), 5.1.2',
  },
  'from-front': { text: 'u² = u²(surface distance) + u²(index point)', source: 'JCGM 100:2008 (GUM), 5.1.2' },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;
