import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { Figure } from '../parts/Figure.tsx';
import { anything, notNegative, percentOfScreen } from '../procedures/field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { isSame } from './asked.ts';
import { inWords } from './figure-words.ts';
import type { OfCurve } from './SensitivitySteps.tsx';

/** The reference level: its height, its gain, and how sure both are. */
export function ReferenceStep({
  sensitivity,
  curve,
  changeCurve,
  change,
  result,
  onAsk,
  asked,
  written,
  style,
}: OfCurve) {
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
