import type { Flag } from '../../core/flag.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import type { ReadingColumn } from '../../core/report/readings-table.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Figure } from '../parts/Figure.tsx';
import { Icon } from '../parts/Icon.tsx';
import { cellText } from './cell-text.ts';
import styles from './ReadingsTable.module.css';
import { flagName, flagPlace, flagSentence } from './reading-rows.ts';

/** One figure of one reading, which can be asked, with the doubt that concerns it; or words. */
export function ReadingCell({
  reading,
  column,
  captures,
  names,
  style,
  asked,
  onAsk,
  tabIndex,
}: {
  readonly reading: Reading;
  readonly column: ReadingColumn;
  readonly captures: CaptureLookup;
  readonly names: ReadonlyMap<string, string>;
  readonly style: FigureStyle;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly tabIndex: number;
}) {
  const capture = captures.get(reading.captureId);
  if (column.id === 'flags') return <Flags flags={reading.flags} />;
  if (column.unit === null) {
    const words = String(column.order(reading, capture) ?? '');
    // The end of a long name tells it from its neighbours: the beginning gives way.
    return (
      <span className={styles.name} title={words}>
        <bdi>{column.id === 'capture' ? (names.get(words) ?? words) : words}</bdi>
      </span>
    );
  }
  const figure = column.figure(reading, capture);
  const doubts = reading.flags.filter((flag) => flagPlace[flag] === column.id);
  const mark =
    doubts.length === 0 ? null : (
      <span
        className={styles.mark}
        role="img"
        aria-label={doubts.map(flagName).join(', ')}
        title={doubts.map(flagSentence).join('\n')}
      >
        <Icon name="doubt" />
      </span>
    );
  // Where a doubt is all there is, it stands in the figure's place.
  const text =
    figure === null && doubts.length > 0 ? doubts.map(flagName).join(', ') : cellText(reading, column, figure, style);
  if (column.asked === null) {
    return (
      <>
        {mark}
        {text}
      </>
    );
  }
  const own: FigureAsked = { kind: 'reading', captureId: reading.captureId, gate: reading.gate, figure: column.asked };
  const isAsked =
    asked?.kind === 'reading' &&
    asked.captureId === own.captureId &&
    asked.gate === own.gate &&
    asked.figure === own.figure;
  return (
    <>
      {mark}
      <Figure
        name={`${column.name}, ${column.unit}`}
        text={text}
        asked={own}
        onAsk={onAsk}
        isAsked={isAsked}
        tabIndex={tabIndex}
      />
    </>
  );
}

function Flags({ flags }: { readonly flags: readonly Flag[] }) {
  if (flags.length === 0) return null;
  return (
    <span className={styles.flags} title={flags.map(flagSentence).join('\n')}>
      {flags.map(flagName).join(', ')}
    </span>
  );
}
