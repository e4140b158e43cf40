/** The bulk wave that a velocity belongs to. */
export type WaveMode = 'longitudinal' | 'transverse';

/** The velocity that a material and mode should have, and how far from it is still ordinary. */
export interface Nominal {
  readonly material: string;
  readonly mode: WaveMode;
  readonly velocityMPerS: number;
  readonly toleranceMPerS: number;
  readonly source: string;
}

/** One line of a published table. A range stands where the table prints one. */
export interface MaterialVelocities {
  readonly material: string;
  readonly densityKgPerM3: number;
  readonly longitudinalMPerS: number | readonly [number, number];
  readonly transverseMPerS: number | readonly [number, number];
}

export interface VelocityTable {
  readonly source: string;
  /** `read`: the figures were seen in the text; `memory`: they are from memory and must be checked before they are relied on. */
  readonly certainty: 'read' | 'memory';
  readonly rows: readonly MaterialVelocities[];
}

type Row = readonly [string, number, number | readonly [number, number], number | readonly [number, number]];

function table(source: string, certainty: 'read' | 'memory', rows: readonly Row[]): VelocityTable {
  return {
    source,
    certainty,
    rows: rows.map(([material, densityKgPerM3, longitudinalMPerS, transverseMPerS]) => ({
      material,
      densityKgPerM3,
      longitudinalMPerS,
      transverseMPerS,
    })),
  };
}

/**
 * ASTM E494, table X3.1 (informative): density kg/m³, longitudinal and transverse velocity m/s. The standard's inch columns are
 * rounded and are not converted back. Its transverse velocity of acrylic resin (1120) stands apart from what wedge makers use (about 1400).
 */
export const astmE494 = table('ASTM E494, table X3.1 (informative)', 'read', [
  ['aluminium', 2700, 6300, 3130],
  ['beryllium', 1850, 12400, 8650],
  ['bismuth', 9800, 2180, 1100],
  ['brass', 8100, 4370, 2100],
  ['bronze', 8860, 3530, 2230],
  ['cadmium', 8600, 2780, 1500],
  ['niobium', 8580, 4950, 2180],
  ['copper', 8900, 4700, 2260],
  ['gold', 19300, 3240, 1200],
  ['hafnium', 11300, 3860, 2180],
  ['nickel-chromium alloy', 8250, 5720, 3020],
  ['iron, electrolytic', 7900, 5960, 3220],
  ['iron, cast', 7200, [3500, 5600], [2200, 3200]],
  ['lead', 11400, 2160, 700],
  ['lead antimony', 10900, 2160, 810],
  ['magnesium', 1740, 5740, 3080],
  ['nickel-copper alloy', 8830, 6020, 2720],
  ['nickel', 8800, 5630, 2960],
  ['acrylic resin', 1180, 2670, 1120],
  ['platinum', 21450, 3960, 1670],
  ['fused quartz', 2200, 5930, 3750],
  ['silver', 10500, 3600, 1590],
  ['silver nickel', 8750, 4620, 2320],
  ['stainless steel 347', 7910, 5790, 3100],
  ['stainless steel 410', 7670, 5900, 3300],
  ['steel', 7700, 5900, 3230],
  ['tin', 7300, 3320, 1670],
  ['titanium', 4540, 6240, 3215],
  ['tungsten', 19100, 5460, 2620],
  ['uranium', 18700, 3370, 1930],
  ['zinc', 7100, 4170, 2410],
  ['zirconium', 6490, 4310, 1960],
]);

/** A second handbook, so that it can be seen how far sources disagree. */
export const physicsHandbook = table(
  'Handbook of Chemistry and Physics, speed of sound in various media (from memory)',
  'memory',
  [
    ['aluminium', 2700, 6420, 3040],
    ['brass', 8600, 4700, 2110],
    ['copper', 8930, 4760, 2325],
    ['gold', 19700, 3240, 1200],
    ['lead', 11400, 2160, 700],
    ['magnesium', 1740, 5770, 3050],
    ['nickel', 8900, 6040, 3000],
    ['silver', 10400, 3650, 1610],
    ['steel', 7850, 5960, 3235],
    ['stainless steel 347', 7900, 5790, 3100],
    ['tin', 7300, 3320, 1670],
    ['titanium', 4500, 6070, 3125],
    ['tungsten', 19300, 5220, 2890],
    ['zinc', 7100, 4210, 2440],
    ['fused quartz', 2200, 5968, 3764],
    ['acrylic resin', 1180, 2680, 1100],
    ['polystyrene', 1060, 2350, 1120],
  ],
);

export const velocityTables: readonly VelocityTable[] = [astmE494, physicsHandbook];

const blockSteelSource = 'ISO 2400: 5920 ± 30 m/s and 3255 ± 15 m/s (from memory)';

/** The steel of the reference blocks of ISO 2400 and ISO 7963. */
export const blockSteel: Readonly<Record<WaveMode, Nominal>> = {
  longitudinal: {
    material: 'block steel',
    mode: 'longitudinal',
    velocityMPerS: 5920,
    toleranceMPerS: 30,
    source: blockSteelSource,
  },
  transverse: {
    material: 'block steel',
    mode: 'transverse',
    velocityMPerS: 3255,
    toleranceMPerS: 15,
    source: blockSteelSource,
  },
};

/** Alloys and tempers of one name differ by about this much (common practice); a table's figure is a starting guess, never a calibration. */
const ordinarySpread = 0.02;

const otherSpellings: Readonly<Record<string, string>> = {
  aluminum: 'aluminium',
  columbium: 'niobium',
  'cast iron': 'iron, cast',
  'stainless steel': 'stainless steel 347',
  stainless: 'stainless steel 347',
  'mild steel': 'steel',
  acrylic: 'acrylic resin',
  pmma: 'acrylic resin',
  'fused silica': 'fused quartz',
};

/** Every material that `nominalVelocity` knows, in alphabetical order. */
export const materialNames: readonly string[] = [
  ...new Set(['block steel', ...velocityTables.flatMap((t) => t.rows.map((row) => row.material))]),
].sort();

/**
 * The velocity to expect of a material and mode in m/s: the first table that has it, with a tolerance of 2 %, or of what the
 * sources disagree by, or half a printed range, whichever is greatest. `null` for a material that no table has.
 */
export function nominalVelocity(material: string, mode: WaveMode): Nominal | null {
  const words = material.trim().toLowerCase();
  if (words === 'block steel') return blockSteel[mode];
  const name = otherSpellings[words] ?? words;
  const found = velocityTables.flatMap((t) =>
    t.rows.filter((row) => row.material === name).map((row) => ({ range: rangeOf(row, mode), source: t.source })),
  );
  if (found.length === 0) return null;
  const [low, high] = found[0].range;
  const velocityMPerS = (low + high) / 2;
  const disagreement = Math.max(...found.flatMap(({ range }) => range.map((end) => Math.abs(end - velocityMPerS))));
  return {
    material: name,
    mode,
    velocityMPerS,
    toleranceMPerS: Math.max(ordinarySpread * velocityMPerS, disagreement),
    source: found[0].source,
  };
}

/** The materials and modes of all tables whose velocity lies within their tolerance of this one, nearest first. */
export function materialsOfVelocity(velocityMPerS: number): Nominal[] {
  const modes: readonly WaveMode[] = ['longitudinal', 'transverse'];
  const offBy = (n: Nominal) => Math.abs(n.velocityMPerS - velocityMPerS);
  return materialNames
    .flatMap((name) => modes.map((mode) => nominalVelocity(name, mode)))
    .filter((n) => n !== null)
    .filter((n) => offBy(n) <= n.toleranceMPerS)
    .sort((a, b) => offBy(a) - offBy(b));
}

function rangeOf(row: MaterialVelocities, mode: WaveMode): readonly [number, number] {
  const value = mode === 'longitudinal' ? row.longitudinalMPerS : row.transverseMPerS;
  return typeof value === 'number' ? [value, value] : value;
}
