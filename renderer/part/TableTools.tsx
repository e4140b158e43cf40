import type { ReactNode } from 'react';
import { Button } from '../parts/Button.tsx';
import { CopyButton } from '../parts/CopyButton.tsx';
import { Field } from '../parts/Field.tsx';
import { Icon } from '../parts/Icon.tsx';
import styles from '../procedures/ReadingsTable.module.css';

/** What is done with a table as a whole: filtered by words, copied, saved. */
export function TableTools({
  of,
  words,
  onWords,
  rows,
  onCopy,
  onSave,
  children = null,
}: {
  /** What its rows are: `indications`. */
  readonly of: string;
  readonly words: string;
  readonly onWords: (words: string) => void;
  readonly rows: number;
  readonly onCopy: () => Promise<boolean>;
  readonly onSave: () => void;
  /** More that narrows the rows. */
  readonly children?: ReactNode;
}) {
  return (
    <div className={styles.tools}>
      <Field label={`Filter ${of}`} hideLabel placeholder={`Filter the ${of}`} value={words} onChange={onWords} />
      {children}
      <CopyButton rows={rows} onCopy={onCopy} />
      <Button isDisabled={rows === 0} onPress={onSave}>
        <Icon name="save" />
        Save as CSV
      </Button>
    </div>
  );
}
