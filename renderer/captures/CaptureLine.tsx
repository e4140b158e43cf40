import { memo } from 'react';
import { type FigureStyle, figureWithUnit } from '../../core/units/figure-style.ts';
import { Icon, type IconName } from '../parts/Icon.tsx';
import { flagWords } from '../trace/readout.ts';
import styles from './CaptureList.module.css';
import { type CaptureRow, concernWords } from './capture-row.ts';

interface CaptureLineProps {
  readonly id: string;
  readonly row: CaptureRow;
  readonly place: number;
  readonly count: number;
  readonly top: number;
  readonly height: number;
  /** Where the keyboard stands in the list. */
  readonly active: boolean;
  /** Shown on the trace. */
  readonly chosen: boolean;
  /** Its number among those laid over the trace; `null` where it is not. */
  readonly overlayNumber: number | null;
  readonly style: FigureStyle;
}

const stateIcons: Record<CaptureRow['state'], IconName | null> = {
  ready: null,
  asking: 'wait',
  broken: 'cross',
  missing: 'search',
  changed: 'doubt',
};

/** One line of the list: its name, what is known of it, and what is doubtful, in words. */
export const CaptureLine = memo(function CaptureLine(props: CaptureLineProps) {
  const { id, row, place, count, top, height, active, chosen, overlayNumber, style } = props;
  const { name, kind, state, flags } = row;
  const known = knownWords(row, style, flags.length > 0);
  const concern = concernWords(row);
  const flagged = flags.map(flagWords).join(', ');
  const icon = stateIcons[state];
  return (
    // biome-ignore lint/a11y/useFocusableInteractive: the list has the focus and says which line is active
    <div
      className={styles.line}
      id={id}
      role="option"
      aria-selected={chosen}
      {...(kind === 'capture' ? { 'aria-checked': overlayNumber !== null } : {})}
      aria-setsize={count}
      aria-posinset={place + 1}
      data-place={place}
      data-active={active}
      data-chosen={chosen}
      data-state={state}
      style={{ height, transform: `translateY(${top}px)` }}
      title={[name, knownWords(row, style, false), concern, flagged].filter(Boolean).join('\n')}
    >
      <span className={styles.name}>
        {icon !== null && <Icon name={icon} />}
        <Name name={name} />
      </span>
      {kind === 'capture' && (
        <span className={styles.over} data-overlay={overlayNumber !== null} title="Lay over the trace (Space)">
          {overlayNumber === null ? <Icon name="add" /> : overlayNumber}
          {overlayNumber !== null && <span className={styles.unseen}>, laid over the trace</span>}
        </span>
      )}
      <span className={styles.facts}>
        {concern === null ? known : <span className={styles.concern}>{concern}</span>}
        {flagged !== '' && concern === null && (
          <span className={styles.flags}>
            {known !== '' && ' · '}
            {flagged}
          </span>
        )}
      </span>
    </div>
  );
});

/** The end of a long name tells captures apart, so it is the beginning that is left out. */
function Name({ name }: { readonly name: string }) {
  const cut = Math.max(0, name.length - 14);
  return (
    <>
      {/* Read out whole: two pieces would be two words. */}
      <span className={styles.unseen}>{name}</span>
      <span className={styles.words} aria-hidden="true">
        <span className={styles.begin}>{name.slice(0, cut)}</span>
        <span className={styles.end}>{name.slice(cut)}</span>
      </span>
    </>
  );
}

/** Position, time of day, gain: what is known, in one line; `short` leaves room for flags behind it. */
function knownWords({ positionMm, takenAt, gainDb }: CaptureRow, style: FigureStyle, short: boolean): string {
  return [
    positionMm === null ? null : figureWithUnit(positionMm, 'length', 2, style),
    takenAt === null ? null : (/\d{2}:\d{2}/.exec(takenAt)?.[0] ?? takenAt),
    gainDb === null || short ? null : figureWithUnit(gainDb, 'level', Number.isInteger(gainDb) ? 0 : 1, style),
  ]
    .filter((part) => part !== null)
    .join(' · ');
}
