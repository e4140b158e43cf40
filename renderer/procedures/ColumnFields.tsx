import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { PreviewTable } from '../../core/import/preview-table.ts';
import { Choice, type Option } from '../parts/Choice.tsx';
import { QuantityField, type Read } from '../parts/QuantityField.tsx';
import {
  amplitudeUnits,
  BaseLineInput,
  decimalMarks,
  distanceUnits,
  FullScreenInput,
  rectifications,
  timeUnits,
} from './AnswerFields.tsx';
import own from './ColumnDialog.module.css';
import type { ColumnDialogProps } from './ColumnDialog.tsx';
import { anything, positive } from './field-reading.ts';
import { OptionalQuantityInput } from './QuantityInput.tsx';

/** The option that leaves a decision to the file. */
const found = 'found';

/** A choice of which the first is to take what is found in the file. */
function FoundChoice<Id extends string>({
  label,
  options,
  value,
  foundAs,
  nothing = 'Not stated in the file',
  onValue,
}: {
  readonly label: string;
  readonly options: readonly Option<Id>[];
  readonly value: Id | null;
  /** What was found; `null` where nothing was. */
  readonly foundAs: Id | null | undefined;
  /** What it means that nothing was found. */
  readonly nothing?: string;
  readonly onValue: (value: Id | null) => void;
}) {
  const name = options.find(({ id }) => id === foundAs)?.label;
  return (
    <Choice<Id | typeof found>
      label={label}
      options={[
        {
          id: found,
          label: name !== undefined ? `As found: ${name}` : foundAs === null ? nothing : 'As found in the file',
        },
        ...options,
      ]}
      chosen={value ?? found}
      onChoose={(id) => onValue(id === found ? null : (id as Id))}
    />
  );
}

const delimiters: readonly Option<NonNullable<ImportRecipe['delimiter']>>[] = [
  { id: ',', label: 'Comma' },
  { id: ';', label: 'Semicolon' },
  { id: '\t', label: 'Tab' },
  { id: ' ', label: 'Blanks' },
];

const encodings: readonly Option<NonNullable<ImportRecipe['encoding']>>[] = [
  { id: 'utf-8', label: 'UTF-8' },
  { id: 'latin-1', label: 'Latin-1' },
  { id: 'utf-16le', label: 'UTF-16, low byte first' },
  { id: 'utf-16be', label: 'UTF-16, high byte first' },
];

export function WrittenFields({ recipe, onRecipe, preview }: ColumnDialogProps) {
  const understood = preview?.source.understood;
  return (
    <fieldset>
      <legend>How it is written</legend>
      <FoundChoice
        label="Between the columns"
        options={delimiters}
        value={recipe.delimiter}
        foundAs={understood?.delimiter}
        onValue={(delimiter) => onRecipe({ ...recipe, delimiter })}
      />
      <FoundChoice
        label="Decimal mark"
        options={decimalMarks}
        value={recipe.decimalMark}
        foundAs={understood?.decimalMark}
        onValue={(decimalMark) => onRecipe({ ...recipe, decimalMark })}
      />
      <QuantityField<number | null>
        label="Line of the columns’ names"
        description="0 where there is none; empty: as found"
        value={recipe.headerLine}
        shown={(value) => (value === null ? '' : String(value))}
        read={readLine}
        onCommit={(headerLine) => onRecipe({ ...recipe, headerLine })}
      />
      <FoundChoice
        label="Encoding"
        options={encodings}
        value={recipe.encoding}
        foundAs={understood?.encoding}
        onValue={(encoding) => onRecipe({ ...recipe, encoding })}
      />
    </fieldset>
  );
}

function readLine(words: string): Read<number | null> {
  const text = words.trim();
  if (text === '') return { ok: true, value: null };
  return /^\d{1,6}$/.test(text)
    ? { ok: true, value: Number(text) }
    : { ok: false, sentence: 'give a whole number, 0 where there is no such line' };
}

/** A column by its position, as an option. */
function columnOptions(table: PreviewTable | null): readonly Option<string>[] {
  return (table?.columns ?? []).map(({ position, name }) => ({
    id: String(position),
    label: name === '' ? `column ${position}` : `${position}: ${name}`,
  }));
}

function positionOf(reference: string | number | null | undefined, table: PreviewTable | null): string | null {
  if (reference === null || reference === undefined) return null;
  if (typeof reference === 'number') return String(reference);
  const column = table?.columns.find(({ name }) => name === reference);
  return column === undefined ? null : String(column.position);
}

type WithTable = ColumnDialogProps & { readonly table: PreviewTable | null };

const axes: readonly Option<NonNullable<ImportRecipe['axis']>>[] = [
  { id: 'time', label: 'Time' },
  { id: 'distance', label: 'Distance' },
];

export function AxisFields({ recipe, onRecipe, preview, table, style }: WithTable) {
  const understood = preview?.source.understood?.recipe;
  const columns = (part: Partial<ImportRecipe['columns']>) =>
    onRecipe({ ...recipe, columns: { ...recipe.columns, ...part } });
  const axis = recipe.axis ?? understood?.axis ?? null;
  const hasColumn = (recipe.columns.axis ?? understood?.columns.axis ?? null) !== null;
  return (
    <fieldset>
      <legend>The axis</legend>
      <FoundChoice
        label="Column of the axis"
        options={columnOptions(table)}
        value={positionOf(recipe.columns.axis, table)}
        foundAs={understood === undefined ? undefined : positionOf(understood.columns.axis, table)}
        nothing="None: the file has no axis"
        onValue={(id) => columns({ axis: id === null ? null : Number(id) })}
      />
      {hasColumn ? (
        <>
          <FoundChoice
            label="It is a"
            options={axes}
            value={recipe.axis}
            foundAs={understood?.axis}
            onValue={(value) => onRecipe({ ...recipe, axis: value })}
          />
          {axis === 'distance' ? (
            <>
              <FoundChoice
                label="Unit of distance"
                options={distanceUnits}
                value={recipe.distanceUnit}
                foundAs={understood?.distanceUnit}
                onValue={(distanceUnit) => onRecipe({ ...recipe, distanceUnit })}
              />
              <OptionalQuantityInput
                label="Velocity it was drawn with"
                measure="velocity"
                bound={positive}
                style={style}
                value={recipe.axisVelocityMPerS}
                onValue={(axisVelocityMPerS) => onRecipe({ ...recipe, axisVelocityMPerS })}
              />
            </>
          ) : (
            <FoundChoice
              label="Unit of time"
              options={timeUnits}
              value={recipe.timeUnit}
              foundAs={understood?.timeUnit}
              onValue={(timeUnit) => onRecipe({ ...recipe, timeUnit })}
            />
          )}
        </>
      ) : (
        <>
          <OptionalQuantityInput
            label="Sampling rate"
            measure="frequency"
            bound={positive}
            style={style}
            value={recipe.sampleRateMHz}
            onValue={(sampleRateMHz) => onRecipe({ ...recipe, sampleRateMHz })}
          />
          <OptionalQuantityInput
            label="Time of the first sample"
            measure="time"
            bound={anything}
            style={style}
            value={recipe.startUs}
            onValue={(startUs) => onRecipe({ ...recipe, startUs })}
          />
        </>
      )}
      <FoundChoice
        label="Column that tells captures apart"
        options={columnOptions(table)}
        value={positionOf(recipe.columns.captureId, table)}
        foundAs={understood === undefined ? undefined : positionOf(understood.columns.captureId, table)}
        nothing="None: each column is a capture"
        onValue={(id) => columns({ captureId: id === null ? null : Number(id) })}
      />
    </fieldset>
  );
}

export function AmplitudeFields({ recipe, onRecipe, preview, table, style }: WithTable) {
  const understood = preview?.source.understood;
  const traces = understood?.traces ?? [];
  return (
    <fieldset>
      <legend>The amplitudes</legend>
      <AmplitudeColumns recipe={recipe} onRecipe={onRecipe} preview={preview} table={table} />
      <FoundChoice
        label="Unit of amplitude"
        options={amplitudeUnits}
        value={recipe.amplitudeUnit}
        foundAs={understood?.recipe.amplitudeUnit}
        onValue={(amplitudeUnit) => onRecipe({ ...recipe, amplitudeUnit })}
      />
      {(recipe.amplitudeUnit ?? understood?.recipe.amplitudeUnit) !== 'percent' && (
        <FullScreenInput
          recipe={recipe}
          amplitudeUnit={recipe.amplitudeUnit ?? understood?.recipe.amplitudeUnit ?? null}
          onRecipe={onRecipe}
          style={style}
        />
      )}
      <BaseLineInput recipe={recipe} onRecipe={onRecipe} style={style} />
      <FoundChoice
        label="Rectification"
        options={rectifications}
        value={recipe.rectification}
        foundAs={traces[0]?.rectification}
        onValue={(rectification) => onRecipe({ ...recipe, rectification })}
      />
    </fieldset>
  );
}

function AmplitudeColumns({ recipe, onRecipe, table }: Pick<WithTable, 'recipe' | 'onRecipe' | 'preview' | 'table'>) {
  const columns = table?.columns ?? [];
  if (columns.length < 2) return null;
  const read = columns.filter(({ meaning }) => meaning === 'amplitude').map(({ position }) => position);
  return (
    <fieldset aria-label="Columns of amplitudes" className={own.columns}>
      {columns.map(({ position, name }) => (
        <label key={position}>
          <input
            type="checkbox"
            checked={read.includes(position)}
            onChange={(event) => {
              const next = event.target.checked ? [...read, position] : read.filter((other) => other !== position);
              onRecipe({
                ...recipe,
                columns: { ...recipe.columns, amplitudes: next.length === 0 ? null : next.sort((a, b) => a - b) },
              });
            }}
          />
          <span>{name === '' ? `column ${position}` : name}</span>
        </label>
      ))}
    </fieldset>
  );
}
