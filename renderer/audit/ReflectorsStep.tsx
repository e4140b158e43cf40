import { figures, figureWords } from '../../core/origin/figure.ts';
import { Button } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { CapturePicker } from '../procedures/CapturePicker.tsx';
import { chosenInWords } from '../procedures/capture-choices.ts';
import { reflectorsOf } from '../procedures/drift-decision.ts';
import { percentOfScreen } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { WindowTable } from '../procedures/WindowTable.tsx';
import type { OfCurve } from './SensitivitySteps.tsx';
import { kindOptions } from './sensitivity-decision.ts';

/** The captures of reference reflectors of one kind, and where each stands. */
export function ReflectorsStep({ choices, decision, curve, changeCurve, change, calibration, style }: OfCurve) {
  const { captures, reflectors, kind, thresholdPercent } = curve;
  const isReady = captures.length > 0 && reflectors.length >= 3;
  const list = reflectors.map(({ distanceMm }) => figureWords(figures.statedMm(distanceMm, style), style)).join(', ');
  return (
    <Step
      title="Reference reflectors"
      state={isReady ? 'found' : decision === null ? 'optional' : 'needs'}
      summary={
        captures.length === 0
          ? 'Choose the captures of reflectors of one kind at three distances or more.'
          : reflectors.length === 0
            ? `${chosenInWords(captures, '')}; give the distances with their windows.`
            : `${list} in ${chosenInWords(captures, '')}`
      }
      isOpenAtFirst={!isReady}
    >
      <CapturePicker
        label="Captures of the reflectors"
        choices={choices}
        chosen={captures}
        onChosen={(references) => changeCurve({ captures: [...references] })}
      />
      <Choice label="Kind" options={kindOptions} chosen={kind} onChoose={(id) => changeCurve({ kind: id })} />
      {calibration !== null && calibration.points.length > 0 && reflectors.length === 0 && (
        <div className={styles.actions}>
          <Button onPress={() => changeCurve({ reflectors: [...reflectorsOf(calibration)] })}>
            Take the calibration’s reflectors
          </Button>
        </div>
      )}
      <WindowTable
        hasTolerance
        list={reflectors}
        style={style}
        onList={(next) => changeCurve({ reflectors: [...next] })}
      />
      <QuantityInput
        label="Threshold"
        measure="percent"
        bound={percentOfScreen}
        style={style}
        value={thresholdPercent}
        onValue={(value) => changeCurve({ thresholdPercent: value })}
      />
      {decision?.curve != null && (
        <div className={styles.actions}>
          <Button small onPress={() => change({ curve: null })}>
            Leave the curve out
          </Button>
        </div>
      )}
    </Step>
  );
}
