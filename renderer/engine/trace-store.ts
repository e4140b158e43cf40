import { type ExtremaPyramid, extremaPyramid } from '../../core/capture/extrema-pyramid.ts';
import type { Waveform } from '../../core/capture/waveform.ts';
import { type Outcome, success } from '../../core/outcome.ts';
import { type ConditioningRecipe, condition, type Trace } from '../../core/signal/conditioning.ts';
import { rectify } from '../../core/signal/rectify.ts';
import type { Layer } from './messages.ts';

/** A conditioned trace with the pyramids of its layers, made when they are first looked at. */
export interface StoredTrace {
  readonly trace: Trace;
  pyramidOf(layer: Layer): ExtremaPyramid;
}

/** Traces for the whole of a review: about 6,000 captures of 4,000 samples. */
const mostBytes = 400e6;
/** Traces on the screen and those just left, whatever their length. */
const mostOnScreen = 6;

/**
 * Conditioned traces by capture and recipe, so that a gate that moved is read again without conditioning anything. Bounded: what does not fit is
 * conditioned again each time. (What is kept stays, rather than making room: captures are read in a fixed order, and a store that always threw out
 * the oldest would never have the next one.) Traces by an earlier recipe make room first.
 */
export class TraceStore {
  private readonly kept = new Map<Waveform, { readonly recipe: string; readonly stored: StoredTrace }>();
  private readonly onScreen = new Map<Waveform, { readonly recipe: string; readonly stored: StoredTrace }>();
  private readonly room: number;
  private bytes = 0;

  constructor(room = mostBytes) {
    this.room = room;
  }

  /** For reading; kept where there is room. */
  get(waveform: Waveform, recipe: ConditioningRecipe): Outcome<StoredTrace> {
    const key = recipeKey(recipe);
    const found = this.find(waveform, key);
    if (found !== null) return success(found);
    const made = make(waveform, recipe);
    if (made.ok) this.keep(waveform, key, made.value);
    return made;
  }

  /** For the screen: kept until a few others were looked at. */
  getForScreen(waveform: Waveform, recipe: ConditioningRecipe): Outcome<StoredTrace> {
    const key = recipeKey(recipe);
    const found = this.find(waveform, key);
    const made = found === null ? make(waveform, recipe) : success(found);
    if (!made.ok) return made;
    this.onScreen.delete(waveform);
    this.onScreen.set(waveform, { recipe: key, stored: made.value });
    if (this.onScreen.size > mostOnScreen) this.onScreen.delete(this.onScreen.keys().next().value as Waveform);
    return made;
  }

  /** Lets go of traces whose captures are gone. */
  keepOnly(waveforms: ReadonlySet<Waveform>): void {
    for (const waveform of this.kept.keys()) if (!waveforms.has(waveform)) this.drop(waveform);
    for (const waveform of this.onScreen.keys()) if (!waveforms.has(waveform)) this.onScreen.delete(waveform);
  }

  private find(waveform: Waveform, key: string): StoredTrace | null {
    for (const found of [this.kept.get(waveform), this.onScreen.get(waveform)])
      if (found?.recipe === key) return found.stored;
    return null;
  }

  private keep(waveform: Waveform, key: string, stored: StoredTrace): void {
    const size = bytesOf(waveform);
    this.drop(waveform);
    for (const [old, { recipe }] of this.kept) {
      if (this.bytes + size <= this.room) break;
      if (recipe !== key) this.drop(old);
    }
    if (this.bytes + size > this.room) return;
    this.kept.set(waveform, { recipe: key, stored });
    this.bytes += size;
  }

  private drop(waveform: Waveform): void {
    if (this.kept.delete(waveform)) this.bytes -= bytesOf(waveform);
  }
}

/** Samples and envelope, as 64-bit numbers. */
function bytesOf(waveform: Waveform): number {
  return waveform.samples.length * 16;
}

let lastRecipe: { readonly recipe: ConditioningRecipe; readonly key: string } | null = null;

function recipeKey(recipe: ConditioningRecipe): string {
  if (lastRecipe?.recipe !== recipe) {
    const { baseline, bandPass, padding, peak } = recipe;
    const band = bandPass && [bandPass.lowMHz, bandPass.highMHz, bandPass.order];
    lastRecipe = { recipe, key: JSON.stringify([baseline, band, padding, peak]) };
  }
  return lastRecipe.key;
}

function make(waveform: Waveform, recipe: ConditioningRecipe): Outcome<StoredTrace> {
  const conditioned = condition(waveform, recipe);
  if (!conditioned.ok) return conditioned;
  const trace = conditioned.value;
  const pyramids = new Map<Layer, ExtremaPyramid>();
  return success({
    trace,
    pyramidOf(layer) {
      let pyramid = pyramids.get(layer);
      if (pyramid === undefined) {
        pyramid = extremaPyramid(samplesOf(trace, layer));
        pyramids.set(layer, pyramid);
      }
      return pyramid;
    },
  });
}

function samplesOf(trace: Trace, layer: Layer): Float64Array {
  if (layer === 'envelope') return trace.envelope;
  return layer === 'rectified' && trace.rectification === 'rf' ? rectify(trace.samples, 'full') : trace.samples;
}
