import { useState } from 'react';
import type { Echo } from '../../core/signal/echoes.ts';
import { type FigureStyle, figureWithUnit, readFigure, unitSign } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Field } from '../parts/Field.tsx';
import { Modal } from '../parts/Modal.tsx';
import styles from './ReflectorDialog.module.css';
import { flagWords } from './readout.ts';

/** Asks how far away the reflector of an echo is, so that the echo can serve the calibration. */
export function ReflectorDialog({
  echo,
  number,
  replaces,
  style,
  onTake,
  onClose,
}: {
  readonly echo: Echo;
  readonly number: number;
  /** What of the present calibration would be given up, in a sentence; `null` where the reflector is simply added. */
  readonly replaces: string | null;
  readonly style: FigureStyle;
  onTake(distanceMm: number, toleranceMm: number): void;
  onClose(): void;
}) {
  const [distance, setDistance] = useState('');
  const [tolerance, setTolerance] = useState('0');
  const [tried, setTried] = useState(false);
  const read = { distance: readPositive(distance, style), tolerance: readTolerance(tolerance, style) };
  const unit = unitSign('length', style);

  function take(): void {
    setTried(true);
    if (read.distance.ok && read.tolerance.ok) onTake(read.distance.value, read.tolerance.value);
  }

  return (
    <Modal
      title={`Echo ${number} as a reflector`}
      isOpen
      onClose={onClose}
      width="small"
      actions={
        <>
          <Button onPress={onClose}>Cancel</Button>
          <Button kind="main" onPress={take}>
            Add to the calibration
          </Button>
        </>
      }
    >
      <form
        className={styles.form}
        onSubmit={(event) => {
          event.preventDefault();
          take();
        }}
      >
        <p>
          The echo at {figureWithUnit(echo.timeUs, 'time', 3, style)},{' '}
          {figureWithUnit(echo.amplitudePercent, 'percent', 1, style)} high
          {echo.flags.length > 0 && <span className={styles.doubt}>: {echo.flags.map(flagWords).join(', ')}</span>}
        </p>
        <Field
          label={`One-way sound path to the reflector (${unit})`}
          autoFocus
          value={distance}
          onChange={setDistance}
          error={tried && !read.distance.ok ? read.distance.sentence : null}
        />
        <Field
          label={`Tolerance, ± (${unit})`}
          description="Of the block’s dimension; 0 takes the distance as exact"
          value={tolerance}
          onChange={setTolerance}
          error={tried && !read.tolerance.ok ? read.tolerance.sentence : null}
        />
        {replaces !== null && <p className={styles.doubt}>{replaces}</p>}
        <button type="submit" hidden>
          Add
        </button>
      </form>
    </Modal>
  );
}

function readPositive(words: string, style: FigureStyle) {
  if (words.trim() === '') return { ok: false as const, sentence: 'Give the distance, as in 100mm or 4in' };
  const value = readFigure(words, 'length', style);
  return value.ok && !(value.value > 0) ? { ok: false as const, sentence: 'A distance lies above 0' } : value;
}

function readTolerance(words: string, style: FigureStyle) {
  const value = readFigure(words, 'length', style);
  return value.ok && value.value < 0 ? { ok: false as const, sentence: 'A tolerance is 0 or more' } : value;
}
