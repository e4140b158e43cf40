import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import { flagTexts } from '../../core/flag.ts';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { CurveDecision, SensitivityDecision } from '../../core/review/sensitivity-decision.ts';
import type { CurvePoint } from '../../core/sensitivity/distance-amplitude-curve.ts';
import type { CurveResult, SensitivityResult } from '../../core/steps/sensitivity.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { toldOnce } from '../parts/told-once.ts';
import { CapturePicker } from '../procedures/CapturePicker.tsx';
import { type CaptureChoice, chosenInWords } from '../procedures/capture-choices.ts';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { reflectorsOf } from '../procedures/drift-decision.ts';
import { anything, notNegative, percentOfScreen, positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step, Steps } from '../procedures/Step.tsx';
import { WindowTable } from '../procedures/WindowTable.tsx';
import { AttenuationStep } from './AttenuationStep.tsx';
import { isSame } from './asked.ts';
import own from './Check.module.css';
import { CurvePlot } from './CurvePlot.tsx';
import { inWords } from './figure-words.ts';
import { HeldReadingsStep } from './HeldReadingsStep.tsx';
import { ProbeFields } from './ProbeFields.tsx';
import { kindOptions, noCurve, noSensitivity } from './sensitivity-decision.ts';

export interface SensitivityStepsProps {
  readonly choices: readonly CaptureChoice[];
  /** `null` where nothing was begun. */
  readonly decision: SensitivityDecision | null;
  readonly onDecision: (decision: SensitivityDecision | null) => void;
  readonly result: SensitivityResult | null;
  readonly calibration: DistanceCalibration | null;
  readonly isEvaluating: boolean;
  /** What keeps a part from being made, files included. */
  readonly problems: readonly Problem[];
  /** What is wrong with the file of levels that was given last. */
  readonly levelProblems: readonly Problem[];
  readonly onLevelsFile: (file: File) => void;
  /** The figure as the core writes it where it is asked. */
  readonly written: (asked: FigureAsked) => string | null;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly onSelect: (captureId: string) => void;
  readonly style: FigureStyle;
}

/** What the steps of the curve work with. */
export interface OfCurve extends SensitivityStepsProps {
  readonly sensitivity: SensitivityDecision;
  readonly curve: CurveDecision;
  readonly changeCurve: (part: Partial<CurveDecision>) => void;
  readonly change: (part: Partial<SensitivityDecision>) => void;
}

/** Reference level, curve, attenuation, and the readings held against the curve, as a column of steps. */
export function SensitivitySteps(props: SensitivityStepsProps) {
  const sensitivity = props.decision ?? noSensitivity;
  const curve = sensitivity.curve ?? noCurve;
  const change = (part: Partial<SensitivityDecision>) => props.onDecision({ ...sensitivity, ...part });
  const of: OfCurve = {
    ...props,
    sensitivity,
    curve,
    change,
    changeCurve: (part) => change({ curve: { ...curve, ...part } }),
  };
  return (
    <Steps label="Sensitivity">
      <ReflectorsStep {...of} />
      <ReferenceStep {...of} />
      <ProbeStep {...of} />
      <CurveStep {...of} />
      <AttenuationStep {...of} />
      <HeldReadingsStep {...of} />
    </Steps>
  );
}

function ReflectorsStep({ choices, decision, curve, changeCurve, change, calibration, style }: OfCurve) {
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

const joined = [
  { id: 'db', label: 'Straight in dB' },
  { id: 'percent', label: 'Straight in %' },
] as const;

function ReferenceStep({ sensitivity, curve, changeCurve, change, result, onAsk, asked, written, style }: OfCurve) {
  const reference = result?.curve?.reference ?? null;
  const gain: FigureAsked = { kind: 'sensitivity', figure: 'reference-gain' };
  const words =
    reference === null
      ? `${curve.referencePercent} % FSH, at the gain at which the highest point stands there.`
      : reference.gainDb === null
        ? `${reference.percent} % FSH; the captures do not say their gain.`
        : `${reference.percent} % FSH at ${inWords(figureWords(figures.levelDb(reference.gainDb, style), style))}${reference.by === 'stated' ? ', as stated' : ', by the highest point'}`;
  return (
    <Step
      title="Reference level"
      state={reference === null ? 'optional' : 'found'}
      summary={words}
      isOpenAtFirst={false}
    >
      <div className={styles.row}>
        <QuantityInput
          label="Reference height"
          measure="percent"
          bound={percentOfScreen}
          style={style}
          value={curve.referencePercent}
          onValue={(referencePercent) => changeCurve({ referencePercent })}
        />
        <OptionalQuantityInput
          label="Reference gain"
          measure="level"
          bound={anything}
          style={style}
          value={curve.referenceGainDb}
          placeholder="by the highest point"
          onValue={(referenceGainDb) => changeCurve({ referenceGainDb })}
        />
      </div>
      {reference?.gainDb != null && (
        <dl className={styles.figures}>
          <dt>Reference gain</dt>
          <dd className={styles.large}>
            <Figure
              name="Reference gain"
              text={inWords(written(gain) ?? figureWords(figures.levelDb(reference.gainDb, style), style))}
              asked={gain}
              onAsk={onAsk}
              isAsked={isSame(asked, gain)}
            />
          </dd>
        </dl>
      )}
      <div className={styles.row}>
        <QuantityInput
          label="u of the coupling"
          measure="level"
          bound={notNegative}
          style={style}
          value={sensitivity.uCouplingDb}
          onValue={(uCouplingDb) => change({ uCouplingDb })}
        />
        <QuantityInput
          label="u of the gain"
          measure="level"
          bound={notNegative}
          style={style}
          value={sensitivity.uGainDb}
          onValue={(uGainDb) => change({ uGainDb })}
        />
      </div>
      <p className={styles.note}>
        Standard uncertainties: of a height when the same echo is peaked again and again, and of one gain against
        another. 0 leaves them out.
      </p>
    </Step>
  );
}

function ProbeStep({ sensitivity, change, calibration, result, onAsk, asked, written, style }: OfCurve) {
  const { probe } = sensitivity;
  const field = result?.nearField ?? null;
  const ask: FigureAsked = { kind: 'sensitivity', figure: 'near-field' };
  return (
    <Step
      title="Near field"
      state={field === null ? 'optional' : 'found'}
      summary={
        field === null
          ? 'Give the element and its frequency to know from where on the laws of spreading hold.'
          : `The laws of spreading hold from ${inWords(figureWords(figures.lengthMm(field.lawsFromMm, style), style))} on: three near-field lengths.`
      }
      isOpenAtFirst={false}
    >
      <ProbeFields known={probe} onProbe={(next) => change({ probe: next })} style={style} />
      <OptionalQuantityInput
        label="Velocity"
        measure="velocity"
        bound={positive}
        style={style}
        value={probe?.velocityMPerS ?? null}
        placeholder={calibration === null ? 'not known' : 'of the calibration'}
        onValue={(velocityMPerS) => probe !== null && change({ probe: { ...probe, velocityMPerS } })}
      />
      {field !== null && (
        <dl className={styles.figures}>
          <dt>Near-field length</dt>
          <dd>
            <Figure
              name="Near-field length"
              text={inWords(written(ask) ?? figureWords(figures.lengthMm(field.lengthMm, style), style))}
              asked={ask}
              onAsk={onAsk}
              isAsked={isSame(asked, ask)}
            />
          </dd>
        </dl>
      )}
    </Step>
  );
}

function CurveStep(props: OfCurve) {
  const { result, curve: decided, changeCurve, isEvaluating, problems, onAsk, style, decision } = props;
  const curve = result?.curve ?? null;
  const isAsked = decision?.curve != null && decided.captures.length > 0 && decided.reflectors.length > 0;
  if (!isAsked || result === null || curve === null) {
    const isWrong = isAsked && !isEvaluating && problems.length > 0;
    return (
      <Step
        title="Distance-amplitude curve"
        state={isWrong ? 'wrong' : isAsked && isEvaluating ? 'working' : 'needs'}
        summary={isWrong ? 'There is no curve.' : 'Needs the reflectors.'}
      >
        <DoubtNotes
          label="What keeps the curve from being made"
          doubts={(isAsked ? toldOnce(problems) : []).map((sentence) => ({ sentence, advice: null }))}
        />
      </Step>
    );
  }
  const doubtful = curve.points.filter(({ flags }) => flags.length > 0).length + curve.doubts.length;
  return (
    <Step
      title="Distance-amplitude curve"
      state={curve.curve === null ? 'wrong' : doubtful > 0 || problems.length > 0 ? 'doubt' : 'found'}
      summary={
        curve.curve === null
          ? `${curve.points.length} ${curve.points.length === 1 ? 'point' : 'points'}, no curve.`
          : `${curve.points.length} points from ${spanWords(curve.points, style)}.`
      }
    >
      <DoubtNotes
        label="What is wrong with the curve"
        doubts={toldOnce([...problems, ...result.warnings]).map((sentence) => ({ sentence, advice: null }))}
      />
      <CurvePlot result={result} curve={curve} onAsk={onAsk} style={style} />
      <PointTable {...props} points={curve.points} />
      <DoubtNotes
        label="Doubts about the curve"
        doubts={curve.doubts.map(({ sentence }) => ({ sentence, advice: null }))}
      />
      {curve.remarks.map((sentence) => (
        <p key={sentence} className={styles.note}>
          {sentence}
        </p>
      ))}
      <Toggle
        label="Lines between the points"
        options={joined}
        chosen={decided.straightIn}
        onChoose={(straightIn) => changeCurve({ straightIn })}
      />
      {curve.timeCorrectedGain.length > 0 && <AddedGain {...props} made={curve} />}
    </Step>
  );
}

function spanWords(points: readonly CurvePoint[], style: FigureStyle): string {
  const words = (point: CurvePoint | undefined) =>
    point === undefined ? '' : figureWords(figures.statedMm(point.distanceMm, style), style);
  return `${words(points[0])} to ${words(points.at(-1))}`;
}

function PointTable({ points, onAsk, asked, onSelect, style }: OfCurve & { readonly points: readonly CurvePoint[] }) {
  return (
    <ol className={own.results} aria-label="Points of the curve">
      {points.map((point) => {
        const { distanceMm, levelDb, heightPercent, amplitudePercent, gainDb, captureId, flags, inNearField } = point;
        const at = figureWords(figures.statedMm(distanceMm, style), style);
        const ask = (figure: 'point-level' | 'point-height' | 'point-amplitude', name: string, text: string) => {
          const figureAsked: FigureAsked = { kind: 'sensitivity', figure, distanceMm };
          return (
            <Figure
              name={`${name} at ${at}`}
              text={inWords(text)}
              asked={figureAsked}
              onAsk={onAsk}
              isAsked={isSame(asked, figureAsked)}
            />
          );
        };
        return (
          <li key={distanceMm} className={own.result}>
            <div className={own.line}>
              <span className={own.name}>{at}</span>
              {ask('point-level', 'Level', figureWithUncertainty(figures.levelDb(levelDb, style), style))}
              <span>
                {ask(
                  'point-height',
                  'Height',
                  figureWords(figures.amplitudePercent(heightPercent.value, style), style),
                )}
              </span>
            </div>
            <p className={own.soft}>
              read{' '}
              {ask('point-amplitude', 'Reading', figureWords(figures.amplitudePercent(amplitudePercent, style), style))}
              {gainDb !== null && ` at ${inWords(figureWords(figures.levelDb(gainDb, style), style))}`} in{' '}
              <button type="button" className={own.link} onClick={() => onSelect(captureId)}>
                {captureId.replace(/#[^#]*$/, '')}
              </button>
            </p>
            {inNearField === true && <p className={own.remark}>{flagTexts['in-near-field'].sentence}</p>}
            {flags.map((flag) => (
              <p key={flag} className={own.remark}>
                {flagTexts[flag].sentence}
              </p>
            ))}
          </li>
        );
      })}
    </ol>
  );
}

/** Time-corrected gain: what is added at each distance so that all reflectors of the curve stand alike. */
function AddedGain({ made, onAsk, asked, style }: OfCurve & { readonly made: CurveResult }) {
  return (
    <details className={own.folded}>
      <summary>Time-corrected gain from the same points</summary>
      <table className={own.gains}>
        <thead>
          <tr>
            <th scope="col">Distance</th>
            <th scope="col" className={own.number}>
              Gain to be added
            </th>
          </tr>
        </thead>
        <tbody>
          {made.timeCorrectedGain.map(({ distanceMm, addedGainDb, isPoint }) => {
            const figureAsked: FigureAsked = { kind: 'sensitivity', figure: 'added-gain', distanceMm };
            const at = figureWords(figures.statedMm(distanceMm, style), style);
            return (
              <tr key={distanceMm}>
                <td>
                  {at}
                  {isPoint && ', a point'}
                </td>
                <td className={own.number}>
                  <Figure
                    name={`Gain to be added at ${at}`}
                    text={inWords(figureWithUncertainty(figures.levelDb(addedGainDb, style), style))}
                    asked={figureAsked}
                    onAsk={onAsk}
                    isAsked={isSame(asked, figureAsked)}
                  />
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </details>
  );
}
