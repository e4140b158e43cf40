import { figures, figureWords } from '../../core/origin/figure.ts';
import { positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import type { OfProbes } from './ProbesSteps.tsx';

/** Elements and velocity, from which near field and spread of the beam follow. */
export function BeamStep({ decided, change, style }: OfProbes) {
  const { elementMm, velocityMPerS } = decided;
  const isReady = elementMm !== null && velocityMPerS !== null;
  return (
    <Step
      title="Element and material"
      state={isReady ? 'found' : 'optional'}
      summary={
        isReady
          ? `Element ${figureWords(figures.statedMm(elementMm, style), style)}, ${figureWords(figures.velocityMPerS(velocityMPerS, style), style)}`
          : 'For near field and beam spread: a round element’s diameter, and the velocity.'
      }
      isOpenAtFirst={false}
    >
      <div className={styles.row}>
        <OptionalQuantityInput
          label="Element"
          measure="length"
          bound={positive}
          style={style}
          value={elementMm}
          placeholder="not known"
          onValue={(value) => change({ elementMm: value })}
        />
        <OptionalQuantityInput
          label="Velocity"
          measure="velocity"
          bound={positive}
          style={style}
          value={velocityMPerS}
          placeholder="not known"
          onValue={(value) => change({ velocityMPerS: value })}
        />
      </div>
    </Step>
  );
}
