import { useState } from 'react';
import type { FigureStyle, Measure } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import type { Bound } from '../procedures/field-reading.ts';
import { OptionalQuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import styles from './Part.module.css';

interface FieldWanted {
  readonly label: string;
  readonly measure: Measure;
  readonly bound: Bound;
}

/** What has to be stated before an entry can be added: nothing is filled in beforehand, since a figure that nobody stated would count like any other. */
export function AddEntry({
  label,
  fields,
  style,
  onAdd,
}: {
  readonly label: string;
  readonly fields: readonly FieldWanted[];
  readonly style: FigureStyle;
  readonly onAdd: (values: readonly number[]) => void;
}) {
  const [values, setValues] = useState<readonly (number | null)[]>(fields.map(() => null));
  const known = values.filter((value) => value !== null);
  return (
    <fieldset className={styles.add} aria-label={label}>
      <div className={steps.row}>
        {fields.map(({ label: name, measure, bound }, i) => (
          <OptionalQuantityInput
            key={name}
            label={name}
            measure={measure}
            bound={bound}
            style={style}
            value={values[i] ?? null}
            onValue={(value) => setValues(values.with(i, value))}
          />
        ))}
        <Button
          isDisabled={known.length < fields.length}
          onPress={() => {
            onAdd(known);
            setValues(fields.map(() => null));
          }}
        >
          {label}
        </Button>
      </div>
    </fieldset>
  );
}
