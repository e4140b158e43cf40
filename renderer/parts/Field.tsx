import { FieldError, Input, Label, Text, TextField, type TextFieldProps } from 'react-aria-components';
import styles from './Field.module.css';

export interface FieldProps extends Omit<TextFieldProps, 'className' | 'style' | 'children'> {
  readonly label: string;
  /** Where the label would only repeat what stands beside the field: it is read out, not shown. */
  readonly hideLabel?: boolean;
  readonly description?: string | null;
  /** What is wrong with the value and what to do; `null` where nothing is. */
  readonly error?: string | null;
  readonly placeholder?: string;
}

/** A line of text with its label, what it expects, and what is wrong with it. */
export function Field({
  label,
  hideLabel = false,
  description = null,
  error = null,
  placeholder,
  ...rest
}: FieldProps) {
  return (
    <TextField
      {...rest}
      className={styles.field ?? ''}
      isInvalid={error !== null}
      {...(hideLabel ? { 'aria-label': label } : {})}
    >
      {!hideLabel && <Label className={styles.label ?? ''}>{label}</Label>}
      <Input className={styles.input ?? ''} {...(placeholder === undefined ? {} : { placeholder })} />
      {description !== null && (
        <Text slot="description" className={styles.description ?? ''}>
          {description}
        </Text>
      )}
      <FieldError className={styles.error ?? ''}>{error ?? ''}</FieldError>
    </TextField>
  );
}
