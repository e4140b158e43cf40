import type { Indication } from '../../core/steps/scan.ts';

/** What a person decided of an indication, in a word. */
export function decisionWords({ decided, taken }: Pick<Indication, 'decided' | 'taken'>): string {
  if (taken !== null) return taken;
  return decided ? 'accepted' : 'proposed';
}
