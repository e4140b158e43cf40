import type { FigureAsked } from '../../core/origin.ts';
import styles from './Figure.module.css';

/** What every figure on a screen is: a number that can be asked where it comes from, by a click or by Enter. */
export function Figure({
  name,
  text,
  asked,
  onAsk,
  isAsked = false,
  tabIndex,
}: {
  /** What it is a figure of, for those who do not see where it stands. */
  readonly name: string;
  readonly text: string;
  readonly asked: FigureAsked;
  readonly onAsk: (asked: FigureAsked) => void;
  /** Its origin is what is shown now. */
  readonly isAsked?: boolean;
  /** -1 inside a table that moves the focus itself. */
  readonly tabIndex?: number;
}) {
  return (
    <button
      type="button"
      className={styles.figure}
      aria-label={`${name} ${text}. Where from?`}
      aria-current={isAsked ? 'true' : undefined}
      tabIndex={tabIndex}
      onClick={(event) => {
        event.stopPropagation();
        onAsk(asked);
      }}
    >
      {text}
    </button>
  );
}
