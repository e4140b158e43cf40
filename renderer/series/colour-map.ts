/** A colour in OKLab: lightness 0 to 1, and the two axes green–red and blue–yellow. */
export interface OkLab {
  readonly lightness: number;
  readonly a: number;
  readonly b: number;
}

export type Scheme = 'light' | 'dark';

/** How many shades a ramp has. */
export const shadeCount = 256;

/** A turn about the grey axis from `fromDeg` to `toDeg`, while the chroma goes through its given values at even steps of the turn. */
interface Way {
  readonly fromLightness: number;
  readonly toLightness: number;
  readonly fromDeg: number;
  readonly toDeg: number;
  readonly chroma: readonly number[];
}

/** `cold`: through moss, sea and deep blue; `warm`: through sand, rust and wine, for what must be told apart from it. */
export type Tone = 'cold' | 'warm';

/** Nothing is the sheet, and the more there is the further the shade stands off it. Both tones are equally light at every step, so that their heights compare. */
const cold: Record<Scheme, Way> = {
  light: {
    fromLightness: 0.97,
    toLightness: 0.25,
    fromDeg: 118,
    toDeg: 268,
    chroma: [0.012, 0.066, 0.083, 0.082, 0.078, 0.07],
  },
  dark: {
    fromLightness: 0.25,
    toLightness: 0.95,
    fromDeg: 262,
    toDeg: 112,
    chroma: [0.018, 0.066, 0.085, 0.09, 0.088, 0.07],
  },
};

const warm: Record<Scheme, Way> = {
  light: { ...cold.light, fromDeg: 92, toDeg: 4, chroma: [0.012, 0.072, 0.102, 0.118, 0.108, 0.085] },
  dark: { ...cold.dark, fromDeg: 2, toDeg: 88, chroma: [0.02, 0.085, 0.105, 0.105, 0.09, 0.055] },
};

const ways = { cold, warm } as const;

/**
 * The ramp of shades from no amplitude to full screen height, even to the eye: in OKLab the lightness rises (falls on a light page) by the same amount at every
 * step, and hue and chroma move by the same distance, so that equal differences of amplitude look equally large everywhere.
 *
 * Source: OKLab, B. Ottosson, 'A perceptual color space for image processing', 2020; that a map for measured values should be even in a perceptual space and rise
 * in lightness: common practice. The path through the space is our own.
 */
export function ramp(scheme: Scheme, tone: Tone = 'cold'): readonly OkLab[] {
  const { fromLightness, toLightness } = ways[tone][scheme];
  const path = evenly(wayPoints(ways[tone][scheme]), shadeCount);
  return path.map(({ a, b }, i) => ({
    lightness: fromLightness + ((toLightness - fromLightness) * i) / (shadeCount - 1),
    a,
    b,
  }));
}

/** The ramp as bytes of red, green and blue. */
export function rampBytes(scheme: Scheme, tone: Tone = 'cold'): Uint8ClampedArray {
  return Uint8ClampedArray.from(ramp(scheme, tone).flatMap((shade) => srgbOf(shade).map((part) => 255 * part)));
}

type Point = Pick<OkLab, 'a' | 'b'>;

const finePoints = 4096;

function wayPoints({ fromDeg, toDeg, chroma }: Way): Point[] {
  return Array.from({ length: finePoints }, (_, i) => {
    const share = i / (finePoints - 1);
    const angle = ((fromDeg + (toDeg - fromDeg) * share) * Math.PI) / 180;
    const radius = smoothAlong(chroma, share);
    return { a: radius * Math.cos(angle), b: radius * Math.sin(angle) };
  });
}

/** A smooth curve through values at even places (cubic, with the slopes of the chords on either side: Catmull and Rom, 1974). */
function smoothAlong(values: readonly number[], share: number): number {
  const at = share * (values.length - 1);
  const i = Math.min(values.length - 2, Math.floor(at));
  const t = at - i;
  const value = (k: number) => values[Math.min(values.length - 1, Math.max(0, k))]!;
  const [before, from, to, after] = [value(i - 1), value(i), value(i + 1), value(i + 2)];
  const slope = (to - before) / 2;
  const bend = before - 2.5 * from + 2 * to - after / 2;
  const twist = (after - before) / 2 + 1.5 * (from - to);
  return from + t * (slope + t * (bend + t * twist));
}

/** `count` points at equal distances along a line through many. */
function evenly(points: readonly Point[], count: number): Point[] {
  const along = [0];
  for (let i = 1; i < points.length; i++) {
    const [p, q] = [points[i - 1]!, points[i]!];
    along.push(along[i - 1]! + Math.hypot(q.a - p.a, q.b - p.b));
  }
  const whole = along.at(-1)!;
  let right = 1;
  return Array.from({ length: count }, (_, i) => {
    const wanted = (whole * i) / (count - 1);
    while (right < points.length - 1 && along[right]! < wanted) right++;
    const [p, q] = [points[right - 1]!, points[right]!];
    const share = (wanted - along[right - 1]!) / (along[right]! - along[right - 1]!);
    return { a: p.a + share * (q.a - p.a), b: p.b + share * (q.b - p.b) };
  });
}

/** Red, green and blue of sRGB; outside 0 to 1 where the colour cannot be shown. Matrices: Ottosson, 2020; transfer curve: IEC 61966-2-1. */
export function srgbOf({ lightness, a, b }: OkLab): readonly [number, number, number] {
  const long = (lightness + 0.3963377774 * a + 0.2158037573 * b) ** 3;
  const middle = (lightness - 0.1055613458 * a - 0.0638541728 * b) ** 3;
  const short = (lightness - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [
    encoded(4.0767416621 * long - 3.3077115913 * middle + 0.2309699292 * short),
    encoded(-1.2684380046 * long + 2.6097574011 * middle - 0.3413193965 * short),
    encoded(-0.0041960863 * long - 0.7034186147 * middle + 1.707614701 * short),
  ];
}

function encoded(linear: number): number {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
}
