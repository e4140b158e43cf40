import { defaultSpectrumSettings, type SpectrumWindow } from '../../core/probe/window.ts';
import type { MaterialDecision } from '../../core/review/material-decision.ts';
import type { OfProbe, ProbesDecision } from '../../core/review/probes-decision.ts';
import type { Option } from '../parts/Choice.tsx';

/** Probes of which nothing has been decided: no gate, no reference, no rule is taken for granted. */
export const noProbes: ProbesDecision = {
  captures: [],
  gate: { fromUs: 0, toUs: 0 },
  spectrum: { window: { kind: 'tukey', taper: 0.2 }, padding: defaultSpectrumSettings.padding },
  elementMm: null,
  velocityMPerS: null,
  probes: [],
  reference: null,
  align: 'cross-correlation',
  normalised: true,
  significance: 0.05,
  decision: 'with-uncertainty',
  rule: null,
};

/** What is known of one probe, with a change; a probe of which nothing more is known leaves the list. */
export function withProbe(probes: readonly OfProbe[], name: string, change: Partial<OfProbe>): OfProbe[] {
  const known = probes.find((probe) => probe.name === name);
  const next: OfProbe = { ...(known ?? { name, gate: null, elementMm: null, stated: [] }), ...change };
  const isEmpty = next.gate === null && next.elementMm === null && next.stated.length === 0;
  if (known === undefined) return isEmpty ? [...probes] : [...probes, next];
  return isEmpty ? probes.filter((probe) => probe !== known) : probes.map((probe) => (probe === known ? next : probe));
}

/** What a file states of probes, laid over what is known: figure by figure, what is not in it stays. */
export function withStated(probes: readonly OfProbe[], stated: readonly OfProbe[]): OfProbe[] {
  return stated.reduce<OfProbe[]>(
    (all, one) => {
      const known = all.find(({ name }) => name === one.name);
      const kept = (known?.stated ?? []).filter(({ figure }) => !one.stated.some((each) => each.figure === figure));
      return withProbe(all, one.name, {
        ...(one.gate === null ? {} : { gate: one.gate }),
        ...(one.elementMm === null ? {} : { elementMm: one.elementMm }),
        stated: [...kept, ...one.stated],
      });
    },
    [...probes],
  );
}

export const windowOptions: readonly Option<SpectrumWindow['kind']>[] = [
  { id: 'tukey', label: 'Tukey', description: 'Flat, with a fifth of its length in its edges' },
  { id: 'hann', label: 'Hann', description: 'Raised cosine over the whole gate' },
  { id: 'rectangular', label: 'Rectangular', description: 'The gate as it stands' },
];

export function windowOf(kind: SpectrumWindow['kind']): ProbesDecision['spectrum']['window'] {
  return kind === 'tukey' ? { kind, taper: 0.2 } : { kind };
}

/** A material as far as it has been stated: whole enough for the review once there are a thickness and two windows. */
export interface MaterialDraft extends Omit<MaterialDecision, 'thicknessMm'> {
  readonly thicknessMm: number | null;
}

export const noMaterial: MaterialDraft = {
  captures: [],
  thicknessMm: null,
  toleranceMm: 0,
  echoes: [
    { multiple: 1, fromUs: 0, toUs: 0 },
    { multiple: 2, fromUs: 0, toUs: 0 },
  ],
  spreading: { kind: 'none' },
};

export function wholeMaterial(draft: MaterialDraft): MaterialDecision | null {
  const { thicknessMm } = draft;
  return thicknessMm === null ? null : { ...draft, thicknessMm };
}
