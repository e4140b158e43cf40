import type { ColumnMeaning, PreviewTable } from '../../core/import/preview-table.ts';
import { problemLine } from '../../core/outcome.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { Preview } from '../engine/messages.ts';
import { onScreen } from '../parts/on-screen.ts';
import own from './ColumnDialog.module.css';
import { outlinePath } from './envelope-path.ts';
import { understoodWords } from './understood-words.ts';

/** A file as it is read by what is being decided: whether it can be measured with, its first rows, its traces in small. */
export function ColumnPreview({
  preview,
  table,
  isWorking,
  style,
}: {
  /** `null` before the first. */
  readonly preview: Preview | null;
  readonly table: PreviewTable | null;
  readonly isWorking: boolean;
  readonly style: FigureStyle;
}) {
  return (
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
