import type { CalibrationDifference } from '../../core/calibration/compare.ts';
import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import type { CaptureId } from '../../core/capture/capture.ts';
import { materialNames } from '../../core/material/velocities.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { CalibrationFit, CalibrationGiven } from '../../core/review/review.ts';
import type { CalibrationResult } from '../../core/steps/calibrate.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { AcceptStep } from './AcceptStep.tsx';
import { CapturePicker } from './CapturePicker.tsx';
import { blockOf } from './calibration-decision.ts';
import { type CaptureChoice, chosenInWords } from './capture-choices.ts';
import { EchoesStep } from './EchoesStep.tsx';
import { FitStep } from './FitStep.tsx';
import { percentOfScreen } from './field-reading.ts';
import { KnownReflectorsStep } from './KnownReflectorsStep.tsx';
import { QuantityInput } from './QuantityInput.tsx';
import styles from './Step.module.css';
import { Step, Steps } from './Step.tsx';

export interface CalibrationStepsProps {
  readonly choices: readonly CaptureChoice[];
  /** What is being decided; it is not in force before it is accepted. */
  readonly decision: CalibrationFit;
  readonly onDecision: (decision: CalibrationFit) => void;
  /** What the decision gives; `null` before the first fit and where there is nothing to fit yet. */
  readonly result: CalibrationResult | null;
  readonly isFitting: boolean;
  /** The calibration in force; `null` where there is none. */
  readonly inForce: {
    readonly calibration: DistanceCalibration | null;
    readonly given: CalibrationGiven | null;
  } | null;
  /** New less the one in force; `null` where one of the two is missing or they are the same decision. */
  readonly difference: CalibrationDifference | null;
  /** The decision is not what is in force. */
  readonly isChanged: boolean;
  readonly onAccept: () => void;
  readonly onDiscard: () => void;
  /** What is wrong with the saved calibration that was given last. */
  readonly problems: readonly Problem[];
  /** A saved calibration's document was given. */
  readonly onSavedCalibration: (file: File) => void;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
  /** Shows an echo on the trace. */
  readonly onShowEcho: (captureId: CaptureId, timeUs: number) => void;
  readonly style: FigureStyle;
}

/** The distance calibration as a column of steps. */
export function CalibrationSteps(props: CalibrationStepsProps) {
  return (
    <Steps label="Distance calibration">
      <CapturesStep {...props} />
      <KnownReflectorsStep {...props} />
      <MannerStep {...props} />
      <EchoesStep {...props} />
      <FitStep {...props} />
      <AcceptStep {...props} />
    </Steps>
  );
}

function CapturesStep({ choices, decision, onDecision }: CalibrationStepsProps) {
  const { captures } = decision;
  return (
    <Step
      title="Captures of the block"
      state={captures.length === 0 ? 'needs' : 'found'}
      summary={chosenInWords(captures, 'Choose the captures that were taken on the reference block.')}
      isOpenAtFirst={captures.length === 0}
    >
      <CapturePicker
        label="Captures of the block"
        choices={choices}
        chosen={captures}
        onChosen={(references) => onDecision({ ...decision, captures: [...references] })}
      />
    </Step>
  );
}

const timings = [
  { id: 'peak', label: 'Peak' },
  { id: 'crossing', label: 'Crossing' },
] as const;

const modes = [
  { id: 'transverse', label: 'Transverse' },
  { id: 'longitudinal', label: 'Longitudinal' },
] as const;

const noMaterial = '';
const materialOptions = [
  { id: noMaterial, label: 'Not stated' },
  ...materialNames.map((material) => ({ id: material, label: material })),
];

function MannerStep({ decision, onDecision, style }: CalibrationStepsProps) {
  const { timing, thresholdPercent, nominal } = decision;
  const block = blockOf(decision);
  const material = nominal === null ? 'material not stated' : `${nominal.material}, ${nominal.mode}`;
  return (
    <Step
      title="How echoes are read"
      state="found"
      summary={`${timing === 'peak' ? 'By the peak' : 'By the first crossing'}, threshold ${thresholdPercent} % FSH, ${material}`}
      isOpenAtFirst={false}
    >
      <div className={styles.row}>
        <Toggle
          label="Timed by"
          options={timings}
          chosen={timing}
          onChoose={(id) => onDecision({ ...decision, timing: id })}
        />
        <QuantityInput
          label="Threshold"
          measure="percent"
          bound={percentOfScreen}
          style={style}
          value={thresholdPercent}
          onValue={(value) => onDecision({ ...decision, thresholdPercent: value })}
        />
      </div>
      <Choice
        label="Material"
        options={materialOptions}
        chosen={nominal?.material ?? noMaterial}
        onChoose={(id) =>
          onDecision({
            ...decision,
            nominal:
              id === noMaterial ? null : { material: id, mode: nominal?.mode ?? block?.nominal.mode ?? 'transverse' },
          })
        }
      />
      {nominal !== null && (
        <Toggle
          label="Wave mode"
          options={modes}
          chosen={nominal.mode}
          onChoose={(mode) => onDecision({ ...decision, nominal: { ...nominal, mode } })}
        />
      )}
    </Step>
  );
}
