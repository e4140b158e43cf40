import { columnSpans, extremaPyramid } from '../../core/capture/extrema-pyramid.ts';
import type { Encoding } from '../../core/import/import-recipe.ts';
import type { Preview, PreviewAsked } from './messages.ts';
import type { Control } from './pauses.ts';
import { usualRoom } from './room.ts';
import { capturesTold, importPaused } from './taking-in.ts';

const mostThumbnails = 8;
/** The first lines stand in the first so many bytes. */
const headBytes = 1 << 16;

/** How a file would be understood by a recipe: what became of it, its first lines, and its first traces small. */
export async function previewOf(asked: PreviewAsked, bytes: Uint8Array, control: Control): Promise<Preview> {
  const { file, sha256, recipe, lines, columns } = asked;
  const imported = await importPaused(file, bytes, recipe, sha256, control, usualRoom);
  const source = capturesTold(file, sha256, imported);
  const captures = imported.ok ? imported.value.captures.slice(0, mostThumbnails) : [];
  return {
    source,
    lines: firstLines(bytes, source.understood?.encoding ?? recipe.encoding, lines),
    thumbnails: captures.map(({ trace, waveform: { samples } }) => {
      const pyramid = extremaPyramid(samples);
      const { minima, maxima } = columnSpans(pyramid, 0, Math.max(1, samples.length - 1), columns);
      return { trace, minima, maxima };
    }),
  };
}

function firstLines(bytes: Uint8Array, encoding: Encoding | null, count: number): string[] {
  const label = encoding === 'latin-1' ? 'iso-8859-1' : (encoding ?? 'utf-8');
  const lines = new TextDecoder(label).decode(bytes.subarray(0, headBytes)).split(/\r\n|\r|\n/);
  return lines.slice(0, count);
}
