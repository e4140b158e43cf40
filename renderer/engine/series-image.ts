import type { Capture, CaptureId } from '../../core/capture/capture.ts';
import { columnSpans } from '../../core/capture/extrema-pyramid.ts';
import type { Problem } from '../../core/outcome.ts';
import type { Picture, PictureAsked } from './messages.ts';
import type { Control } from './pauses.ts';
import type { StoredTrace, TraceStore } from './trace-store.ts';

/**
 * The cells of captures as they were last drawn, so that a picture that has gained or lost a few columns is quick. (4 bytes a cell: 5,000 captures of 400 rows are 8 MB.)
 */
export class CellStore {
  private key = '';
  private cells = new WeakMap<Capture['waveform'], Float32Array>();

  /** For this window, layer and recipe; another one empties the store. */
  for(asked: PictureAsked): WeakMap<Capture['waveform'], Float32Array> {
    const { fromUs, toUs, rows, layer, conditioning } = asked;
    const key = JSON.stringify([fromUs, toUs, rows, layer, conditioning]);
    if (key !== this.key) this.cells = new WeakMap();
    this.key = key;
    return this.cells;
  }
}

/** Captures stacked as an image, with pauses between them. */
export async function pictureOf(
  asked: PictureAsked,
  captureOf: (id: CaptureId) => Capture,
  traces: TraceStore,
  store: CellStore,
  control: Control,
): Promise<Picture> {
  const { columns, rows } = asked;
  const percent = new Float32Array(columns.length * rows).fill(Number.NaN);
  const cells = store.for(asked);
  const problems: Problem[] = [];
  const total = columns.reduce((sum, column) => sum + column.length, 0);
  let done = 0;
  for (let c = 0; c < columns.length; c++) {
    const into = percent.subarray(c * rows, (c + 1) * rows);
    for (const id of columns[c]) {
      const { waveform } = captureOf(id);
      let own = cells.get(waveform);
      if (own === undefined) {
        const stored = traces.get(waveform, asked.conditioning);
        if (stored.ok) {
          own = cellsOf(stored.value, asked);
          cells.set(waveform, own);
        } else problems.push(...stored.problems.map((p) => ({ ...p, place: { ...p.place, file: id } })));
      }
      if (own !== undefined) raiseTo(into, own);
      control.progress({ done: ++done, total });
      await control.pause();
    }
  }
  return { columns: columns.length, rows, percent, problems };
}

/** The highest point of the trace in each row; NaN where there is no record. */
function cellsOf(stored: StoredTrace, { fromUs, toUs, rows, layer }: PictureAsked): Float32Array {
  const { startUs, stepUs } = stored.trace;
  // The magnitude's extremes follow from those of the samples: no second copy of the record is needed.
  const pyramid = stored.pyramidOf(layer === 'envelope' ? 'envelope' : 'samples');
  const spans = columnSpans(pyramid, (fromUs - startUs) / stepUs, (toUs - startUs) / stepUs, rows);
  const cells = new Float32Array(rows).fill(Number.NaN);
  for (let r = 0; r < spans.maxima.length; r++) {
    cells[spans.firstColumn + r] = layer === 'envelope' ? spans.maxima[r] : Math.max(spans.maxima[r], -spans.minima[r]);
  }
  return cells;
}

function raiseTo(into: Float32Array, cells: Float32Array): void {
  for (let r = 0; r < cells.length; r++) if (!(into[r] >= cells[r]) && !Number.isNaN(cells[r])) into[r] = cells[r];
}
