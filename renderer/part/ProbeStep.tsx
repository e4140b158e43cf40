import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { PartDecision, Probe } from '../../core/review/part-decision.ts';
import type { BeamInNumbers } from '../../core/steps/locate.ts';
import { type FigureStyle, figureWithUnit } from '../../core/units/figure-style.ts';
import { isSame } from '../audit/asked.ts';
import { Toggle } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { notNegative, positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { angleInPart } from './bounds.ts';
import { Faults } from './Faults.tsx';
import styles from './Part.module.css';

interface ProbeStepProps {
  readonly part: PartDecision;
  readonly onPart: (part: PartDecision) => void;
  /** `null`: not evaluated yet, or a problem keeps the beam from being told. */
  readonly beam: BeamInNumbers | null;
  readonly problems: readonly Problem[];
  readonly warnings: readonly Problem[];
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}

/** The probe and its beam, and what the beam does in the part. */
export function ProbeStep(props: ProbeStepProps) {
  const { part, onPart, beam, problems, warnings, style } = props;
  const { probe } = part;
  const set = (next: Partial<Probe>) => onPart({ ...part, probe: { ...probe, ...next } });
  return (
    <Step
      title="Probe"
      state={problems.length > 0 ? 'wrong' : warnings.length > 0 || probe.uAngleDeg === null ? 'doubt' : 'found'}
      summary={probeWords(probe, style)}
    >
      <div className={styles.fields}>
        <QuantityInput
          label="Beam angle"
          measure="angle"
          bound={angleInPart}
          style={style}
          value={probe.angleDeg}
          onValue={(angleDeg) => set({ angleDeg })}
        />
        <OptionalQuantityInput
          label="Its u"
          measure="angle"
          bound={notNegative}
          style={style}
          value={probe.uAngleDeg}
          placeholder="not known"
          onValue={(uAngleDeg) => set({ uAngleDeg })}
        />
      </div>
      <Faults problems={[...problems, ...warnings]} />
      {probe.uAngleDeg === null && (
        <p className={steps.note}>
          Without the angle’s uncertainty no place has one: check the angle, and state its u.
        </p>
      )}
      <Toggle
        label="Wave mode"
        options={[
          { id: 'transverse', label: 'Transverse' },
          { id: 'longitudinal', label: 'Longitudinal' },
        ]}
        chosen={probe.mode}
        onChoose={(mode) => set({ mode })}
      />
      <div className={styles.fields}>
        <OptionalQuantityInput
          label="Index point to front"
          measure="length"
          bound={notNegative}
          style={style}
          value={probe.indexToFrontMm}
          placeholder="not known"
          onValue={(indexToFrontMm) => set({ indexToFrontMm })}
        />
        <QuantityInput
          label="u of the index point"
          measure="length"
          bound={notNegative}
          style={style}
          value={probe.uIndexMm}
          onValue={(uIndexMm) => set({ uIndexMm })}
        />
        <OptionalQuantityInput
          label="Element diameter"
          measure="length"
          bound={positive}
          style={style}
          value={probe.elementMm}
          placeholder="not known"
          onValue={(elementMm) => set({ elementMm })}
        />
        <OptionalQuantityInput
          label="Frequency"
          measure="frequency"
          bound={positive}
          style={style}
          value={probe.frequencyMHz}
          placeholder="not known"
          onValue={(frequencyMHz) => set({ frequencyMHz })}
        />
        <OptionalQuantityInput
          label="Velocity in the wedge"
          measure="velocity"
          bound={positive}
          style={style}
          value={probe.wedgeVelocityMPerS}
          placeholder="not known"
          onValue={(wedgeVelocityMPerS) => set({ wedgeVelocityMPerS })}
        />
        <OptionalQuantityInput
          label="Velocity in the part"
          measure="velocity"
          bound={positive}
          style={style}
          value={probe.velocityMPerS}
          placeholder="as calibrated"
          onValue={(velocityMPerS) => set({ velocityMPerS })}
        />
      </div>
      {beam !== null && <BeamFigures {...props} beam={beam} />}
    </Step>
  );
}

function probeWords({ angleDeg, mode, frequencyMHz }: Probe, style: FigureStyle): string {
  const angle = angleDeg === 0 ? 'Straight beam' : `${figureWords(figures.angleDeg(angleDeg, style), style)} beam`;
  const frequency = frequencyMHz === null ? '' : `, ${figureWithUnit(frequencyMHz, 'frequency', 1, style)}`;
  return `${angle}, ${mode}${frequency}`;
}

/** Legs, skips and spread, each of which can be asked. */
function BeamFigures({ beam, asked, onAsk, style }: ProbeStepProps & { readonly beam: BeamInNumbers }) {
  const { skips, edgesMinus6Db: six, edgesMinus20Db: twenty, nearField, incidenceDeg } = beam;
  const mm = (value: number) => figureWords(figures.lengthMm(value, style), style);
  const degrees = (value: number) => figureWithUnit(value, 'angle', 1, style);
  const lines = [
    { name: 'Half skip', figure: 'half-skip', value: skips?.halfSkipMm },
    { name: 'Skip', figure: 'skip', value: skips?.skipMm },
    { name: 'Leg', figure: 'leg-length', value: skips?.legMm },
    { name: 'V-path', figure: 'v-path', value: skips?.vPathMm },
  ] as const;
  return (
    <dl className={steps.figures}>
      {lines.map(({ name, figure, value }) => {
        if (value === undefined) return null;
        const ask = { kind: 'location', figure } as const;
        return (
          <div key={name} className={styles.pair}>
            <dt>{name}</dt>
            <dd>
              <Figure name={name} text={mm(value)} asked={ask} onAsk={onAsk} isAsked={isSame(ask, asked)} />
            </dd>
          </div>
        );
      })}
      {six !== null && (
        <div className={styles.pair}>
          <dt>Spread, −6 dB</dt>
          <dd>
            {degrees(six.steepestDeg)} to {degrees(six.flattestDeg)}
          </dd>
        </div>
      )}
      {twenty !== null && (
        <div className={styles.pair}>
          <dt>Spread, −20 dB</dt>
          <dd>
            {degrees(twenty.steepestDeg)} to {degrees(twenty.flattestDeg)}
          </dd>
        </div>
      )}
      {nearField !== null && (
        <div className={styles.pair}>
          <dt>Near field</dt>
          <dd>{mm(nearField.lengthMm)}</dd>
        </div>
      )}
      {incidenceDeg !== null && beam.angleDeg.value > 0 && (
        <div className={styles.pair}>
          <dt>Angle in the wedge</dt>
          <dd>{degrees(incidenceDeg)}</dd>
        </div>
      )}
      {six === null && (
        <p className={steps.note}>
          The spread, and with it the echoes expected from the part’s own shape, need element, frequency and velocity.
        </p>
      )}
    </dl>
  );
}
