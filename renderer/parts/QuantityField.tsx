import { useState } from 'react';
import { Field, type FieldProps } from './Field.tsx';

/** What came of a person's words: a value, or the sentence that says what is wrong with them. */
export type Read<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly sentence: string };

/**
 * A field for a number with its unit. It keeps the person's words while they are being typed; Enter or leaving the field reads them,
 * and what cannot be read stays, with what is wrong, until it is mended or taken back with Escape.
 */
export function QuantityField<T>({
  value,
  shown,
  read,
  onCommit,
  ...rest
}: Omit<FieldProps, 'value' | 'onChange' | 'error' | 'defaultValue'> & {
  readonly value: T;
  /** The value as text, in the person's units and with their decimal mark. */
  readonly shown: (value: T) => string;
  readonly read: (words: string) => Read<T>;
  readonly onCommit: (value: T) => void;
}) {
  const [draft, setDraft] = useState<string | null>(null);
  const [error, setError] = useState<string | null>(null);

  function commit(): void {
    if (draft === null) return;
    const outcome = draft === shown(value) ? null : read(draft);
    if (outcome !== null && !outcome.ok) {
      setError(outcome.sentence);
      return;
    }
    takeBack();
    if (outcome !== null) onCommit(outcome.value);
  }

  function takeBack(): void {
    setDraft(null);
    setError(null);
  }

  return (
    <Field
      {...rest}
      value={draft ?? shown(value)}
      error={error}
      onChange={setDraft}
      onBlur={commit}
      onKeyDown={(event) => {
        if (event.key === 'Enter') commit();
        if (event.key === 'Escape' && draft !== null) takeBack();
        else event.continuePropagation();
      }}
    />
  );
}
