import { flagTexts } from '../../core/flag.ts';
import type { Reading } from '../../core/gate/reading.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { type FigureStyle, figureWithUnit, quantityText, unitSign } from '../../core/units/figure-style.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { QuantityField } from '../parts/QuantityField.tsx';
import styles from './GatePanel.module.css';
import { alongAxis, endOf, fieldText, measureOf, withEndRead, withNameRead, withThresholdRead } from './gate-fields.ts';
import { figureNames, flagWords, isLowerBound } from './readout.ts';
import type { GatePanelProps } from './trace-props.ts';

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
    <section className={styles.panel} aria-label={`Numbers of gate ${gate.name}`}>
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
          <ReadFigures reading={reading} style={style} onAsk={onAsk} />
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
  onAsk(asked: FigureAsked): void;
}) {
  if (reading === null) return <p className={styles.waiting}>Not read yet in this capture</p>;
  const { soundPathMm, timeUs, amplitudePercent, belowPeakDb, crossingUs, captureId, gate } = reading;
  const bound = isLowerBound(reading) ? 'at least ' : '';
  const texts: Record<keyof typeof figureNames, string | null> = {
    'sound-path': soundPathMm && quantityText(soundPathMm, 'length', 2, style),
    time: timeUs && quantityText(timeUs, 'time', 2, style),
    amplitude:
      amplitudePercent === null ? null : `${bound}${figureWithUnit(amplitudePercent, 'percent', 1, style)} FSH`,
    'below-peak': belowPeakDb === null ? null : figureWithUnit(belowPeakDb, 'level', 1, style),
    crossing: crossingUs === null ? null : figureWithUnit(crossingUs, 'time', 3, style),
  };
  const known = (['sound-path', 'time', 'amplitude', 'below-peak', 'crossing'] as const).flatMap((figure) => {
    const text = texts[figure];
    return text === null ? [] : [{ figure, text }];
  });
  return (
    <div className={styles.read}>
      {known.length > 0 && (
        <dl className={styles.reading}>
          {known.map(({ figure, text }) => (
            <div key={figure}>
              <dt>{figureNames[figure]}</dt>
              <dd>
                <Figure
                  name={figureNames[figure]}
                  text={text}
                  asked={{ kind: 'reading', captureId, gate, figure }}
                  onAsk={onAsk}
                />
              </dd>
            </div>
          ))}
        </dl>
      )}
      {reading.flags.length > 0 && (
        <ul className={styles.flags}>
          {reading.flags.map((flag) => (
            <li key={flag} title={flagTexts[flag].advice}>
              <b>{flagWords(flag)}</b> {flagTexts[flag].sentence} <i>{flagTexts[flag].advice}</i>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}
