import type { OfProbes } from './ProbesSteps.tsx';

/** Probes that were found, then those of which something is known. */
export function namesOf({ decided, result }: Pick<OfProbes, 'decided' | 'result'>): readonly string[] {
  const found = (result?.probes ?? []).map(({ probe }) => probe);
  return [...new Set([...found, ...decided.probes.map(({ name }) => name)])];
}
