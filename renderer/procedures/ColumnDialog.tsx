import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { type ColumnMeaning, type PreviewTable, previewTable } from '../../core/import/preview-table.ts';
import { problemLine } from '../../core/outcome.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { Preview } from '../engine/messages.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, type Option } from '../parts/Choice.tsx';
import { Modal } from '../parts/Modal.tsx';
import { QuantityField, type Read } from '../parts/QuantityField.tsx';
import { amplitudeUnits, decimalMarks, distanceUnits, FullScreenInput, timeUnits } from './AnswerFields.tsx';
import own from './ColumnDialog.module.css';
import { outlinePath } from './envelope-path.ts';
import { anything, positive, readOrNothing, shownIn } from './field-reading.ts';
import { onScreen } from './import-answers.ts';
import { OptionalQuantityInput } from './QuantityInput.tsx';
import { rectificationWords, understoodWords } from './understood-words.ts';

export interface ColumnDialogProps {
  readonly file: string;
  /** What is being decided. */
  readonly recipe: ImportRecipe;
  readonly onRecipe: (recipe: ImportRecipe) => void;
  /** The file as that recipe reads it; that of the recipe before while the new one is worked out, `null` before the first. */
  readonly preview: Preview | null;
  readonly isWorking: boolean;
  /** The files that this recipe may serve, this one first. */
  readonly sameShape: readonly string[];
  readonly onUse: (files: readonly string[]) => void;
  readonly onClose: () => void;
  readonly style: FigureStyle;
}

const rowsShown = 12;

/** What the columns of a file mean, with the file as it is read by that beside it. */
export function ColumnDialog(props: ColumnDialogProps) {
  const { file, recipe, preview, isWorking, sameShape, onUse, onClose, style } = props;
  const table =
    preview === null ? null : previewTable(preview.lines, preview.source.understood?.recipe ?? recipe, rowsShown);
  const isReady = preview !== null && preview.source.state === 'ready' && !isWorking;
  return (
    <Modal
      title={`Columns of ${file}`}
      isOpen
      onClose={onClose}
      width="wide"
      actions={
        <>
          <Button onPress={onClose}>Cancel</Button>
          {sameShape.length > 1 && (
            <Button isDisabled={isWorking || preview === null} onPress={() => onUse(sameShape)}>
              Use for the {sameShape.length} files of this shape
            </Button>
          )}
          <Button kind="main" isDisabled={isWorking || preview === null} onPress={() => onUse([file])}>
            {isReady ? 'Use for this file' : 'Use it all the same'}
          </Button>
        </>
      }
    >
      <div className={own.body}>
        <div className={own.fields}>
          <WrittenFields {...props} />
          <AxisFields {...props} table={table} />
          <AmplitudeFields {...props} table={table} />
        </div>
        <div className={own.preview} aria-live="polite" aria-busy={isWorking}>
          {preview === null || table === null ? (
            <p className={own.waiting}>Reading the file …</p>
          ) : (
            <>
              <Verdict preview={preview} isWorking={isWorking} style={style} />
              <Rows table={table} />
              <Thumbnails preview={preview} />
            </>
          )}
        </div>
      </div>
    </Modal>
  );
}

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

function WrittenFields({ recipe, onRecipe, preview }: ColumnDialogProps) {
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

function AxisFields({ recipe, onRecipe, preview, table, style }: WithTable) {
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

const rectifications = (Object.keys(rectificationWords) as NonNullable<ImportRecipe['rectification']>[]).map((id) => ({
  id,
  label: rectificationWords[id],
}));

function AmplitudeFields({ recipe, onRecipe, preview, table, style }: WithTable) {
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
        <>
          <FullScreenInput recipe={recipe} onRecipe={onRecipe} style={style} />
          <QuantityField
            label="Base line"
            description="The amplitude that is zero; empty: as found"
            value={recipe.zeroLevel}
            shown={shownIn('percent', style)}
            read={readOrNothing('percent', style, anything)}
            onCommit={(zeroLevel) => onRecipe({ ...recipe, zeroLevel })}
          />
        </>
      )}
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

function Verdict({
  preview,
  isWorking,
  style,
}: {
  readonly preview: Preview;
  readonly isWorking: boolean;
  readonly style: FigureStyle;
}) {
  const { source } = preview;
  const all = [...source.problems, ...source.asks];
  return (
    <>
      <p className={all.length > 0 ? own.wrong : ''}>
        {isWorking
          ? 'Reading …'
          : all.length > 0
            ? 'Read so, the file cannot be measured with yet:'
            : source.understood === null
              ? ''
              : understoodWords(source.understood, style)}
      </p>
      {[...all, ...source.warnings].length > 0 && (
        <ul className={own.problems}>
          {[...all, ...source.warnings].slice(0, 12).map((problem) => (
            <li key={problemLine(problem)}>
              {problem.place.line === null
                ? ''
                : `Line ${problem.place.line}${problem.place.column === null ? '' : `, column ${problem.place.column}`}: `}
              {onScreen(problem.sentence)}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

const meaningWords: Readonly<Record<ColumnMeaning, string>> = {
  time: 'time',
  distance: 'distance',
  'sample-number': 'sample number',
  amplitude: 'amplitude',
  capture: 'tells captures apart',
  'not-read': 'not read',
};

function meaningClass(meaning: ColumnMeaning): string | undefined {
  if (meaning === 'amplitude') return own.amplitude;
  return meaning === 'not-read' ? own.ignored : own.axis;
}

const preambleShown = 3;

function Rows({ table }: { readonly table: PreviewTable }) {
  const { preamble } = table;
  return (
    <>
      {preamble.length > 0 && (
        <p className={own.before}>
          {preamble.slice(0, preambleShown).map(({ number, text }) => (
            <span key={number}>{text}</span>
          ))}
          {preamble.length > preambleShown && (
            <span>and {preamble.length - preambleShown} lines more before the columns</span>
          )}
        </p>
      )}
      <RowTable table={table} />
    </>
  );
}

function RowTable({ table }: { readonly table: PreviewTable }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must be reached by the keyboard
    <section className={own.scroll} tabIndex={0} aria-label="The first rows">
      <table className={own.table}>
        <thead>
          <tr>
            <th>Line</th>
            {table.columns.map(({ position, name, meaning }) => (
              <th key={position} className={meaningClass(meaning)}>
                <span className={own.meaning}>{meaningWords[meaning]}</span>
                <span className={own.header}>{name === '' ? `column ${position}` : name}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map(({ line, cells }) => (
            <tr key={line}>
              <td className={own.line}>{line}</td>
              {table.columns.map(({ position, meaning }) => (
                <td key={position} className={meaning === 'not-read' ? own.ignored : undefined}>
                  {cells[position - 1] ?? ''}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Thumbnails({ preview }: { readonly preview: Preview }) {
  return (
    <div className={own.thumbs}>
      {preview.thumbnails.slice(0, 3).map(({ trace, minima, maxima }) => (
        <figure key={trace} className={own.thumb}>
          <svg
            viewBox={`0 0 ${Math.max(1, minima.length - 1)} 100`}
            preserveAspectRatio="none"
            role="img"
            aria-label={`The whole of ${trace}`}
          >
            <path d={outlinePath(minima, maxima, 100)} />
          </svg>
          <figcaption>{trace}</figcaption>
        </figure>
      ))}
    </div>
  );
}
