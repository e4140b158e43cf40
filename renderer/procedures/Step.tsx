import { type ReactNode, useId, useState } from 'react';
import { Icon, type IconName } from '../parts/Icon.tsx';
import styles from './Step.module.css';

/** `needs`: something of the person; `found`: nothing more is wanted; `doubt`: done, and not to be trusted unseen; `wrong`: it could not be done. */
export type StepState = 'needs' | 'found' | 'doubt' | 'wrong' | 'working' | 'optional';

const signs: Readonly<Record<StepState, { readonly icon: IconName | null; readonly word: string }>> = {
  needs: { icon: 'chevron-right', word: 'needed' },
  found: { icon: 'check', word: 'done' },
  doubt: { icon: 'doubt', word: 'doubtful' },
  wrong: { icon: 'cross', word: 'not done' },
  working: { icon: 'wait', word: 'working …' },
  optional: { icon: null, word: 'if wanted' },
};

/** The column of a procedure. Its steps can be taken in any order. */
export function Steps({ label, children }: { readonly label: string; readonly children: ReactNode }) {
  return (
    <ol className={styles.steps} aria-label={label}>
      {children}
    </ol>
  );
}

/** One step: what it needs, or what it found, in a sentence under its name; the rest below, which can be folded away. */
export function Step({
  title,
  state,
  summary,
  word = null,
  isOpenAtFirst = true,
  children,
}: {
  readonly title: string;
  readonly state: StepState;
  readonly summary: string;
  /** In place of the state's own word. */
  readonly word?: string | null;
  readonly isOpenAtFirst?: boolean;
  readonly children: ReactNode;
}) {
  const [isOpen, setOpen] = useState(isOpenAtFirst);
  const id = useId();
  const { icon, word: ownWord } = signs[state];
  return (
    <li className={[styles.step, styles[state]].join(' ')}>
      <span className={styles.sign}>{icon === null ? null : <Icon name={icon} />}</span>
      <h3>
        <button
          type="button"
          className={styles.head}
          aria-expanded={isOpen}
          aria-controls={id}
          onClick={() => setOpen(!isOpen)}
        >
          <span className={styles.title}>{title}</span>
          <span className={styles.state}>{word ?? ownWord}</span>
        </button>
      </h3>
      <p className={styles.summary} aria-live="polite">
        {summary}
      </p>
      <div id={id} className={styles.body} hidden={!isOpen}>
        {children}
      </div>
    </li>
  );
}
