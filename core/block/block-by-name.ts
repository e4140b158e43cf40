import { failure, type Outcome, problem, success } from '../outcome.ts';
import { isOwnBlock, readOwnBlock } from './own-block.ts';
import { publishedBlocks } from './published-blocks.ts';
import type { BlockSeries } from './reference-block.ts';

/** A published block by its name, or one of one's own by its text form; `null` where the name is neither. */
export function blockByName(name: string): BlockSeries | null {
  const outcome = readBlock(name);
  return outcome.ok ? outcome.value : null;
}

/** As `blockByName`, with a sentence for what is wrong. Problems: `unknown-block` with the nearest names, `block-not-readable`. */
export function readBlock(name: string): Outcome<BlockSeries> {
  const wanted = name.trim();
  if (isOwnBlock(wanted)) return readOwnBlock(wanted);
  const block = publishedBlocks.find((b) => b.name === wanted.toLowerCase());
  if (block !== undefined) return success(block);
  const sentence = `no block is called "${name}"; nearest are ${similarBlocks(wanted).join(', ')}; one's own is written as steps/10mm,15mm,25mm, plate/25mm or distances/50mm,125mm/transverse`;
  return failure(problem('unknown-block', { file: name }, sentence));
}

/** The three published names nearest to what was written, by the letters in common pairs. */
export function similarBlocks(name: string): string[] {
  const wanted = letterPairs(name);
  return publishedBlocks
    .map((block) => ({ name: block.name, likeness: likeness(wanted, letterPairs(block.name)) }))
    .sort((a, b) => b.likeness - a.likeness)
    .slice(0, 3)
    .map((entry) => entry.name);
}

function letterPairs(text: string): Set<string> {
  const letters = text.toLowerCase().replace(/[^a-z0-9]/g, '');
  return new Set(Array.from({ length: Math.max(0, letters.length - 1) }, (_, i) => letters.slice(i, i + 2)));
}

/** Pairs in common over all pairs (Dice 1945). */
function likeness(a: ReadonlySet<string>, b: ReadonlySet<string>): number {
  const common = [...a].filter((pair) => b.has(pair)).length;
  return a.size + b.size === 0 ? 0 : (2 * common) / (a.size + b.size);
}
