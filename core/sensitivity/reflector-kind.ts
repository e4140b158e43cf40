/** What all reflectors of one curve are. `other`: no law of spreading is known for it, as of a notch in a corner. */
export const reflectorKinds = ['back-wall', 'flat-bottomed-hole', 'side-drilled-hole', 'other'] as const;

export type ReflectorKind = (typeof reflectorKinds)[number];

interface Spreading {
  readonly title: string;
  /** Height ∝ 1 / path^exponent in the far field; `null` where no law is known. */
  readonly exponent: number | null;
}

/**
 * How the height of an echo falls with the sound path by the spreading of the beam alone, in the far field. For double the path a large plane falls by 6.02 dB,
 * a disc by 12.04 dB, a long cylinder by 9.03 dB.
 * Source: Krautkrämer, Ultrasonic Testing of Materials (from memory); the exponents follow from the geometry of the waves.
 */
export const spreadingOf: Readonly<Record<ReflectorKind, Spreading>> = {
  'back-wall': { title: 'large back wall', exponent: 1 },
  'flat-bottomed-hole': { title: 'disc (flat-bottomed hole)', exponent: 2 },
  'side-drilled-hole': { title: 'long cylinder (side-drilled hole)', exponent: 1.5 },
  other: { title: 'another kind', exponent: null },
};
