import { Icon } from '../parts/Icon.tsx';
import styles from './Plot.module.css';

/** Below a picture, in sentences: what is not in it, and why. */
export function PictureDoubts({ problems }: { readonly problems: readonly string[] }) {
  if (problems.length === 0) return null;
  return (
    <div role="alert">
      <ul className={styles.doubts}>
        {problems.map((sentence) => (
          <li key={sentence}>
            <Icon name="doubt" />
            {sentence}
          </li>
        ))}
      </ul>
    </div>
  );
}
