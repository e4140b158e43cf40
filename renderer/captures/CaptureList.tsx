import { useVirtualizer } from '@tanstack/react-virtual';
import {
  type KeyboardEvent,
  type MouseEvent,
  type ReactNode,
  useDeferredValue,
  useEffect,
  useId,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Toggle } from '../parts/Choice.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import { grouped } from '../parts/grouped.ts';
import { Icon } from '../parts/Icon.tsx';
import { placeAfterKey } from '../series/select-by-key.ts';
import { CaptureLine } from './CaptureLine.tsx';
import styles from './CaptureList.module.css';
import type { CaptureRow } from './capture-row.ts';
import { filteredRows, rowBeginning, type SortBy, sortedRows } from './filter-and-sort.ts';

export interface CaptureListProps {
  readonly rows: readonly CaptureRow[];
  readonly selected: CaptureId | null;
  onSelect(captureId: CaptureId): void;
  /** In the order in which they were laid over the trace. */
  readonly overlaid: readonly CaptureId[];
  onOverlay(captureIds: readonly CaptureId[]): void;
  /** A file that gave no captures was chosen: where its problem is mended. */
  onConcern(file: string): void;
  readonly style: FigureStyle;
  /** What is offered where there is nothing yet: ways to open captures. */
  readonly actions?: ReactNode;
  /** Files are being read; their captures come as they are ready. */
  readonly reading: { readonly done: number; readonly total: number } | null;
  readonly filter?: string;
  readonly sort: SortBy;
  onSort(sort: SortBy): void;
}

const sorts = [
  { id: 'name', label: 'Name' },
  { id: 'time', label: 'Time' },
  { id: 'position', label: 'Position' },
] as const;

/** All captures, however many: filtered by words, sorted, one chosen, several laid over the trace. */
export function CaptureList(props: CaptureListProps) {
  const { rows, overlaid, onOverlay, reading, actions, sort, onSort } = props;
  const [filter, setFilter] = useState(props.filter ?? '');
  const words = useDeferredValue(filter);
  const sorted = useMemo(() => sortedRows(rows, sort), [rows, sort]);
  const shown = useMemo(() => filteredRows(sorted, words), [sorted, words]);
  const toList = useRef<HTMLDivElement>(null);
  const fieldId = useId();

  if (rows.length === 0 && reading === null)
    return (
      <section className={styles.list} aria-label="Captures">
        <EmptyState title="No captures yet" actions={actions}>
          Open files or drop them anywhere on the window: saved A-scans as CSV, with or without a manifest.
        </EmptyState>
      </section>
    );

  return (
    <section className={styles.list} aria-label="Captures">
      <div className={styles.head}>
        <label className={styles.filter} htmlFor={fieldId}>
          <Icon name="search" />
          <span className={styles.unseen}>Filter captures by words</span>
          <input
            id={fieldId}
            type="search"
            placeholder="Filter"
            value={filter}
            autoComplete="off"
            spellCheck={false}
            onChange={(event) => setFilter(event.target.value)}
            onKeyDown={(event) => {
              if (event.key === 'Escape' && filter !== '') setFilter('');
              else if (event.key === 'ArrowDown') toList.current?.focus();
              else return;
              event.preventDefault();
            }}
          />
        </label>
        <Toggle label="Sort by" hideLabel options={sorts} chosen={sort} onChoose={onSort} />
      </div>
      <p className={styles.count} role="status">
        {countWords(shown, rows)}
        {reading !== null &&
          ` · reading ${Math.floor(reading.done)} of ${reading.total} ${reading.total === 1 ? 'file' : 'files'}`}
      </p>
      {shown.length === 0 && rows.length > 0 ? (
        <EmptyState title="Nothing matches" actions={<Button onPress={() => setFilter('')}>Clear the filter</Button>}>
          No capture has “{words.trim()}” in its name, probe, block, state or flags.
        </EmptyState>
      ) : (
        <Rows {...props} shown={shown} arrangement={`${sort} ${words}`} frame={toList} />
      )}
      {overlaid.length > 0 && (
        <p className={styles.overlaid}>
          {overlaid.length} laid over the trace
          <Button kind="quiet" small onPress={() => onOverlay([])}>
            Take off
          </Button>
        </p>
      )}
    </section>
  );
}

function countWords(shown: readonly CaptureRow[], all: readonly CaptureRow[]): string {
  const capturesIn = (rows: readonly CaptureRow[]) => rows.filter(({ kind }) => kind === 'capture').length;
  const [few, many] = [capturesIn(shown), capturesIn(all)];
  const files = shown.length - few;
  const counted = `${few === many ? '' : `${grouped(few)} of `}${grouped(many)} ${many === 1 ? 'capture' : 'captures'}`;
  return files === 0 ? counted : `${counted} · ${grouped(files)} ${files === 1 ? 'file' : 'files'} without any`;
}

/** What is typed within this time belongs to one word. */
const typedTogetherMs = 800;

function Rows({
  shown,
  selected,
  onSelect,
  overlaid,
  onOverlay,
  onConcern,
  style,
  arrangement,
  frame,
}: CaptureListProps & {
  readonly shown: readonly CaptureRow[];
  /** Another one for another filter or order. */
  readonly arrangement: string;
  readonly frame: { readonly current: HTMLDivElement | null };
}) {
  const idStem = useId();
  const [rowPx] = useState(() => 2.9 * Number.parseFloat(getComputedStyle(document.documentElement).fontSize));
  const placeOf = useMemo(() => new Map(shown.map(({ id }, place) => [id, place])), [shown]);
  const overlayNumber = useMemo(() => new Map(overlaid.map((id, i) => [id, i + 1])), [overlaid]);
  const [activeId, setActiveId] = useState<string | null>(selected);
  const active = (activeId === null ? null : placeOf.get(activeId)) ?? null;
  const typed = useRef({ text: '', atMs: 0 });
  const virtual = useVirtualizer({
    count: shown.length,
    getScrollElement: () => frame.current,
    estimateSize: () => rowPx,
    overscan: 6,
    getItemKey: (place) => shown[place]!.id,
  });

  // The choice may come from elsewhere: from the picture, or from a figure that was asked; and it stays in sight when others come about it.
  const followed = useRef<string | null>(null);
  const arranged = useRef(arrangement);
  useEffect(() => {
    if (followed.current === selected && arranged.current === arrangement) return;
    const place = selected === null ? null : placeOf.get(selected);
    // Its line is still to come: it is followed there, and not to where it would have been.
    if (place === undefined) return;
    followed.current = selected;
    arranged.current = arrangement;
    if (place === null) return;
    setActiveId(selected);
    virtual.scrollToIndex(place, { align: 'auto' });
  }, [selected, arrangement, placeOf, virtual]);

  const moveTo = (place: number | null) => {
    const row = place === null ? undefined : shown[place];
    if (place === null || row === undefined) return;
    setActiveId(row.id);
    virtual.scrollToIndex(place, { align: 'auto' });
  };
  const choose = ({ kind, id, file }: CaptureRow) => {
    setActiveId(id);
    followed.current = kind === 'capture' ? id : followed.current;
    if (kind === 'capture') onSelect(id);
    else onConcern(file);
  };
  const overlay = ({ kind, id }: CaptureRow) => {
    if (kind === 'capture') onOverlay(overlayNumber.has(id) ? overlaid.filter((one) => one !== id) : [...overlaid, id]);
  };

  function onKeyDown(event: KeyboardEvent) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const page = Math.max(1, Math.floor((frame.current?.clientHeight ?? rowPx) / rowPx) - 1);
    const place = placeAfterKey(event.key, active, shown.length, { back: 'ArrowUp', on: 'ArrowDown', page });
    const row = active === null ? undefined : shown[active];
    if (place !== null) moveTo(place);
    else if (event.key === 'Enter' && row !== undefined) choose(row);
    else if (event.key === ' ' && row !== undefined) overlay(row);
    else if (event.key.length === 1 && event.key !== ' ') {
      const together = event.timeStamp - typed.current.atMs < typedTogetherMs;
      typed.current = { text: together ? typed.current.text + event.key : event.key, atMs: event.timeStamp };
      moveTo(rowBeginning(shown, typed.current.text, active ?? -1));
    } else return;
    event.preventDefault();
  }

  function onClick(event: MouseEvent) {
    const target = event.target as HTMLElement;
    const place = Number(target.closest<HTMLElement>('[data-place]')?.dataset.place ?? Number.NaN);
    const row = shown[place];
    if (row === undefined) return;
    if (target.closest('[data-overlay]') !== null || event.ctrlKey || event.metaKey) {
      setActiveId(row.id);
      overlay(row);
    } else choose(row);
  }

  const rowId = (place: number) => `${idStem}-${place}`;
  const items = virtual.getVirtualItems();
  const inSight = active !== null && items.some(({ index }) => index === active);
  return (
    <div
      className={styles.rows}
      ref={frame}
      role="listbox"
      tabIndex={0}
      aria-label="Captures: Enter chooses, Space lays over the trace"
      aria-multiselectable="true"
      {...(inSight ? { 'aria-activedescendant': rowId(active) } : {})}
      onKeyDown={onKeyDown}
      onClick={onClick}
      onFocus={() => active === null && moveTo(0)}
    >
      <div role="presentation" style={{ height: virtual.getTotalSize(), position: 'relative' }}>
        {items.map(({ index, key, start, size }) => (
          <CaptureLine
            key={key}
            id={rowId(index)}
            row={shown[index]!}
            place={index}
            count={shown.length}
            top={start}
            height={size}
            active={index === active}
            chosen={shown[index]!.id === selected}
            overlayNumber={overlayNumber.get(shown[index]!.id) ?? null}
            style={style}
          />
        ))}
      </div>
    </div>
  );
}
