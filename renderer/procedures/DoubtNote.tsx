import { Icon } from '../parts/Icon.tsx';
import { onScreen } from '../parts/on-screen.ts';
import styles from './DoubtNote.module.css';

/** A doubt: what is odd, and what to do about it. */
export interface DoubtShown {
  readonly sentence: string;
  readonly advice: string | null;
}

/** Doubts in words; nothing where there are none. */
export function DoubtNotes({ label, doubts }: { readonly label: string; readonly doubts: readonly DoubtShown[] }) {
  if (doubts.length === 0) return null;
  return (
    <ul className={styles.doubts} aria-label={label}>
      {doubts.map(({ sentence, advice }) => (
        <li key={sentence} className={styles.doubt}>
          <Icon name="doubt" />
          <span>{asSentence(onScreen(sentence))}</span>
          {advice !== null && <span className={styles.advice}>{advice}</span>}
        </li>
      ))}
    </ul>
  );
}

/** What the core says in the middle of a line begins one here. */
function asSentence(text: string): string {
  // The name of a file is written as it is.
  const begun = /^\S*[./#]\S/.test(text) ? text : text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
}
