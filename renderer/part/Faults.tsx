import type { Problem } from '../../core/outcome.ts';
import { begun } from '../parts/begun.ts';
import { Icon } from '../parts/Icon.tsx';
import { onScreen } from '../parts/on-screen.ts';
import styles from './Part.module.css';

/** What is wrong at this place, each with what to do; nothing where nothing is. */
export function Faults({ problems }: { readonly problems: readonly Problem[] }) {
  if (problems.length === 0) return null;
  return (
    <div role="alert">
      <ul className={styles.faults}>
        {problems.map(({ code, sentence }) => (
          <li key={`${code} ${sentence}`}>
            <Icon name="cross" />
            <span>
              {begun(onScreen(sentence))} <span className={styles.code}>{code}</span>
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}
