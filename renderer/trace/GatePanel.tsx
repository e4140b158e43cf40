import { flagTexts } from '../../core/flag.ts';
import type { Reading } from '../../core/gate/reading.ts';
import { type FigureStyle, figureWithUnit, quantityText, unitSign } from '../../core/units/figure-style.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { QuantityField } from '../parts/QuantityField.tsx';
import styles from './GatePanel.module.css';
import { alongAxis, endOf, fieldText, measureOf, withEndRead, withNameRead, withThresholdRead } from './gate-fields.ts';
import { flagWords } from './readout.ts';
import type { GateFigure, GatePanelProps } from './trace-props.ts';

const axes = [
  { id: 'path', label: 'Sound path' },
  { id: 'time', label: 'Time' },
] as const;

/** The selected gate's exact numbers, and what it reads, with what to do about each doubt. */
export function GatePanel({ gate, gates, reading, calibration, style, onGateEdit, onAsk, onClose }: GatePanelProps) {
  const change = (next: typeof gate) => onGateEdit({ kind: 'change-gate', name: gate.name, gate: next }, 'now');
  const measure = measureOf(gate);
  const unit = unitSign(measure, style);
  return (
    <section className={styles.panel} aria-label={`Gate ${gate.name}`}>
      <div className={styles.fields}>
        <div className={styles.name}>
          <QuantityField
            label="Gate"
            id="gate-name"
            value={gate}
            shown={({ name }) => name}
            read={(words) => withNameRead(gate, words, gates)}
            onCommit={change}
          />
        </div>
        <Choice
          label="Along"
          options={axes}
          chosen={gate.span.axis}
          isDisabled={calibration === null}
          onChoose={(axis) => calibration !== null && change(alongAxis(gate, axis, calibration))}
        />
        {(['from', 'to'] as const).map((end) => (
          <div key={end} className={styles.number}>
            <QuantityField
              label={`${end === 'from' ? 'From' : 'To'} (${unit})`}
              id={`gate-${end}`}
              value={gate}
              shown={(of) => fieldText(endOf(of, end), measure, style)}
              read={(words) => withEndRead(gate, end, words, calibration, style)}
              onCommit={change}
            />
          </div>
        ))}
        <div className={styles.number}>
          <QuantityField
            label="Threshold (% FSH)"
            id="gate-threshold"
            value={gate}
            shown={(of) => fieldText(of.thresholdPercent, 'percent', style)}
            read={(words) => withThresholdRead(gate, words, style)}
            onCommit={change}
          />
        </div>
      </div>
      <div className={styles.below}>
        {gate.span.axis === 'path' && calibration === null ? (
          <p className={styles.doubt}>
            This gate lies in sound path, and there is no calibration to place it by: calibrate, or give it in time.
          </p>
        ) : (
          <ReadFigures reading={reading} style={style} onAsk={(figure) => onAsk(gate.name, figure)} />
        )}
        <div className={styles.actions}>
          <Button small onPress={() => onGateEdit({ kind: 'remove-gate', name: gate.name }, 'now')}>
            Remove
          </Button>
          <IconButton icon="close" label="Close the gate’s numbers" onPress={onClose} />
        </div>
      </div>
    </section>
  );
}

function ReadFigures({
  reading,
  style,
  onAsk,
}: {
  readonly reading: Reading | null;
  readonly style: FigureStyle;
  onAsk(figure: GateFigure): void;
}) {
  if (reading === null) return <p className={styles.waiting}>Not read yet in this capture</p>;
  const figures: readonly (readonly [GateFigure, string, string | null])[] = [
    ['sound-path', 'Sound path', reading.soundPathMm && quantityText(reading.soundPathMm, 'length', 2, style)],
    ['time', 'Time', reading.timeUs && quantityText(reading.timeUs, 'time', 2, style)],
    [
      'amplitude',
      'Amplitude',
      reading.amplitudePercent === null
        ? null
        : `${isBound(reading) ? 'at least ' : ''}${figureWithUnit(reading.amplitudePercent, 'percent', 1, style)} FSH`,
    ],
    [
      'below-peak',
      'Below the peak',
      reading.belowPeakDb === null ? null : figureWithUnit(reading.belowPeakDb, 'level', 1, style),
    ],
    ['crossing', 'Crossing', reading.crossingUs === null ? null : figureWithUnit(reading.crossingUs, 'time', 3, style)],
  ];
  const known = figures.filter(([, , text]) => text !== null);
  return (
    <div className={styles.read}>
      {known.length > 0 && (
        <dl className={styles.reading}>
          {known.map(([figure, name, text]) => (
            <div key={figure}>
              <dt>{name}</dt>
              <dd>
                <button type="button" className={styles.figure} onClick={() => onAsk(figure)}>
                  {text}
                </button>
              </dd>
            </div>
          ))}
        </dl>
      )}
      {reading.flags.length > 0 && (
        <ul className={styles.flags}>
          {reading.flags.map((flag) => (
            <li key={flag}>
              <b>{flagWords(flag)}</b> {flagTexts[flag].sentence} <i>{flagTexts[flag].advice}</i>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function isBound({ flags }: Reading): boolean {
  return flags.includes('saturated') || flags.includes('cut-by-gate');
}
