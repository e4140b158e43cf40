import { Label, ProgressBar } from 'react-aria-components';
import { Button } from './Button.tsx';
import styles from './Progress.module.css';

/** Long work: what is being done, how far it is (`null`: unknown), and the way to stop it. */
export function Progress({
  label,
  share,
  onCancel = null,
}: {
  readonly label: string;
  /** Done of the whole, 0 to 1. */
  readonly share: number | null;
  readonly onCancel?: (() => void) | null;
}) {
  return (
    <div className={styles.progress}>
      <ProgressBar
        className={styles.bar ?? ''}
        minValue={0}
        maxValue={1}
        value={share ?? 0}
        isIndeterminate={share === null}
      >
        {({ percentage, isIndeterminate }) => (
          <>
            <Label>{label}</Label>
            <svg
              aria-hidden="true"
              className={isIndeterminate ? styles.moving : styles.track}
              viewBox="0 0 100 4"
              preserveAspectRatio="none"
            >
              <rect width={isIndeterminate ? 30 : (percentage ?? 0)} height="4" />
            </svg>
          </>
        )}
      </ProgressBar>
      {onCancel !== null && (
        <Button small onPress={onCancel} aria-label={`Cancel: ${label}`}>
          Cancel
        </Button>
      )}
    </div>
  );
}
