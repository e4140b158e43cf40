import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { Figure } from '../parts/Figure.tsx';
import { positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { isSame } from './asked.ts';
import { inWords } from './figure-words.ts';
import { ProbeFields } from './ProbeFields.tsx';
import type { OfCurve } from './SensitivitySteps.tsx';

/** From where on the laws of spreading hold. */
export function NearFieldStep({ sensitivity, change, calibration, result, onAsk, asked, written, style }: OfCurve) {
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
