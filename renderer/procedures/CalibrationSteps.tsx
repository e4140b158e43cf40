import { Fragment, useState } from 'react';
import { readBlock } from '../../core/block/block-by-name.ts';
import { isOwnBlock } from '../../core/block/own-block.ts';
import type { CalibrationDifference } from '../../core/calibration/compare.ts';
import { againstNominal } from '../../core/calibration/compare.ts';
import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import { materialInWords } from '../../core/calibration/plausibility.ts';
import type { CaptureId } from '../../core/capture/capture.ts';
import { type Flag, flagTexts } from '../../core/flag.ts';
import { materialNames, nominalVelocity } from '../../core/material/velocities.ts';
import { bareFigure, figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { type Problem, problemLine } from '../../core/outcome.ts';
import type { CalibrationFit, CalibrationGiven } from '../../core/review/review.ts';
import type { CalibrationResult } from '../../core/steps/calibrate.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Icon } from '../parts/Icon.tsx';
import { QuantityField, type Read } from '../parts/QuantityField.tsx';
import own from './CalibrationSteps.module.css';
import { CapturePicker } from './CapturePicker.tsx';
import {
  blockOf,
  blockOptions,
  chosenOption,
  type EchoRow,
  echoRows,
  knownDistances,
  ownBlock,
  ownWindows,
  retaken,
} from './calibration-decision.ts';
import { type CaptureChoice, chosenInWords } from './capture-choices.ts';
import { DoubtNotes } from './DoubtNote.tsx';
import { FileButton } from './FileButton.tsx';
import { percentOfScreen } from './field-reading.ts';
import { QuantityInput } from './QuantityInput.tsx';
import { ResidualPlot } from './ResidualPlot.tsx';
import { flagName } from './reading-rows.ts';
import styles from './Step.module.css';
import { Step, type StepState, Steps } from './Step.tsx';
import { WindowTable } from './WindowTable.tsx';

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
      <ReflectorsStep {...props} />
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

// ── known reflectors ────────────────────────────────────────────────────────

function ReflectorsStep({ decision, onDecision, style }: CalibrationStepsProps) {
  const { reflectors } = decision;
  const [opened, setOpened] = useState<string | null>(null);
  const option = opened ?? chosenOption(decision);
  const block = blockOf(decision);
  const summary =
    block !== null
      ? block.title
      : reflectors.kind === 'windows' && reflectors.list.length > 0
        ? `${reflectors.list.length} ${reflectors.list.length === 1 ? 'distance' : 'distances'} with their windows`
        : 'Choose the block and the direction the probe faced, or give distances.';
  const enough = block !== null || (reflectors.kind === 'windows' && reflectors.list.length >= 2);
  return (
    <Step title="Known reflectors" state={enough ? 'found' : 'needs'} summary={summary}>
      <Choice
        label="Block and direction"
        options={blockOptions}
        chosen={option}
        placeholder="Choose a block"
        onChoose={(id) => {
          const isOwn = id === ownBlock || id === ownWindows;
          setOpened(isOwn ? id : null);
          if (!isOwn) onDecision({ ...decision, reflectors: { kind: 'block', name: id } });
        }}
      />
      {option === ownBlock && (
        <QuantityField
          label="Block of my own"
          description="steps/10mm,20mm,30mm · plate/25mm/+-0.05mm/aluminium · distances/50mm,125mm/transverse"
          value={reflectors.kind === 'block' && block !== null && isOwnBlock(reflectors.name) ? reflectors.name : ''}
          shown={(name) => name}
          read={readOwnName}
          onCommit={(name) => onDecision({ ...decision, reflectors: { kind: 'block', name } })}
        />
      )}
      {block !== null && (
        <dl className={styles.figures}>
          <dt>Distances</dt>
          <dd>
            {block.distancesMm.map((d) => bareFigure(figures.statedMm(d, style), style)).join(' · ')}{' '}
            {unitSign('length', style)}
          </dd>
          <dt>Source</dt>
          <dd className={styles.note}>{block.source}</dd>
        </dl>
      )}
      {option === ownWindows && (
        <WindowTable
          hasTolerance
          list={reflectors.kind === 'windows' ? reflectors.list : []}
          style={style}
          onList={(list) => onDecision({ ...decision, reflectors: { kind: 'windows', list: [...list] } })}
        />
      )}
    </Step>
  );
}

function readOwnName(words: string): Read<string> {
  const name = words.trim();
  if (!isOwnBlock(name))
    return { ok: false, sentence: 'begin with steps/, plate/ or distances/, as in the examples below' };
  const read = readBlock(name);
  return read.ok ? { ok: true, value: name } : { ok: false, sentence: read.problems[0]?.sentence ?? '' };
}

// ── how echoes are read ─────────────────────────────────────────────────────

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

// ── echoes and reflectors ───────────────────────────────────────────────────

function EchoesStep(props: CalibrationStepsProps) {
  const { result, isFitting, decision } = props;
  const rows = result === null ? [] : echoRows(result);
  const matched = rows.filter((row) => row.distanceMm !== null).length;
  const left = rows.length - matched;
  const state: StepState =
    result === null ? (isFitting ? 'working' : 'needs') : result.problems.length > 0 ? 'wrong' : 'found';
  const summary =
    result === null
      ? 'Needs captures and known reflectors.'
      : result.problems.length > 0
        ? 'The reflectors were not all found.'
        : `${matched} taken for reflectors, ${left === 0 ? 'none left over' : `${left} left over`}.`;
  return (
    <Step title="Echoes and reflectors" state={state} summary={summary}>
      {result !== null && (
        <DoubtNotes
          label="What keeps the reflectors from being found"
          doubts={result.problems.map(({ sentence }) => ({ sentence, advice: null }))}
        />
      )}
      {rows.length > 0 && <EchoTable {...props} rows={rows} known={knownDistances(decision)} />}
    </Step>
  );
}

const noReflector = 'none';

function EchoTable({
  rows,
  known,
  result,
  decision,
  onDecision,
  onAsk,
  asked,
  onShowEcho,
  style,
}: CalibrationStepsProps & { readonly rows: readonly EchoRow[]; readonly known: readonly number[] }) {
  const options = [
    { id: noReflector, label: 'no reflector' },
    ...known.map((d) => ({ id: String(d), label: figureWords(figures.statedMm(d, style), style) })),
  ];
  const several = new Set(rows.map((row) => row.captureId)).size > 1;
  return (
    <div className={styles.scroll}>
      <table className={styles.table}>
        <thead>
          <tr>
            <th className={styles.number}>Time (µs)</th>
            <th className={styles.number}>% FSH</th>
            <th>Taken for</th>
            <th className={styles.number}>Residual ({unitSign('length', style)})</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => {
            const time = bareFigure(figures.echoTimeUs(row.timeUs, style), style);
            const amplitude =
              row.amplitudePercent === null ? null : figures.amplitudePercent(row.amplitudePercent, style);
            const notes = [row.name, several ? row.captureId : null].filter((note) => note !== null);
            const isNoted = notes.length > 0 || row.flags.length > 0;
            return (
              <Fragment key={`${row.captureId} ${row.timeUs}`}>
                <tr className={isNoted ? own.noted : ''}>
                  <td className={styles.number}>
                    {row.distanceMm === null ? (
                      <button
                        type="button"
                        className={own.show}
                        aria-label={`Show the echo at ${time} µs on the trace`}
                        onClick={() => onShowEcho(row.captureId, row.timeUs)}
                      >
                        {time}
                      </button>
                    ) : (
                      <PointFigure
                        name="Time"
                        text={time}
                        distanceMm={row.distanceMm}
                        figure="time"
                        onAsk={onAsk}
                        asked={asked}
                      />
                    )}
                  </td>
                  <td className={styles.number}>
                    {row.distanceMm === null ? (
                      bareFigure(amplitude, style)
                    ) : (
                      <PointFigure
                        name="Amplitude"
                        text={bareFigure(amplitude, style)}
                        distanceMm={row.distanceMm}
                        figure="amplitude"
                        onAsk={onAsk}
                        asked={asked}
                      />
                    )}
                  </td>
                  <td className={own.taken}>
                    <Choice
                      label={`Reflector of the echo at ${time} µs`}
                      hideLabel
                      options={options}
                      chosen={row.distanceMm === null ? noReflector : String(row.distanceMm)}
                      onChoose={(id) =>
                        onDecision(retaken(decision, rows, row, id === noReflector ? null : Number(id)))
                      }
                    />
                  </td>
                  <td className={styles.number}>
                    {row.distanceMm !== null && row.residualMm !== null && (
                      <PointFigure
                        name="Residual"
                        text={bareFigure(figures.residualMm(row.residualMm, style), style)}
                        distanceMm={row.distanceMm}
                        figure="residual"
                        onAsk={onAsk}
                        asked={asked}
                      />
                    )}
                  </td>
                </tr>
                {isNoted && (
                  <tr>
                    <td colSpan={4} className={own.notes}>
                      {notes.join(' · ')}
                      <EchoDoubts flags={row.flags} told={result?.calibration?.flags ?? []} time={time} />
                    </td>
                  </tr>
                )}
              </Fragment>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

/** What the fit's own doubts tell with numbers stands here by its name alone. */
function EchoDoubts({
  flags,
  told,
  time,
}: {
  readonly flags: readonly Flag[];
  readonly told: readonly Flag[];
  readonly time: string;
}) {
  const named = flags.filter((flag) => told.includes(flag));
  return (
    <>
      {named.length > 0 && (
        <span className={own.named}>
          <Icon name="doubt" /> {named.map(flagName).join(', ')}
        </span>
      )}
      <DoubtNotes
        label={`Doubts about the echo at ${time} µs`}
        doubts={flags.filter((flag) => !told.includes(flag)).map((flag) => flagTexts[flag])}
      />
    </>
  );
}

function PointFigure({
  name,
  text,
  distanceMm,
  figure,
  onAsk,
  asked,
}: {
  readonly name: string;
  readonly text: string;
  readonly distanceMm: number;
  readonly figure: 'time' | 'residual' | 'amplitude';
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
}) {
  const isAsked = asked?.kind === 'calibration-point' && asked.distanceMm === distanceMm && asked.figure === figure;
  return (
    <Figure
      name={name}
      text={text}
      asked={{ kind: 'calibration-point', distanceMm, figure }}
      onAsk={onAsk}
      isAsked={isAsked}
    />
  );
}

// ── the fit ─────────────────────────────────────────────────────────────────

function FitStep({ result, isFitting, decision, onAsk, asked, style }: CalibrationStepsProps) {
  const calibration = result?.calibration ?? null;
  if (calibration === null || result === null) {
    return (
      <Step
        title="Velocity and zero offset"
        state={isFitting ? 'working' : 'needs'}
        summary="Needs two reflectors or more."
      >
        {null}
      </Step>
    );
  }
  const doubts = result.doubts.map(({ flag, sentence }) => ({ sentence, advice: flagTexts[flag].advice }));
  const plain = calibration.flags
    .filter((flag) => !result.doubts.some((doubt) => doubt.flag === flag))
    .map((flag) => flagTexts[flag]);
  const isExact = calibration.residualSdUs === null;
  return (
    <Step
      title="Velocity and zero offset"
      state={calibration.flags.length > 0 ? 'doubt' : 'found'}
      summary={
        isExact
          ? 'Two reflectors fix the line exactly.'
          : `A line through ${calibration.points.length} reflectors, ${calibration.degreesOfFreedom} ${calibration.degreesOfFreedom === 1 ? 'degree' : 'degrees'} of freedom.`
      }
    >
      <dl className={styles.figures}>
        <FitFigure of="velocity" calibration={calibration} onAsk={onAsk} asked={asked} style={style} />
        <FitFigure of="zero-offset" calibration={calibration} onAsk={onAsk} asked={asked} style={style} />
        <NominalLine calibration={calibration} decision={decision} style={style} />
      </dl>
      <DoubtNotes label="Doubts about the fit" doubts={[...doubts, ...plain]} />
      {!isExact && <ResidualPlot calibration={calibration} style={style} />}
    </Step>
  );
}

function FitFigure({
  of,
  calibration,
  onAsk,
  asked,
  style,
}: {
  readonly of: 'velocity' | 'zero-offset';
  readonly calibration: DistanceCalibration;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
  readonly style: FigureStyle;
}) {
  const isVelocity = of === 'velocity';
  const figure = isVelocity
    ? figures.velocityMPerS(calibration.velocityMPerS, style)
    : figures.timeUs(calibration.zeroOffsetUs, style);
  const half = isVelocity ? calibration.velocityHalfWidth95MPerS : calibration.zeroOffsetHalfWidth95Us;
  const halfFigure =
    half === null ? null : isVelocity ? figures.velocityMPerS(half, style) : figures.timeUs(half, style);
  const name = isVelocity ? 'Velocity' : 'Zero offset';
  return (
    <>
      <dt>{name}</dt>
      <dd>
        <span className={styles.large}>
          <Figure
            name={name}
            text={figureWithUncertainty(figure, style)}
            asked={{ kind: 'calibration', figure: of }}
            onAsk={onAsk}
            isAsked={asked?.kind === 'calibration' && asked.figure === of}
          />
        </span>
        <div className={styles.note}>
          {halfFigure === null
            ? 'no 95 % interval is known'
            : `95 % interval ± ${figureWords({ ...halfFigure, decimals: figure.decimals }, style)}`}
        </div>
      </dd>
    </>
  );
}

function NominalLine({
  calibration,
  decision,
  style,
}: {
  readonly calibration: DistanceCalibration;
  readonly decision: CalibrationFit;
  readonly style: FigureStyle;
}) {
  const stated = decision.nominal;
  const nominal =
    (stated === null ? null : nominalVelocity(stated.material, stated.mode)) ?? blockOf(decision)?.nominal ?? null;
  if (nominal === null) {
    return (
      <>
        <dt>Material</dt>
        <dd className={styles.note}>{materialInWords(calibration)}</dd>
      </>
    );
  }
  const { differencePercent, isWithin } = againstNominal(calibration.velocityMPerS, nominal);
  const percent = { ...figures.amplitudePercent(Math.abs(differencePercent.value), style), decimals: 2 };
  const side = differencePercent.value < 0 ? 'below' : 'above';
  return (
    <>
      <dt>Nominal</dt>
      <dd>
        {figureWords(percent, style)} {side} the{' '}
        {figureWords({ ...figures.velocityMPerS(nominal.velocityMPerS, style) }, style)} of {nominal.material},{' '}
        {nominal.mode}: {isWithin ? 'as it should be' : 'too far off'}
        <div className={styles.note}>{nominal.source}</div>
      </dd>
    </>
  );
}

// ── before it is in force ───────────────────────────────────────────────────

function AcceptStep(props: CalibrationStepsProps) {
  const { result, inForce, difference, isChanged, onAccept, onDiscard, onSavedCalibration, isFitting, problems } =
    props;
  const calibration = result?.calibration ?? null;
  const summary = !isChanged
    ? inForce === null
      ? 'No calibration is in force: sound paths cannot be read.'
      : 'This calibration is in force.'
    : inForce === null
      ? 'Accept it to read sound paths with it.'
      : 'The one in force stays until this one is accepted.';
  return (
    <Step
      title="Calibration in force"
      state={isChanged ? 'needs' : inForce === null ? 'optional' : 'found'}
      summary={summary}
    >
      {inForce?.given != null && <p className={styles.note}>In force: taken over from {inForce.given.file}.</p>}
      {inForce?.calibration != null && isChanged && calibration !== null && (
        <Comparison {...props} before={inForce.calibration} now={calibration} difference={difference} />
      )}
      <DoubtNotes
        label="What is wrong with the saved calibration"
        doubts={problems.map((each) => ({ sentence: problemLine(each), advice: null }))}
      />
      <div className={styles.actions}>
        <Button kind="main" isDisabled={!isChanged || calibration === null || isFitting} onPress={onAccept}>
          Accept this calibration
        </Button>
        {isChanged && (inForce !== null || result !== null) && <Button onPress={onDiscard}>Discard the changes</Button>}
        <SavedCalibration onFile={onSavedCalibration} />
      </div>
    </Step>
  );
}

function Comparison({
  before,
  now,
  difference,
  style,
}: CalibrationStepsProps & { readonly before: DistanceCalibration; readonly now: DistanceCalibration }) {
  const differs = (does: boolean | null) =>
    does === null
      ? 'not known'
      : does
        ? 'differs by more than twice its uncertainty'
        : 'no difference beyond its uncertainty';
  return (
    <>
      <table className={styles.table}>
        <thead>
          <tr>
            <th />
            <th>In force</th>
            <th>New</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">Velocity</th>
            <td>{figureWithUncertainty(figures.velocityMPerS(before.velocityMPerS, style), style)}</td>
            <td>{figureWithUncertainty(figures.velocityMPerS(now.velocityMPerS, style), style)}</td>
          </tr>
          <tr>
            <th scope="row">Zero offset</th>
            <td>{figureWithUncertainty(figures.timeUs(before.zeroOffsetUs, style), style)}</td>
            <td>{figureWithUncertainty(figures.timeUs(now.zeroOffsetUs, style), style)}</td>
          </tr>
        </tbody>
      </table>
      {difference !== null && (
        <dl className={styles.figures}>
          <dt>Velocity, new less old</dt>
          <dd>
            {figureWithUncertainty(figures.velocityMPerS(difference.velocityMPerS, style), style)}
            <div className={styles.note}>{differs(difference.velocityDiffers)}</div>
          </dd>
          <dt>Zero offset, new less old</dt>
          <dd>
            {figureWithUncertainty(figures.timeUs(difference.zeroOffsetUs, style), style)}
            <div className={styles.note}>{differs(difference.zeroOffsetDiffers)}</div>
          </dd>
          {difference.pathMm.map(({ atMm, differenceMm }) => (
            <PathLine key={atMm} atMm={atMm} differenceMm={differenceMm} style={style} />
          ))}
        </dl>
      )}
    </>
  );
}

function PathLine({
  atMm,
  differenceMm,
  style,
}: {
  readonly atMm: number;
  readonly differenceMm: number;
  readonly style: FigureStyle;
}) {
  return (
    <>
      <dt>A path of {figureWords(figures.statedMm(atMm, style), style)}</dt>
      <dd>
        reads {figureWords(figures.lengthMm(Math.abs(differenceMm), style), style)}{' '}
        {differenceMm < 0 ? 'shorter' : 'longer'}
      </dd>
    </>
  );
}

/** A button that takes a saved calibration's file. */
function SavedCalibration({ onFile }: { readonly onFile: (file: File) => void }) {
  return <FileButton label="Take over a saved calibration …" accept={['.json', 'application/json']} onFile={onFile} />;
}
