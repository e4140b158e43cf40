/** The formulas behind a length. */
export const sizingFormulas = {
  length: {
    text: 'length = high end − low end',
    source: 'Drop methods: between the outermost positions at which the echo has fallen to the level (common practice)',
  },
  'length-less-beam': {
    text: 'length = high end − low end − beam width at the drop',
    source: 'The 20 dB drop: the beam’s edge meets the end of the reflector (common practice)',
  },
  end: {
    text: 'end = inside + (height inside − level) / (height inside − height outside) · (outside − inside)',
    source: 'Straight line in dB between the positions on either side of the level (common practice)',
  },
  'level-of-drop': {
    text: 'level = peak − drop',
    source: 'Definition of the drop',
  },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;

/** How the uncertainties combine. */
export const sizingUncertainties = {
  length: {
    text: 'u² = u²(low end) + u²(high end) + [mm per dB · u(peak)]² + [bend / √3 + mm per dB · highest of many]² + u²(beam width)',
    source:
      'JCGM 100:2008 (GUM), 4.3.7 and 5.1.2; what moves both ends at once is added before it is squared: the bend of the straight lines, and a peak that is the highest of several',
  },
} as const satisfies Record<string, { readonly text: string; readonly source: string }>;

/** What each method does, in words. */
export const lengthMethods = {
  'drop-6-db': '6 dB drop: to half of the peak on either side, for reflectors longer than the beam is wide',
  'drop-20-db': '20 dB drop: to a tenth of the peak on either side, less the beam’s width there',
  'fixed-level': 'to a fixed height on the screen on either side',
  'half-of-curve': 'to half of the distance-amplitude curve on either side',
} as const;
