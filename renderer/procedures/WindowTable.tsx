import { useState } from 'react';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { Reflector } from '../../core/review/review.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { anything, type Bound, notNegative, positive } from './field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from './QuantityInput.tsx';
import styles from './Step.module.css';

/** Known distances, each with its tolerance and the window its echo is looked for in. */
export function WindowTable({
  list,
  style,
  onList,
}: {
  readonly list: readonly Reflector[];
  readonly style: FigureStyle;
  readonly onList: (list: readonly Reflector[]) => void;
}) {
  const ordered = (next: readonly Reflector[]) => onList(next.toSorted((a, b) => a.distanceMm - b.distanceMm));
  return (
    <>
      {list.map((reflector, i) => {
        const change = (part: Partial<Reflector>) => ordered(list.with(i, { ...reflector, ...part }));
        const of = figureWords(figures.statedMm(reflector.distanceMm, style), style);
        return (
          <fieldset
            key={`${reflector.distanceMm} ${reflector.capture}`}
            aria-label={`Reflector at ${of}`}
            className={styles.row}
          >
            <QuantityInput
              label="Distance"
              measure="length"
              bound={positive}
              style={style}
              value={reflector.distanceMm}
              onValue={(distanceMm) => change({ distanceMm })}
            />
            <QuantityInput
              label="Tolerance ±"
              measure="length"
              bound={notNegative}
              style={style}
              value={reflector.toleranceMm}
              onValue={(toleranceMm) => change({ toleranceMm })}
            />
            <QuantityInput
              label="From"
              measure="time"
              bound={before(reflector.toUs)}
              style={style}
              value={reflector.fromUs}
              onValue={(fromUs) => change({ fromUs })}
            />
            <QuantityInput
              label="To"
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
      <NewWindow style={style} taken={list} onAdd={(reflector) => ordered([...list, reflector])} />
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
  style,
  taken,
  onAdd,
}: {
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
  const isWhole = distanceMm !== null && fromUs !== null && toUs !== null && fromUs < toUs;
  return (
    <fieldset aria-label="Another reflector" className={styles.row}>
      <OptionalQuantityInput
        label="Distance"
        measure="length"
        bound={free}
        style={style}
        value={distanceMm}
        onValue={setDistance}
      />
      <OptionalQuantityInput
        label="From"
        measure="time"
        bound={toUs === null ? anything : before(toUs)}
        style={style}
        value={fromUs}
        onValue={setFrom}
      />
      <OptionalQuantityInput
        label="To"
        measure="time"
        bound={fromUs === null ? anything : after(fromUs)}
        style={style}
        value={toUs}
        onValue={setTo}
      />
      <Button
        isDisabled={!isWhole}
        onPress={() => {
          if (!isWhole) return;
          onAdd({ distanceMm, toleranceMm: 0, fromUs, toUs, capture: null });
          setDistance(null);
          setFrom(null);
          setTo(null);
        }}
      >
        Add
      </Button>
    </fieldset>
  );
}
