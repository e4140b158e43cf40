import { publishedBlocks } from '../../../core/block/published-blocks.ts';
import { left, table } from '../table.ts';

/** Prints the reference blocks with the first distances of their series. */
export function blocks(): void {
  const rows = publishedBlocks.map((block) => [
    block.name,
    block.title,
    block.distancesMm
      .slice(0, 5)
      .map((d) => Math.round(d * 100) / 100)
      .join(', '),
  ]);
  process.stdout.write(`${table([left('name'), left('block and direction'), left('distances mm')], rows)}\n`);
}
