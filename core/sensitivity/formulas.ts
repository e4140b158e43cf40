/** The formulas behind the figures of sensitivity. */
export const sensitivityFormulas = {
  'reference-gain': {
    text: 'reference gain = gain of the highest echo + 20 · log10(reference height / its height)',
    source: 'The highest point of the curve is set to the reference height (common practice)',
  },
  level: {
    text: 'level = 20 · log10(height / reference height) + reference gain − gain',
    source: 'Definition of the decibel for amplitudes; gain taken out',
  },
  'level-with-transfer': {
    text: 'level = 20 · log10(height / reference height) + reference gain − gain + transfer correction',
    source: 'Definition of the decibel for amplitudes; gain taken out, the loss from block to part added',
  },
  'level-at-one-gain': {
    text: 'level = 20 · log10(height / reference height) + what brings the highest point to the reference height',
    source: 'Definition of the decibel for amplitudes; no gain is stated, all heights are taken to be at one gain',
  },
  'level-at-one-gain-with-transfer': {
    text: 'level = 20 · log10(height / reference height) + what brings the highest point to the reference height + transfer correction',
    source: 'Definition of the decibel for amplitudes; no gain is stated, all heights are taken to be at one gain',
  },
  'height-at-reference': {
    text: 'height at the reference gain = reference height · 10^(level / 20)',
    source: 'Definition of the decibel for amplitudes',
  },
  'curve-straight-in-db': {
    text: 'curve = level before + (distance − distance before) / (distance behind − distance before) · (level behind − level before)',
    source: 'Straight lines in dB over distance between the points (common practice)',
  },
  'curve-straight-in-percent': {
    text: 'curve = 20 · log10[ratio before + (distance − distance before) / (distance behind − distance before) · (ratio behind − ratio before)], ratio = 10^(level / 20)',
    source: 'Straight lines in % of full screen height over distance between the points (common practice)',
  },
  'to-curve': {
    text: 'dB to the curve = level − curve at the sound path',
    source: 'Definition of the decibel for amplitudes',
  },
  'percent-of-curve': {
    text: '% of the curve = 100 · 10^(dB to the curve / 20)',
    source: 'Definition of the decibel for amplitudes',
  },
  'time-corrected-gain': {
    text: 'gain to be added = curve at the distance of its highest point − curve at the distance',
    source: 'Definition of time-corrected gain (common practice)',
  },
  'attenuation-law': {
    text: 'attenuation = −Σ (way − mean way) · (rest − mean rest) / Σ (way − mean way)²; way = 2 · (distance − nearest distance), rest = level + 20 · exponent · log10(distance / nearest distance)',
    source:
      'Spreading by the kind of reflector (Krautkrämer, from memory) taken out; least squares: JCGM 100:2008 (GUM), H.3',
  },
  'apparent-attenuation': {
    text: 'attenuation = [20 · log10(near height / far height) + gain of the far − gain of the near − 20 · log10(far distance / near distance)] / [2 · (far distance − near distance)]',
    source:
      'ASTM E664 and Krautkrämer (from memory); per length that the sound travels, the geometric spread taken out',
  },
  'apparent-attenuation-at-one-gain': {
    text: 'attenuation = [20 · log10(near height / far height) − 20 · log10(far distance / near distance)] / [2 · (far distance − near distance)]',
    source:
      'ASTM E664 and Krautkrämer (from memory); per length that the sound travels, the geometric spread taken out',
  },
  'near-field': {
    text: 'near-field length = diameter² / (4 · wavelength)',
    source: 'Krautkrämer, Ultrasonic Testing of Materials (from memory)',
  },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;

/** How the uncertainties combine. */
export const sensitivityUncertainties = {
  'to-curve': {
    text: 'u² = u²(level) + u²(curve) + u²(between its points) + [slope of the curve · u(sound path)]²',
    source:
      'JCGM 100:2008 (GUM), 5.1.2; between two points a rectangle as wide as the line’s departure from one over the logarithm of the distance',
  },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;
