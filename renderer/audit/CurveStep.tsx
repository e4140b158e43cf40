import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { CurvePoint } from '../../core/sensitivity/distance-amplitude-curve.ts';
import type { CurveResult } from '../../core/steps/sensitivity.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Toggle } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { toldOnce } from '../parts/told-once.ts';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { isSame } from './asked.ts';
import own from './Check.module.css';
import { CurvePlot } from './CurvePlot.tsx';
import { CurvePoints } from './CurvePoints.tsx';
import { inWords } from './figure-words.ts';
import type { OfCurve } from './SensitivitySteps.tsx';

const joined = [
  { id: 'db', label: 'Straight in dB' },
  { id: 'percent', label: 'Straight in %' },
] as const;

/** The curve with its points, its doubts, and the gain to be added along it. */
export function CurveStep(props: OfCurve) {
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
      <CurvePoints {...props} points={curve.points} />
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
