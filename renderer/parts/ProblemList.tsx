import { type Problem, problemLine } from '../../core/outcome.ts';
import styles from './ProblemList.module.css';

/** Problems at their places, each with what to do. */
export function ProblemList({ title, problems }: { readonly title: string; readonly problems: readonly Problem[] }) {
  return (
    <section className={styles.list} role="alert">
      <h2>{title}</h2>
      <ul>
        {problems.map((problem) => (
          <li key={problemLine(problem)}>{problemLine(problem)}</li>
        ))}
      </ul>
    </section>
  );
}
