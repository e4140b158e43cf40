/**
 * The closed list of doubts that can stand at a reading, an echo, a calibration or a drift check.
 * Wherever a flag is shown, its sentence is shown with it.
 */
export const flagTexts = {
  'off-peak': {
    sentence: 'The echo stands more than the allowed number of dB below the fitted peak of its series.',
    advice:
      'Use the capture nearest the peak, or peak the echo again; do not take distance or amplitude from this one.',
  },
  saturated: {
    sentence: 'The crest is cut off by the screen or the converter, so its height is only a lower bound.',
    advice: 'Capture again with less gain; do not use this amplitude.',
  },
  'no-echo': {
    sentence: 'Nothing in the gate reaches its threshold.',
    advice: 'Check gate, gain and coupling; no distance can be read.',
  },
  'low-signal-to-noise': {
    sentence: 'The echo stands too little above the noise of this capture to be told from it.',
    advice: 'Capture again with better coupling or averaging, or narrow the gate.',
  },
  walking: {
    sentence: 'The sound path moves steadily through successive captures of what should be one reflector.',
    advice: 'Take the reading at the peak only; a path that walks belongs to a probe that moves.',
  },
  'ambiguous-echo': {
    sentence:
      'More than one echo could be meant: a second one in the gate comes within 6 dB of the one that was read, or a farther reflector stands above a nearer one.',
    advice: 'Narrow the gate to one echo, or say which of them is meant.',
  },
  'cut-by-gate': {
    sentence: 'The highest sample is the gate’s own edge: the true peak lies outside.',
    advice: 'Widen or move the gate so that the whole echo lies inside.',
  },
  'in-dead-zone': {
    sentence: 'The main bang still rings at this time.',
    advice: 'Use a later echo, or a capture in which the main bang has died away before it.',
  },
  'cut-by-band': {
    sentence:
      'The band-pass takes more than 1 dB of this echo’s height, so it stands lower than it was recorded, and may stand elsewhere.',
    advice: 'Widen the band or take it out; compare its height only with heights under the same band.',
  },
  'half-wave': {
    sentence:
      'The record shows only half of each wave, and the echo is too short for the other half to be filled in: its height may be wrong by 1 dB or more.',
    advice: 'Export the trace as RF or with both half waves; do not use this amplitude.',
  },
  'exact-fit': {
    sentence:
      'Two points fix the line exactly: there are no residuals, and the uncertainties come from the timing and the distances alone.',
    advice: 'Add a third reflector to be able to see a mistaken distance.',
  },
  'velocity-implausible': {
    sentence: 'The fitted velocity is far from that of the material and mode.',
    advice: 'Check that the echoes are the reflectors they were taken for, and the distances entered.',
  },
  'zero-offset-implausible': {
    sentence: 'The fitted zero offset cannot come from a probe delay.',
    advice:
      'Check which radius the probe faced: a series shifted by one radius gives the right velocity and a wrong offset.',
  },
  'ambiguous-assignment': {
    sentence: 'The echoes fit the block’s series in more than one way, or in none.',
    advice: 'Give the reflectors by their windows, or check block and direction.',
  },
  'residuals-too-large': {
    sentence: 'At least one reflector lies off the fitted line by more than its timing and its tolerance allow.',
    advice: 'Check that reflector’s label and distance; take it out only with a reason you can state.',
  },
  'unequal-heights': {
    sentence:
      'The reflectors were timed by one fixed threshold at unequal heights, which shifts the higher echo earlier.',
    advice: 'Bring the echoes to one height by gain, or time by the peak.',
  },
  'outside-record': {
    sentence: 'The gate lies partly or wholly outside the recorded time.',
    advice: 'Move the gate, or capture a longer range.',
  },
  'outside-curve': {
    sentence: 'The sound path lies beyond the points of the distance-amplitude curve, which is not carried on.',
    advice: 'Add a reflector at that distance to the curve; nothing can be told from the curve there.',
  },
  'no-gain': {
    sentence: 'The gain is stated of this capture or of the others it is held against, but not of both.',
    advice: 'State the gain of each capture, in the file, in the manifest or in the review.',
  },
  'distance-implausible': {
    sentence: 'The calibration puts this echo at another sound path than the distance stated for its reflector.',
    advice: 'Give the sound path, not the depth, and check that the window holds the reflector that was meant.',
  },
  'in-near-field': {
    sentence:
      'The echo comes from nearer than three near-field lengths, where heights do not follow the law of spreading.',
    advice: 'Take echoes from farther away; the figure that the law gives is not to be trusted here.',
  },
  'attenuation-implausible': {
    sentence:
      'The attenuation comes out below zero by more than its uncertainty: nothing in the material makes echoes grow.',
    advice:
      'Check the kind of reflector, the distances and the near field: the law of spreading taken out does not fit these echoes.',
  },
  'geometry-expected': {
    sentence:
      'The part’s own shape (root, cap, edge, back wall) is expected to send an echo of this sound path to the probe where it stood.',
    advice:
      'It may be the shape’s or a flaw’s: confirm by damping, by its run along the weld or from the other side, and say which it is.',
  },
  unreferenced: {
    sentence:
      'Nothing says how high a reference reflector’s echo stands: the amplitude is unreferenced and gets no rating.',
    advice: 'Give a reference level, or captures of a reference reflector with their gains.',
  },
  'several-peaks': {
    sentence: 'Between the ends of this indication its echo falls below the level at which they lie.',
    advice: 'The outermost crossings count; split it where these are separate reflectors.',
  },
  'beyond-scan': {
    sentence:
      'The indication reaches to the end of what was scanned, or its echo is lost in noise before it has fallen far enough: it is at least so long.',
    advice: 'Scan on beyond it, or size it by a smaller drop.',
  },
  'within-beam': {
    sentence:
      'The echo falls as fast as the beam’s own edge: the reflector cannot be told from one shorter than the beam is wide.',
    advice: 'Do not take the length as the reflector’s; it is no longer than that.',
  },
  drift: {
    sentence: 'The check differs from the calibration by more than the rule allows.',
    advice: 'Re-examine what the rule names since the last passing check; do not adjust the record.',
  },
} as const satisfies Record<string, { readonly sentence: string; readonly advice: string }>;

export type Flag = keyof typeof flagTexts;

const doubtfulEcho: readonly Flag[] = ['ambiguous-echo', 'cut-by-gate', 'in-dead-zone', 'low-signal-to-noise'];

/** Whether an echo may be another one than was meant: such a one can fail a check or a step, but not pass one. */
export function isDoubtfulEcho(flags: readonly Flag[]): boolean {
  return flags.some((flag) => doubtfulEcho.includes(flag));
}
