/** Why a figure of a probe cannot be measured on a capture: the closed list. Where one stands there is no figure. */
export const hindranceTexts = {
  'outside-record':
    'The gate lies partly or wholly outside the recorded time; move the gate, or capture a longer range.',
  'too-few-samples': 'Fewer than 16 samples lie in the gate; widen the gate, or sample faster.',
  saturated:
    'The crest is cut off by the screen or the converter, so neither height, pulse nor spectrum is the probe’s own; capture again with less gain.',
  'buried-in-noise':
    'The highest point in the gate stands less than 15.6 dB above the noise, peak to root mean square; capture again with more gain, better coupling or averaging.',
  'cut-by-gate':
    'The echo does not come down to the level asked for inside the gate; widen or move the gate so that all of it lies inside.',
  'ambiguous-echo': 'A second echo in the gate comes within 6 dB of the highest; narrow the gate to one echo.',
  'in-dead-zone': 'The main bang still rings in the gate; use a later echo, or a capture in which it has died away.',
  rectified:
    'The record is rectified: the sign of its half waves is lost, and its spectrum with it; export the trace as RF.',
  'half-wave': 'The record shows only half of each wave; export the trace as RF.',
  'level-in-noise':
    'At the level asked for the signal does not stand clear of the noise; average more captures, or capture with less noise.',
  'too-short-for-resolution':
    'The gate is too short for the resolution: the band is narrower than twice one over the gate’s length; widen the gate.',
  'level-not-crossed':
    'The spectrum does not fall to the level between 0 and half the sampling rate; sample faster, or take out the base line.',
  'no-decay':
    'Behind its peak the echo falls to the level in too few samples for its decay to be fitted; sample faster.',
  'gain-not-stated': 'The capture does not state its gain; state it in the file, in the manifest or in the review.',
  'noise-not-known': 'The record has no quiet part in which its noise could be measured; capture a longer range.',
  'element-not-stated': 'The size of the element is not stated; state it with the probe.',
  'velocity-not-stated': 'The velocity in the material is not stated; state it.',
  'no-beam': 'The element is too small for its wavelength to make a beam at that level.',
} as const satisfies Record<string, string>;

export type Hindrance = keyof typeof hindranceTexts;
