import type { DriftRule } from './rule.ts';

/** What a rule allows of the distance (`mm`) or the amplitude (`dB`), as its parts say it; empty where it limits nothing of the kind. */
export function limitsInWords(rule: DriftRule, unit: 'mm' | 'dB', rangeWords: string | null): string {
  if (unit === 'mm') {
    const parts = (rule.distance?.limits ?? []).map(({ of, percent }) =>
      of === 'reading'
        ? `${percent} % of the distance`
        : `${percent} % of the range${rangeWords === null ? '' : ` of ${rangeWords}`}`,
    );
    return joined(parts, 'whichever is greater');
  }
  const parts = (rule.amplitude?.limits ?? []).map((limit) =>
    'db' in limit ? `${limit.db} dB` : `${limit.percent} %`,
  );
  return joined(parts, 'the stricter on either side');
}

function joined(parts: readonly string[], choice: string): string {
  return parts.length < 2 ? parts.join('') : `${parts.join(' or ')}, ${choice}`;
}
