import { columnSpans, type ExtremaPyramid, extremaIn } from '../../core/capture/extrema-pyramid.ts';
import type { Drawing, DrawingAsked, Drawn } from './messages.ts';
import type { StoredTrace } from './trace-store.ts';

/** The layers of a trace between two times, each from its pyramid: a few blocks for each column, however long the record. */
export function drawLayers(stored: StoredTrace, asked: DrawingAsked): Drawn {
  return {
    layers: asked.layers.map((layer) => {
      const pyramid = stored.pyramidOf(layer);
      return {
        layer,
        drawing: draw(pyramid, stored.trace, asked),
        extremaPercent: extremaIn(pyramid, { first: 0, last: pyramid.samples.length - 1 }),
      };
    }),
  };
}

function draw(
  pyramid: ExtremaPyramid,
  { startUs, stepUs }: { readonly startUs: number; readonly stepUs: number },
  { fromUs, toUs, columns }: DrawingAsked,
): Drawing {
  const [from, to] = [(fromUs - startUs) / stepUs, (toUs - startUs) / stepUs];
  if (to - from < columns) {
    const first = Math.min(pyramid.samples.length, Math.max(0, Math.floor(from)));
    const heights = pyramid.samples.slice(first, Math.max(first, Math.ceil(to) + 1));
    return { kind: 'samples', startUs: startUs + first * stepUs, stepUs, heights };
  }
  const { firstColumn, minima, maxima } = columnSpans(pyramid, from, to, columns);
  const columnUs = (toUs - fromUs) / columns;
  return { kind: 'spans', startUs: fromUs + firstColumn * columnUs, columnUs, minima, maxima };
}

/** The height of the straight line between the samples beside a time; `null` beside the record. */
export function heightAt(
  samples: Float64Array,
  { startUs, stepUs }: { readonly startUs: number; readonly stepUs: number },
  timeUs: number,
): number | null {
  const position = (timeUs - startUs) / stepUs;
  if (!(position >= 0 && position <= samples.length - 1)) return null;
  const before = Math.floor(position);
  const share = position - before;
  return share === 0 ? samples[before] : samples[before] * (1 - share) + samples[before + 1] * share;
}
