import { useState } from 'react';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { Reflector } from '../../core/review/review.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { IconButton } from '../parts/Button.tsx';
import { anything, type Bound, notNegative, positive } from './field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from './QuantityInput.tsx';
import styles from './Step.module.css';
import own from './WindowTable.module.css';

/** Known distances, each with its tolerance and the window its echo is looked for in. */
export function WindowTable({
  list,
  style,
  hasTolerance,
  onList,
}: {
  readonly list: readonly Reflector[];
  readonly style: FigureStyle;
  /** Whether the distances' tolerances count. */
  readonly hasTolerance: boolean;
  readonly onList: (list: readonly Reflector[]) => void;
}) {
  const ordered = (next: readonly Reflector[]) => onList(next.toSorted((a, b) => a.distanceMm - b.distanceMm));
  const row = [own.row, hasTolerance ? own.wide : ''].join(' ');
  return (
    <>
      <div className={row} aria-hidden="true">
        <span>Distance ({unitSign('length', style)})</span>
        {hasTolerance && <span>± ({unitSign('length', style)})</span>}
        <span>From (µs)</span>
        <span>To (µs)</span>
      </div>
      {list.map((reflector, i) => {
        const change = (part: Partial<Reflector>) => ordered(list.with(i, { ...reflector, ...part }));
        const of = figureWords(figures.statedMm(reflector.distanceMm, style), style);
        return (
          <fieldset
            key={`${reflector.distanceMm} ${reflector.capture}`}
            aria-label={`Reflector at ${of}`}
            className={row}
          >
            <QuantityInput
              label="Distance"
              hideLabel
              measure="length"
              bound={positive}
              style={style}
              value={reflector.distanceMm}
              onValue={(distanceMm) => change({ distanceMm })}
            />
            {hasTolerance && (
              <QuantityInput
                label="Tolerance ±"
                hideLabel
                measure="length"
                bound={notNegative}
                style={style}
                value={reflector.toleranceMm}
                onValue={(toleranceMm) => change({ toleranceMm })}
              />
            )}
            <QuantityInput
              label="From"
              hideLabel
              measure="time"
              bound={before(reflector.toUs)}
              style={style}
              value={reflector.fromUs}
              onValue={(fromUs) => change({ fromUs })}
            />
            <QuantityInput
              label="To"
              hideLabel
              measure="time"
              bound={after(reflector.fromUs)}
              style={style}
              value={reflector.toUs}
              onValue={(toUs) => change({ toUs })}
            />
            <IconButton
              icon="remove"
              label={`Take out the reflector at ${of}`}
              onPress={() => onList(list.toSpliced(i, 1))}
            />
          </fieldset>
        );
      })}
      <NewWindow
        row={row}
        hasTolerance={hasTolerance}
        style={style}
        taken={list}
        onAdd={(reflector) => ordered([...list, reflector])}
      />
      <p className={styles.note}>
        An echo on the trace becomes a reflector by a click on its number; here its distance and window can be stated.
      </p>
    </>
  );
}

const before = (toUs: number): Bound => ({ holds: (from) => from < toUs, sentence: 'begin before the end' });
const after = (fromUs: number): Bound => ({ holds: (to) => to > fromUs, sentence: 'end after the beginning' });

/** Nothing is filled in beforehand: a distance that nobody stated would be fitted like any other. */
function NewWindow({
  row,
  hasTolerance,
  style,
  taken,
  onAdd,
}: {
  readonly row: string;
  readonly hasTolerance: boolean;
  readonly style: FigureStyle;
  readonly taken: readonly Reflector[];
  readonly onAdd: (reflector: Reflector) => void;
}) {
  const [distanceMm, setDistance] = useState<number | null>(null);
  const [fromUs, setFrom] = useState<number | null>(null);
  const [toUs, setTo] = useState<number | null>(null);
  const free: Bound = {
    holds: (value) => value > 0 && !taken.some((reflector) => reflector.distanceMm === value),
    sentence: 'give a distance above 0 that does not stand here already',
  };
  const [toleranceMm, setTolerance] = useState<number | null>(null);
  const isWhole = distanceMm !== null && fromUs !== null && toUs !== null && fromUs < toUs;
  const add = () => {
    if (!isWhole) return;
    onAdd({ distanceMm, toleranceMm: toleranceMm ?? 0, fromUs, toUs, capture: null });
    for (const empty of [setDistance, setTolerance, setFrom, setTo]) empty(null);
  };
  return (
    <fieldset aria-label="Another reflector" className={row}>
      <OptionalQuantityInput
        label="Distance"
        hideLabel
        measure="length"
        bound={free}
        style={style}
        value={distanceMm}
        onValue={setDistance}
      />
      {hasTolerance && (
        <OptionalQuantityInput
          label="Tolerance ±"
          hideLabel
          measure="length"
          bound={notNegative}
          style={style}
          value={toleranceMm}
          placeholder="exact"
          onValue={setTolerance}
        />
      )}
      <OptionalQuantityInput
        label="From"
        hideLabel
        measure="time"
        bound={toUs === null ? anything : before(toUs)}
        style={style}
        value={fromUs}
        onValue={setFrom}
      />
      <OptionalQuantityInput
        label="To"
        hideLabel
        measure="time"
        bound={fromUs === null ? anything : after(fromUs)}
        style={style}
        value={toUs}
        onValue={setTo}
      />
      <IconButton icon="add" label="Add this reflector" isDisabled={!isWhole} onPress={add} />
    </fieldset>
  );
}
