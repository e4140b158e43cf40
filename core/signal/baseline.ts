import type { ConditioningRecipe } from './conditioning.ts';

/** A base line through a record: `level` at sample `origin`, rising by `slope` for each sample. */
export interface Baseline {
  readonly origin: number;
  readonly level: number;
  readonly slope: number;
}

/**
 * The base line of a record: its mean, or its least-squares line (what `scipy.signal.detrend` takes out). In the
 * samples' own unit. An empty record and the kind `none` have the base line 0; one sample has no slope.
 * Source: ordinary least squares about the mean index.
 */
export function baselineOf(samples: ArrayLike<number>, kind: ConditioningRecipe['baseline']): Baseline {
  const count = samples.length;
  if (kind === 'none' || count === 0) return { origin: 0, level: 0, slope: 0 };
  const origin = (count - 1) / 2;
  let sum = 0;
  let moment = 0;
  for (let i = 0; i < count; i++) {
    const sample = samples[i];
    sum += sample;
    moment += (i - origin) * sample;
  }
  const spread = (count * (count * count - 1)) / 12;
  return { origin, level: sum / count, slope: kind === 'linear' && spread > 0 ? moment / spread : 0 };
}
