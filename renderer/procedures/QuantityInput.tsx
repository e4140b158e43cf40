import { type FigureStyle, type Measure, unitSign } from '../../core/units/figure-style.ts';
import { QuantityField } from '../parts/QuantityField.tsx';
import { type Bound, readIn, readOrNothing, shownIn } from './field-reading.ts';

interface Common {
  readonly label: string;
  readonly measure: Measure;
  readonly bound: Bound;
  readonly style: FigureStyle;
  readonly description?: string;
  readonly hideLabel?: boolean;
}

/** `Threshold (%)`: the unit in which a bare number is read stands with the name. */
function named({ label, measure, style }: Common): string {
  const unit = measure === 'percent' ? '% FSH' : unitSign(measure, style);
  return `${label} (${unit})`;
}

/** A number with its unit that must be stated. */
export function QuantityInput(props: Common & { readonly value: number; readonly onValue: (value: number) => void }) {
  const { measure, bound, style, value, onValue, description, hideLabel = false } = props;
  return (
    <QuantityField
      label={named(props)}
      hideLabel={hideLabel}
      value={value}
      shown={shownIn(measure, style)}
      read={readIn(measure, style, bound)}
      onCommit={onValue}
      {...(description === undefined ? {} : { description })}
    />
  );
}

/** One that may be left empty. */
export function OptionalQuantityInput(
  props: Common & {
    readonly value: number | null;
    readonly onValue: (value: number | null) => void;
    readonly placeholder?: string;
  },
) {
  const { measure, bound, style, value, onValue, description, hideLabel = false, placeholder } = props;
  return (
    <QuantityField
      label={named(props)}
      hideLabel={hideLabel}
      value={value}
      shown={shownIn(measure, style)}
      read={readOrNothing(measure, style, bound)}
      onCommit={onValue}
      {...(description === undefined ? {} : { description })}
      {...(placeholder === undefined ? {} : { placeholder })}
    />
  );
}
