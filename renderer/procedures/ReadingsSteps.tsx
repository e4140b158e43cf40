import { useState } from 'react';
import type { Evaluation } from '../../core/evaluate.ts';
import type { Gate, Timing } from '../../core/gate/gate.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { ReadingDecision } from '../../core/review/review.ts';
import { mixedTiming } from '../../core/steps/mixed-timing.ts';
import type { SeriesResult } from '../../core/steps/read.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { Toggle } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Modal } from '../parts/Modal.tsx';
import { toldOnce } from '../parts/told-once.ts';
import { CapturePicker } from './CapturePicker.tsx';
import { type CaptureChoice, chosenInWords } from './capture-choices.ts';
import { DoubtNotes } from './DoubtNote.tsx';
import { angleOfBeam, notNegative, positive } from './field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from './QuantityInput.tsx';
import own from './ReadingsSteps.module.css';
import { ReadingsTable, type ReadingsTableProps } from './ReadingsTable.tsx';
import styles from './Step.module.css';
import { Step, Steps } from './Step.tsx';

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

function SeriesStep({ evaluation, decision, onAsk, asked, style }: ReadingsStepsProps) {
  const series = evaluation?.readings?.series ?? [];
  if (decision.series === null || series.length === 0) return null;
  const doubts = series.flatMap(({ gate, doubts: own }) =>
    own.map((sentence) => ({ sentence: series.length > 1 ? `Gate ‘${gate}’: ${sentence}` : sentence, advice: null })),
  );
  return (
    <Step
      title="The series"
      state={doubts.length > 0 ? 'doubt' : 'found'}
      summary={doubts.length > 0 ? 'What is known of the peak, and what is doubtful about it.' : 'The peak was fitted.'}
    >
      {series.map((one) => (
        <SeriesFigures key={one.gate} series={one} onAsk={onAsk} asked={asked} style={style} />
      ))}
      <DoubtNotes label="Doubts about the series" doubts={doubts} />
    </Step>
  );
}

function SeriesFigures({
  series,
  onAsk,
  asked,
  style,
}: {
  readonly series: SeriesResult;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
  readonly style: FigureStyle;
}) {
  const { gate, peak, pathRangeMm } = series;
  const figure = (of: 'peak' | 'peak-position' | 'path-range', name: string, text: string) => (
    <Figure
      name={name}
      text={text}
      asked={{ kind: 'series', gate, figure: of }}
      onAsk={onAsk}
      isAsked={asked?.kind === 'series' && asked.gate === gate && asked.figure === of}
    />
  );
  if (peak === null) return null;
  const height = figureWords(figures.amplitudePercent(peak.amplitudePercent, style), style);
  const gain =
    peak.referenceGainDb === null ? '' : ` at ${figureWords(figures.levelDb(peak.referenceGainDb, style), style)}`;
  return (
    <dl className={styles.figures}>
      <dt>Gate</dt>
      <dd>{gate}</dd>
      <dt>{peak.method === 'parabola' ? 'Fitted peak' : 'Highest reading'}</dt>
      <dd>{figure('peak', 'Peak', `${peak.isLowerBound ? '≥ ' : ''}${height}${gain}`)}</dd>
      {peak.positionMm !== null && (
        <>
          <dt>Position</dt>
          <dd>
            {figure(
              'peak-position',
              'Position of the peak',
              figureWords(figures.lengthMm(peak.positionMm, style), style),
            )}
          </dd>
        </>
      )}
      {pathRangeMm !== null && (
        <>
          <dt>Range of paths</dt>
          <dd>
            {figure('path-range', 'Range of sound paths', figureWords(figures.lengthMm(pathRangeMm, style), style))}
          </dd>
        </>
      )}
    </dl>
  );
}

function TableStep(props: ReadingsStepsProps) {
  const { readings, isEvaluating, evaluation, calibrationTiming, decision } = props;
  const [isWide, setWide] = useState(false);
  const doubtful = readings.filter((reading) => reading.flags.length > 0).length;
  const problems = toldOnce(evaluation?.problems ?? []).map((sentence) => ({ sentence, advice: null }));
  const mixed = mixedTiming(calibrationTiming, decision.timing);
  const isDoubtful = doubtful > 0 || mixed !== null;
  return (
    <Step
      title="What was read"
      state={isEvaluating ? 'working' : readings.length === 0 ? 'needs' : isDoubtful ? 'doubt' : 'found'}
      summary={
        readings.length === 0
          ? 'Needs captures and a gate.'
          : doubtful === 0
            ? `${readings.length} readings, none doubtful.`
            : `${readings.length} readings, ${doubtful} with a doubt.`
      }
    >
      <DoubtNotes label="Problems" doubts={problems} />
      {mixed !== null && (
        <DoubtNotes label="Doubts about all paths" doubts={[{ sentence: `All paths: ${mixed}.`, advice: null }]} />
      )}
      <div className={own.table}>
        <ReadingsTable {...props} />
      </div>
      <div className={styles.actions}>
        <Button onPress={() => setWide(true)} isDisabled={readings.length === 0}>
          Show the table large
        </Button>
      </div>
      <Modal title="Readings" width="wide" isOpen={isWide} onClose={() => setWide(false)}>
        <div className={own.whole}>
          <ReadingsTable
            {...props}
            onAsk={(asked) => {
              setWide(false);
              props.onAsk(asked);
            }}
          />
        </div>
      </Modal>
    </Step>
  );
}
