import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, type Option, Toggle } from '../parts/Choice.tsx';
import { QuantityField } from '../parts/QuantityField.tsx';
import { anything, positive, readOrNothing, shownIn } from './field-reading.ts';
import { type AnswerField, answered } from './import-answers.ts';
import { OptionalQuantityInput } from './QuantityInput.tsx';
import { rectificationWords } from './understood-words.ts';

export const timeUnits: readonly Option<NonNullable<ImportRecipe['timeUnit']>>[] = [
  { id: 'us', label: 'µs' },
  { id: 'ns', label: 'ns' },
  { id: 'ms', label: 'ms' },
  { id: 's', label: 's' },
];
export const distanceUnits: readonly Option<NonNullable<ImportRecipe['distanceUnit']>>[] = [
  { id: 'mm', label: 'mm' },
  { id: 'cm', label: 'cm' },
  { id: 'm', label: 'm' },
  { id: 'in', label: 'in' },
];
export const amplitudeUnits: readonly Option<NonNullable<ImportRecipe['amplitudeUnit']>>[] = [
  { id: 'percent', label: '% of full screen' },
  { id: 'volt', label: 'volts' },
  { id: 'count', label: 'counts' },
  { id: 'fraction', label: 'fraction of full scale' },
];
const dateOrders: readonly Option<NonNullable<ImportRecipe['dateOrder']>>[] = [
  { id: 'day-first', label: 'Day first' },
  { id: 'month-first', label: 'Month first' },
];
export const rectifications = (Object.keys(rectificationWords) as NonNullable<ImportRecipe['rectification']>[]).map(
  (id) => ({ id, label: rectificationWords[id] }),
);
export const decimalMarks: readonly Option<NonNullable<ImportRecipe['decimalMark']>>[] = [
  { id: '.', label: 'Point' },
  { id: ',', label: 'Comma' },
];

interface AnswerProps {
  readonly recipe: ImportRecipe;
  readonly onRecipe: (recipe: ImportRecipe) => void;
  readonly style: FigureStyle;
}

/** The one field that answers a question about a file. */
export function AnswerInput({
  field,
  recipe,
  amplitudeUnit,
  onRecipe,
  style,
}: AnswerProps & FullScreenUnit & { readonly field: AnswerField }) {
  switch (field) {
    case 'timeUnit':
      return (
        <Toggle
          label="Unit of time"
          options={timeUnits}
          chosen={recipe.timeUnit}
          onChoose={(id) => onRecipe(answered({ ...recipe, axis: 'time' }, 'timeUnit', id))}
        />
      );
    case 'distanceUnit':
      return (
        <Toggle
          label="Unit of distance"
          options={distanceUnits}
          chosen={recipe.distanceUnit}
          onChoose={(id) => onRecipe(answered(recipe, 'distanceUnit', id))}
        />
      );
    case 'amplitudeUnit':
      return (
        <Choice
          label="Unit of amplitude"
          options={amplitudeUnits}
          chosen={recipe.amplitudeUnit}
          onChoose={(id) => onRecipe(answered(recipe, 'amplitudeUnit', id))}
        />
      );
    case 'dateOrder':
      return (
        <Toggle
          label="Order of dates"
          options={dateOrders}
          chosen={recipe.dateOrder}
          onChoose={(id) => onRecipe(answered(recipe, 'dateOrder', id))}
        />
      );
    case 'decimalMark':
      return (
        <Toggle
          label="Decimal mark"
          options={decimalMarks}
          chosen={recipe.decimalMark}
          onChoose={(id) => onRecipe(answered(recipe, 'decimalMark', id))}
        />
      );
    case 'sampleRateMHz':
      return (
        <OptionalQuantityInput
          label="Sampling rate"
          measure="frequency"
          bound={positive}
          style={style}
          value={recipe.sampleRateMHz}
          onValue={(value) => onRecipe(answered(recipe, 'sampleRateMHz', value))}
        />
      );
    case 'axisVelocityMPerS':
      return (
        <OptionalQuantityInput
          label="Velocity it was drawn with"
          measure="velocity"
          bound={positive}
          style={style}
          value={recipe.axisVelocityMPerS}
          onValue={(value) => onRecipe(answered(recipe, 'axisVelocityMPerS', value))}
        />
      );
    case 'fullScreen':
      return <FullScreenInput recipe={recipe} amplitudeUnit={amplitudeUnit} onRecipe={onRecipe} style={style} />;
    case 'zeroLevel':
      return <BaseLineInput recipe={recipe} onRecipe={onRecipe} style={style} />;
    case 'rectification':
      return (
        <Choice
          label="Rectification"
          options={rectifications}
          chosen={recipe.rectification}
          onChoose={(id) => onRecipe(answered(recipe, 'rectification', id))}
        />
      );
    case 'uneven':
      return (
        <Button onPress={() => onRecipe(answered(recipe, 'uneven', 'resample'))}>Allow the axis to be resampled</Button>
      );
  }
}

export function BaseLineInput({ recipe, onRecipe, style }: AnswerProps) {
  return (
    <QuantityField
      label="Base line"
      description="The amplitude that is zero; empty: as found"
      value={recipe.zeroLevel}
      shown={shownIn('percent', style)}
      read={readOrNothing('percent', style, anything)}
      onCommit={(zeroLevel) => onRecipe(answered(recipe, 'zeroLevel', zeroLevel))}
    />
  );
}

interface FullScreenUnit {
  /** As it was decided, or as the file says; `null` where neither is so. */
  readonly amplitudeUnit: ImportRecipe['amplitudeUnit'];
}

/** In the unit of the amplitudes, whichever it is. */
export function FullScreenInput({ recipe, amplitudeUnit, onRecipe, style }: AnswerProps & FullScreenUnit) {
  const unit = amplitudeUnit === 'volt' ? ' (V)' : amplitudeUnit === 'count' ? ' (counts)' : '';
  return (
    <QuantityField
      label={`100 % of full screen${unit}`}
      value={recipe.fullScreen}
      shown={shownIn('percent', style)}
      read={readOrNothing('percent', style, positive)}
      onCommit={(value) => onRecipe(answered(recipe, 'fullScreen', value))}
    />
  );
}
