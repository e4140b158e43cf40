import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import { problemLine } from '../../core/outcome.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import type { CalibrationStepsProps } from './CalibrationSteps.tsx';
import { DoubtNotes } from './DoubtNote.tsx';
import { FileButton } from './FileButton.tsx';
import styles from './Step.module.css';
import { Step } from './Step.tsx';

/** What is proposed beside what is in force, and the way from one to the other. */
export function AcceptStep(props: CalibrationStepsProps) {
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
            <th>Figure</th>
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
