import { blockSteel, materialNames, nominalVelocity, type WaveMode } from '../material/velocities.ts';
import { failure, type Outcome, problem, success } from '../outcome.ts';
import { parseQuantity } from '../units/parse-quantity.ts';
import { type BlockFeature, type BlockSeries, multipleErrors, multiples } from './reference-block.ts';

/** A block of one's own: its distances, their tolerance (± half-width, 0 for exact) and what it is made of. */
export interface OwnBlock {
  readonly name: string;
  readonly distancesMm: readonly number[];
  readonly toleranceMm: number;
  readonly material: string;
  readonly mode: WaveMode;
}

const plateMultiples = 12;
const stepMultiples = 4;

/** A list of distances that stands as it is: `d1, d2, d3 …`. */
export function distanceList(own: OwnBlock): BlockSeries {
  return series(own, `distances of ${inWords(own.distancesMm)}`, {
    distancesMm: sorted(own.distancesMm),
    shared: null,
    features: [],
  });
}

/** Steps of different thickness, straight beam: each step's first back wall; its further echoes are known by name. */
export function stepBlock(own: OwnBlock): BlockSeries {
  const steps = sorted(own.distancesMm);
  const features = steps.flatMap((step) =>
    multiples(step, stepMultiples)
      .slice(1)
      .map(
        (distanceMm, i): BlockFeature => ({
          name: `${['second', 'third', 'fourth'][i]} echo of the ${step} mm step`,
          distanceMm,
        }),
      )
      .filter((feature) => !steps.includes(feature.distanceMm)),
  );
  return series(own, `steps of ${inWords(steps)}`, { distancesMm: steps, shared: null, features });
}

/** A parallel plate, straight beam: all multiples of its thickness. */
export function plate(own: OwnBlock): BlockSeries {
  const [thicknessMm] = own.distancesMm;
  return series({ ...own, toleranceMm: 0 }, `plate of ${thicknessMm} mm`, {
    distancesMm: multiples(thicknessMm, plateMultiples),
    shared: multipleErrors(thicknessMm, own.toleranceMm),
    features: [],
  });
}

function series(
  own: OwnBlock,
  shape: string,
  made: Pick<BlockSeries, 'distancesMm' | 'shared' | 'features'>,
): BlockSeries {
  const { name, toleranceMm, material, mode } = own;
  const nominal = nominalVelocity(material, mode) ?? blockSteel[mode];
  return {
    ...made,
    name,
    title: `${shape}, ${material}, ${mode}`,
    toleranceMm,
    nominal,
    source: 'as stated by the person',
  };
}

function sorted(distancesMm: readonly number[]): number[] {
  return [...distancesMm].sort((a, b) => a - b);
}

function inWords(distancesMm: readonly number[]): string {
  return `${distancesMm.join(', ')} mm`;
}

const kinds = { steps: stepBlock, plate, distances: distanceList } as const;
type Kind = keyof typeof kinds;

/** Whether a name is the text form of a block of one's own rather than a published block's name. */
export function isOwnBlock(name: string): boolean {
  return Object.hasOwn(kinds, name.split('/')[0].trim());
}

/**
 * Reads the text form of a block of one's own: its kind, its distances, then in any order tolerance, material and mode.
 *
 *     steps/10mm,15mm,25mm        plate/25mm/+-0.05mm/aluminium        distances/50mm,125mm/transverse
 *
 * Steps and plates are straight-beam work, longitudinal unless it says otherwise; a list of distances must state its mode.
 * Without a material it is block steel; without a tolerance the distances count as exact.
 * Problem `block-not-readable` with what is wrong.
 */
export function readOwnBlock(name: string): Outcome<BlockSeries> {
  const [kind, list = '', ...rest] = name.split('/').map((part) => part.trim()) as [Kind, ...string[]];
  const refuse = (sentence: string) => failure(problem('block-not-readable', { file: name }, sentence));
  const distancesMm: number[] = [];
  for (const words of list.split(',')) {
    const parsed = parseQuantity(words, 'length');
    if (!parsed.ok) return refuse(parsed.sentence);
    if (parsed.value <= 0) return refuse(`"${words.trim()}" is not a distance; give one greater than 0`);
    if (distancesMm.includes(parsed.value)) return refuse(`"${words.trim()}" stands twice; give each distance once`);
    distancesMm.push(parsed.value);
  }
  if (kind === 'plate' && distancesMm.length > 1) return refuse('a plate has one thickness; for several use steps/…');

  let toleranceMm = 0;
  let material = 'block steel';
  let mode: WaveMode | null = kind === 'distances' ? null : 'longitudinal';
  for (const words of rest) {
    if (words === 'longitudinal' || words === 'transverse') {
      mode = words;
    } else if (/^(\+-|±)/.test(words)) {
      const parsed = parseQuantity(words.replace(/^(\+-|±)/, ''), 'length');
      if (!parsed.ok) return refuse(parsed.sentence);
      toleranceMm = parsed.value;
    } else if (nominalVelocity(words, 'longitudinal') !== null) {
      material = words;
    } else {
      return refuse(
        `"${words}" is neither a tolerance (+-0.05mm), nor a mode (longitudinal, transverse), nor a material of the tables (${materialNames.join('; ')})`,
      );
    }
  }
  if (mode === null) return refuse('a list of distances must say its mode: add /longitudinal or /transverse');
  return success(kinds[kind]({ name, distancesMm, toleranceMm, material, mode }));
}
