import type { VerdictOutcome } from '../../core/check/verdict.ts';
import { verdictWords } from '../../core/origin/verdict-words.ts';
import { Icon, type IconName } from '../parts/Icon.tsx';
import styles from './VerdictSign.module.css';

export const verdictIcons: Readonly<Record<VerdictOutcome, IconName>> = {
  pass: 'check',
  fail: 'cross',
  inconclusive: 'doubt',
  'not-assessed': 'ring',
};

/** A verdict in words and with its sign; where there is no room the word is read out and shown when the pointer rests. */
export function VerdictSign({ outcome, bare = false }: { readonly outcome: VerdictOutcome; readonly bare?: boolean }) {
  const words = verdictWords[outcome];
  return (
    <span className={[styles.sign, styles[outcome]].join(' ')} title={bare ? words : undefined}>
      <Icon name={verdictIcons[outcome]} />
      <span className={bare ? styles.spoken : undefined}>{words}</span>
    </span>
  );
}
