import type { Evaluation } from '../../core/evaluate.ts';
import type { Gate, Timing } from '../../core/gate/gate.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { ReadingDecision } from '../../core/review/review.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { Toggle } from '../parts/Choice.tsx';
import { CapturePicker } from './CapturePicker.tsx';
import { type CaptureChoice, chosenInWords } from './capture-choices.ts';
import { DoubtNotes } from './DoubtNote.tsx';
import { angleOfBeam, notNegative, positive } from './field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from './QuantityInput.tsx';
import own from './ReadingsSteps.module.css';
import type { ReadingsTableProps } from './ReadingsTable.tsx';
import { SeriesStep } from './SeriesStep.tsx';
import styles from './Step.module.css';
import { Step, Steps } from './Step.tsx';
import { TableStep } from './TableStep.tsx';

export interface ReadingsStepsProps extends ReadingsTableProps {
  readonly choices: readonly CaptureChoice[];
  readonly decision: ReadingDecision;
  readonly onDecision: (decision: ReadingDecision) => void;
  /** By which the calibration in force was timed; `null` where there is none. */
  readonly calibrationTiming: Timing | null;
  readonly evaluation: Evaluation | null;
  readonly isEvaluating: boolean;
  readonly selectedGate: string | null;
  readonly onSelectGate: (name: string) => void;
  readonly onRemoveGate: (name: string) => void;
  /** The next drag on the trace makes a gate. */
  readonly onDrawGate: () => void;
}

/** Reading the part as a column of steps. */
export function ReadingsSteps(props: ReadingsStepsProps) {
  return (
    <Steps label="Readings">
      <CapturesStep {...props} />
      <GatesStep {...props} />
      <PartStep {...props} />
      <SeriesStep {...props} />
      <TableStep {...props} />
    </Steps>
  );
}

function CapturesStep({ choices, decision, onDecision }: ReadingsStepsProps) {
  const { captures } = decision;
  return (
    <Step
      title="Captures of the part"
      state={captures.length === 0 ? 'needs' : 'found'}
      summary={chosenInWords(captures, 'Choose the captures that are to be read.')}
      isOpenAtFirst={captures.length === 0}
    >
      <CapturePicker
        label="Captures of the part"
        choices={choices}
        chosen={captures}
        onChosen={(references) => onDecision({ ...decision, captures: [...references] })}
      />
    </Step>
  );
}

function spanWords({ span, thresholdPercent }: Gate, style: FigureStyle): string {
  const [from, to] =
    span.axis === 'time'
      ? [figures.timeUs(span.fromUs, style), figures.timeUs(span.toUs, style)]
      : [figures.statedMm(span.fromMm, style), figures.statedMm(span.toMm, style)];
  return `${figureWords(from, style)} to ${figureWords(to, style)}, ${thresholdPercent} %`;
}

function GatesStep({
  decision,
  evaluation,
  selectedGate,
  onSelectGate,
  onRemoveGate,
  onDrawGate,
  style,
}: ReadingsStepsProps) {
  const { gates } = decision;
  const needsCalibration =
    gates.some((gate) => gate.span.axis === 'path') && (evaluation?.calibration?.calibration ?? null) === null;
  return (
    <Step
      title="Gates"
      state={gates.length === 0 ? 'needs' : needsCalibration ? 'doubt' : 'found'}
      summary={
        gates.length === 0
          ? 'Draw a gate on the trace where the echo is expected.'
          : gates.map((gate) => gate.name).join(', ')
      }
    >
      <ul className={own.gates}>
        {gates.map((gate) => (
          <li key={gate.name} className={[own.gate, gate.name === selectedGate ? own.chosen : ''].join(' ')}>
            <Button kind="quiet" onPress={() => onSelectGate(gate.name)}>
              <strong>{gate.name}</strong> <span className={own.span}>{spanWords(gate, style)}</span>
            </Button>
            <IconButton icon="remove" label={`Remove gate ${gate.name}`} onPress={() => onRemoveGate(gate.name)} />
          </li>
        ))}
      </ul>
      {needsCalibration && (
        <DoubtNotes
          label="Gates that cannot be placed"
          doubts={[
            {
              sentence: 'A gate in sound path cannot be placed without a calibration.',
              advice: 'Calibrate first, or give the gate in time.',
            },
          ]}
        />
      )}
      <div className={styles.actions}>
        <Button onPress={onDrawGate}>Draw a gate</Button>
      </div>
    </Step>
  );
}

const timings = [
  { id: 'peak', label: 'Peak' },
  { id: 'crossing', label: 'Crossing' },
] as const;

function PartStep({ decision, onDecision, style }: ReadingsStepsProps) {
  const { beam, uAngleDeg, timing, series } = decision;
  const summary =
    beam === null
      ? 'Straight beam: sound paths without depth on a leg.'
      : `${figureWords(figures.angleDeg(beam.angleDeg, style), style)} beam, ${beam.thicknessMm === null ? 'thickness not stated' : `${figureWords(figures.statedMm(beam.thicknessMm, style), style)} thick`}`;
  return (
    <Step title="Beam and part" state="optional" summary={summary} isOpenAtFirst={false}>
      <div className={styles.row}>
        <OptionalQuantityInput
          label="Beam angle"
          measure="angle"
          bound={angleOfBeam}
          style={style}
          value={beam?.angleDeg ?? null}
          placeholder="straight beam"
          onValue={(angleDeg) =>
            onDecision({
              ...decision,
              beam: angleDeg === null ? null : { angleDeg, thicknessMm: beam?.thicknessMm ?? null },
              uAngleDeg: angleDeg === null ? null : uAngleDeg,
            })
          }
        />
        {beam !== null && (
          <>
            <OptionalQuantityInput
              label="u of the angle"
              measure="angle"
              bound={notNegative}
              style={style}
              value={uAngleDeg}
              placeholder="not known"
              onValue={(value) => onDecision({ ...decision, uAngleDeg: value })}
            />
            <OptionalQuantityInput
              label="Thickness"
              measure="length"
              bound={positive}
              style={style}
              value={beam.thicknessMm}
              placeholder="not stated"
              onValue={(thicknessMm) => onDecision({ ...decision, beam: { ...beam, thicknessMm } })}
            />
          </>
        )}
      </div>
      <div className={styles.row}>
        <Toggle
          label="Timed by"
          options={timings}
          chosen={timing}
          onChoose={(id) => onDecision({ ...decision, timing: id })}
        />
        {series !== null && (
          <QuantityInput
            label="Off the peak beyond"
            measure="level"
            bound={positive}
            style={style}
            value={series.offPeakDb}
            onValue={(offPeakDb) => onDecision({ ...decision, series: { offPeakDb } })}
          />
        )}
      </div>
      <label className={own.check}>
        <input
          type="checkbox"
          checked={series !== null}
          onChange={(event) => onDecision({ ...decision, series: event.target.checked ? { offPeakDb: 1 } : null })}
        />
        <span>The captures are a series of one reflector: hold each against the peak</span>
      </label>
    </Step>
  );
}
