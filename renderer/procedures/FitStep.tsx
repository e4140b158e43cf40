import { againstNominal } from '../../core/calibration/compare.ts';
import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import { materialInWords } from '../../core/calibration/plausibility.ts';
import { flagTexts } from '../../core/flag.ts';
import { nominalVelocity } from '../../core/material/velocities.ts';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { CalibrationFit } from '../../core/review/review.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Figure } from '../parts/Figure.tsx';
import type { CalibrationStepsProps } from './CalibrationSteps.tsx';
import { blockOf } from './calibration-decision.ts';
import { DoubtNotes } from './DoubtNote.tsx';
import { ResidualPlot } from './ResidualPlot.tsx';
import styles from './Step.module.css';
import { Step } from './Step.tsx';

/** The fitted line, how sure it is, how it stands to what the material should have, and what is doubtful about it. */
export function FitStep({ result, isFitting, decision, onAsk, asked, style }: CalibrationStepsProps) {
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
