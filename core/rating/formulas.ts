/** The formulas behind an indication rating. */
export const ratingFormulas = {
  'attenuation-factor-inch': {
    text: 'attenuation factor = 2 dB/in · (sound path − 1 in), to whole dB, a half up',
    source: 'AWS D1.1, indication rating (as quoted in public)',
  },
  'attenuation-factor-si': {
    text: 'attenuation factor = 0.08 dB/mm · (sound path − 25 mm), to whole dB, a half up',
    source: 'AWS D1.1, indication rating in SI units (as quoted in public)',
  },
  rating: {
    text: 'indication rating = indication level − reference level − attenuation factor',
    source: 'AWS D1.1, d = a − b − c (as quoted in public)',
  },
  'rating-without-gains': {
    text: 'indication rating = −(level above the reference) − attenuation factor',
    source:
      'AWS D1.1, d = a − b − c (as quoted in public); a − b is the level above the reference with its sign turned',
  },
  'indication-level': {
    text: 'indication level = reference level − level above the reference',
    source: 'The gain that brings the indication to the reference height: definition of the decibel',
  },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;
