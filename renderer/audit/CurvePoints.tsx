import { flagTexts } from '../../core/flag.ts';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { CurvePoint } from '../../core/sensitivity/distance-amplitude-curve.ts';
import { Figure } from '../parts/Figure.tsx';
import { isSame } from './asked.ts';
import own from './Check.module.css';
import { inWords } from './figure-words.ts';
import type { OfCurve } from './SensitivitySteps.tsx';

/** The points of the curve: the level and height of each, and the reading it was made from. */
export function CurvePoints({
  points,
  onAsk,
  asked,
  onSelect,
  style,
}: OfCurve & { readonly points: readonly CurvePoint[] }) {
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
