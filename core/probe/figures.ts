import type { Measure } from '../units/figure-style.ts';

/** One figure of a probe: how it is called, its unit, its key in documents and tables, and whose definition it is. */
export interface FigureDefinition {
  readonly title: string;
  readonly unit: 'MHz' | '%' | 'µs' | 'mm' | '°' | 'dB' | 'dB/µs' | '';
  /** `null` for a plain number. */
  readonly measure: Measure | null;
  /** Key in documents; that of the standard uncertainty has `u_` before it. */
  readonly key: string;
  readonly definition: string;
  /** Standard and clause or author, and how sure that is. */
  readonly source: string;
}

const e1065 = 'ASTM E1065 (peak of the frequency response and its −6 dB limits read; equations from memory)';
const e1065Duration = 'ASTM E1065 (from memory): the level is the user’s choice';
const iso = 'ISO 22232-2:2020, EN 12668-2 (from memory)';
const isoCentre = `${iso}; unconfirmed: whether the part on probes takes the geometric or the arithmetic mean could not be read in it`;
const decibelsOfEcho = 'The level is that of the two-way echo’s own spectrum, pulse-echo: it is not halved.';

const duration = (levelDb: number, key: string): FigureDefinition => ({
  title: `Pulse duration at −${levelDb} dB, ASTM E1065`,
  unit: 'µs',
  measure: 'time',
  key,
  definition: `From the first to the last time at which the unrectified echo, of either sign, exceeds −${levelDb} dB of its highest crest.`,
  source: e1065Duration,
});

/** All figures of a probe, in the order in which they are shown. */
export const probeFigures = {
  'peak-frequency': {
    title: 'Peak frequency',
    unit: 'MHz',
    measure: 'frequency',
    key: 'peak_frequency_mhz',
    definition: 'Where the amplitude spectrum of the gated echo is highest.',
    source: e1065,
  },
  'centre-frequency-e1065': {
    title: 'Centre frequency, ASTM E1065',
    unit: 'MHz',
    measure: 'frequency',
    key: 'centre_frequency_astm_e1065_mhz',
    definition: 'Arithmetic mean of the −6 dB limits: (lower + upper) / 2.',
    source: e1065,
  },
  'centre-frequency-iso': {
    title: 'Centre frequency, ISO 22232-2 (unconfirmed)',
    unit: 'MHz',
    measure: 'frequency',
    key: 'centre_frequency_iso_22232_2_mhz',
    definition: 'Geometric mean of the −6 dB limits: √(lower · upper).',
    source: isoCentre,
  },
  'lower-limit-6-db': {
    title: 'Lower limit at −6 dB',
    unit: 'MHz',
    measure: 'frequency',
    key: 'lower_limit_6db_mhz',
    definition: `The lowest frequency at which the spectrum stands 6 dB below its peak. ${decibelsOfEcho}`,
    source: e1065,
  },
  'upper-limit-6-db': {
    title: 'Upper limit at −6 dB',
    unit: 'MHz',
    measure: 'frequency',
    key: 'upper_limit_6db_mhz',
    definition: `The highest frequency at which the spectrum stands 6 dB below its peak. ${decibelsOfEcho}`,
    source: e1065,
  },
  'bandwidth-6-db': {
    title: 'Bandwidth at −6 dB',
    unit: 'MHz',
    measure: 'frequency',
    key: 'bandwidth_6db_mhz',
    definition: 'Upper less lower limit at −6 dB.',
    source: e1065,
  },
  'relative-bandwidth-e1065': {
    title: 'Relative bandwidth, ASTM E1065',
    unit: '%',
    measure: 'percent',
    key: 'relative_bandwidth_astm_e1065_percent',
    definition: 'Bandwidth at −6 dB as a share of the arithmetic centre frequency.',
    source: e1065,
  },
  'relative-bandwidth-iso': {
    title: 'Relative bandwidth, ISO 22232-2 (unconfirmed)',
    unit: '%',
    measure: 'percent',
    key: 'relative_bandwidth_iso_22232_2_percent',
    definition: 'Bandwidth at −6 dB as a share of the geometric centre frequency.',
    source: isoCentre,
  },
  'lower-limit-20-db': {
    title: 'Lower limit at −20 dB',
    unit: 'MHz',
    measure: 'frequency',
    key: 'lower_limit_20db_mhz',
    definition: 'The lowest frequency at which the spectrum stands 20 dB below its peak.',
    source: 'common practice',
  },
  'upper-limit-20-db': {
    title: 'Upper limit at −20 dB',
    unit: 'MHz',
    measure: 'frequency',
    key: 'upper_limit_20db_mhz',
    definition: 'The highest frequency at which the spectrum stands 20 dB below its peak.',
    source: 'common practice',
  },
  'bandwidth-20-db': {
    title: 'Bandwidth at −20 dB',
    unit: 'MHz',
    measure: 'frequency',
    key: 'bandwidth_20db_mhz',
    definition: 'Upper less lower limit at −20 dB.',
    source: 'common practice',
  },
  'duration-e1065-14-db': duration(14, 'pulse_duration_astm_e1065_14db_us'),
  'duration-e1065-20-db': duration(20, 'pulse_duration_astm_e1065_20db_us'),
  'duration-e1065-40-db': duration(40, 'pulse_duration_astm_e1065_40db_us'),
  'duration-iso': {
    title: 'Pulse duration at 10 %, ISO 22232-2',
    unit: 'µs',
    measure: 'time',
    key: 'pulse_duration_iso_22232_2_us',
    definition: 'From the first to the last time at which the echo’s envelope exceeds 10 % (−20 dB) of its peak.',
    source: `${iso}; that the level is 10 % was read second-hand; that the envelope is meant is not confirmed`,
  },
  'ring-down': {
    title: 'Ring-down to −20 dB',
    unit: 'µs',
    measure: 'time',
    key: 'ring_down_us',
    definition: 'From the envelope’s peak to the last time at which the envelope exceeds a tenth of it.',
    source: 'common practice',
  },
  'half-cycles': {
    title: 'Half-cycles above −20 dB',
    unit: '',
    measure: null,
    key: 'half_cycles',
    definition:
      'Number of half waves of the unrectified echo, of either sign, whose crest exceeds a tenth of the highest.',
    source: 'ASTM E1065 (cycles at the level of the duration, from memory)',
  },
  'decay-rate': {
    title: 'Damping: fall behind the peak',
    unit: 'dB/µs',
    measure: null,
    key: 'decay_db_per_us',
    definition:
      'How fast the envelope falls behind its peak: straight line through its level from −3 to −20 dB, by least squares.',
    source: 'common practice',
  },
  'logarithmic-decrement': {
    title: 'Damping: logarithmic decrement',
    unit: '',
    measure: null,
    key: 'logarithmic_decrement',
    definition:
      'By how much the natural logarithm of the envelope falls in one period of the centre frequency (ASTM E1065).',
    source: 'common practice; of a damped sine A·exp(−t/τ)·sin(2πft) it is 1/(f·τ)',
  },
  height: {
    title: 'Height of the echo',
    unit: '%',
    measure: 'percent',
    key: 'amplitude_percent',
    definition: 'Peak of the envelope in % of full screen height, at the capture’s own gain.',
    source: 'common practice',
  },
  sensitivity: {
    title: 'Relative sensitivity',
    unit: 'dB',
    measure: 'level',
    key: 'relative_sensitivity_db',
    definition:
      'Level of the echo to full screen height with the gain taken out: 20·log10(height / 100 %) − gain. Of use between probes on one reflector with one pulser; the pulser’s voltage is not in the record.',
    source: 'ASTM E1065, ISO 22232-2: 20·log10(echo / drive voltage) (from memory), here without the drive voltage',
  },
  'signal-to-noise': {
    title: 'Signal-to-noise ratio',
    unit: 'dB',
    measure: 'level',
    key: 'signal_to_noise_db',
    definition:
      '20·log10 of the envelope’s peak over the root mean square of the noise in the quiet part of the record.',
    source: 'common practice',
  },
  'near-field': {
    title: 'Near-field length',
    unit: 'mm',
    measure: 'length',
    key: 'near_field_mm',
    definition: 'Diameter² · centre frequency (ASTM E1065) / (4 · velocity), of a round element.',
    source: 'Krautkrämer, Ultrasonic Testing of Materials (from memory)',
  },
  'beam-half-angle-6-db': {
    title: 'Beam half-angle at −6 dB, pulse-echo',
    unit: '°',
    measure: 'angle',
    key: 'beam_half_angle_6db_deg',
    definition:
      'sin half-angle = 0.514 · velocity / (centre frequency · diameter), echo of a small reflector in the far field of a round element.',
    source: 'derived from 2·J₁(x)/x',
  },
  'beam-half-angle-20-db': {
    title: 'Beam half-angle at −20 dB, pulse-echo',
    unit: '°',
    measure: 'angle',
    key: 'beam_half_angle_20db_deg',
    definition:
      'sin half-angle = 0.869 · velocity / (centre frequency · diameter), echo of a small reflector in the far field of a round element.',
    source: 'derived from 2·J₁(x)/x',
  },
} as const satisfies Record<string, FigureDefinition>;

export type ProbeFigure = keyof typeof probeFigures;

export const probeFigureNames = Object.keys(probeFigures) as ProbeFigure[];
