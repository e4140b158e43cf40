import type { ReactNode } from 'react';
import styles from './EmptyState.module.css';

/** What stands where there is nothing yet: what would be here, and the way to it. */
export function EmptyState({
  title,
  children,
  actions = null,
}: {
  readonly title: string;
  readonly children?: ReactNode;
  readonly actions?: ReactNode;
}) {
  return (
    <div className={styles.empty}>
      <p className={styles.title}>{title}</p>
      {children !== undefined && <div className={styles.words}>{children}</div>}
      {actions !== null && <div className={styles.actions}>{actions}</div>}
    </div>
  );
}
