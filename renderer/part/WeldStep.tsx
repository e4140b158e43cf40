import { useState } from 'react';
import { type Problem, problem } from '../../core/outcome.ts';
import { preparationFaults, type WeldPreparation, weldOutline } from '../../core/part/weld-preparation.ts';
import type { PartDecision, PlaceInSection } from '../../core/review/part-decision.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { anything, notNegative, positive } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { bevel } from './bounds.ts';
import { Faults } from './Faults.tsx';
import styles from './Part.module.css';
import { preparations, thicknessOf } from './part-decision.ts';
import { WeldSketch } from './WeldSketch.tsx';

interface WeldStepProps {
  readonly part: PartDecision;
  readonly onPart: (part: PartDecision) => void;
  readonly problems: readonly Problem[];
  readonly style: FigureStyle;
}

/** The weld's outline, from a common preparation and corner by corner, with what comes of it beside. */
export function WeldStep({ part, onPart, problems, style }: WeldStepProps) {
  const { weld, shape } = part;
  const thicknessMm = thicknessOf(shape);
  const outline = weld?.outline ?? [];
  const setOutline = (next: readonly PlaceInSection[]) =>
    onPart({ ...part, weld: { outline: [...next], toleranceMm: weld?.toleranceMm ?? 1 } });
  return (
    <Step
      title="Weld"
      state={problems.length > 0 ? 'wrong' : weld === null ? 'optional' : 'found'}
      summary={
        weld === null
          ? 'No weld: nothing of its own shape is expected to echo.'
          : `Outline of ${outline.length} corners; those on a surface send echoes of their own`
      }
      isOpenAtFirst={weld !== null || problems.length > 0}
    >
      {thicknessMm !== null && <FromPreparation thicknessMm={thicknessMm} style={style} onOutline={setOutline} />}
      {weld !== null && (
        <>
          <WeldSketch shape={shape} outline={outline} />
          <Faults problems={problems} />
          <Corners outline={outline} style={style} onOutline={setOutline} />
          <QuantityInput
            label="Each corner may lie off by ±"
            measure="length"
            bound={positive}
            style={style}
            value={weld.toleranceMm}
            onValue={(toleranceMm) => onPart({ ...part, weld: { ...weld, toleranceMm } })}
          />
          <div className={steps.actions}>
            <Button small onPress={() => onPart({ ...part, weld: null })}>
              There is no weld here
            </Button>
          </div>
        </>
      )}
    </Step>
  );
}

const fields = [
  { key: 'rootGapMm', label: 'Root gap', measure: 'length', bound: notNegative },
  { key: 'rootFaceMm', label: 'Root face', measure: 'length', bound: notNegative },
  { key: 'bevelDeg', label: 'Bevel of a face', measure: 'angle', bound: bevel },
  { key: 'capHeightMm', label: 'Cap height', measure: 'length', bound: notNegative },
  { key: 'capOverlapMm', label: 'Cap beyond the bevel', measure: 'length', bound: notNegative },
  { key: 'rootBeadMm', label: 'Root bead', measure: 'length', bound: notNegative },
] as const satisfies readonly { key: keyof WeldPreparation; label: string; measure: string; bound: object }[];

/** Six figures that make an outline; from there each corner can be moved. */
function FromPreparation({
  thicknessMm,
  style,
  onOutline,
}: {
  readonly thicknessMm: number;
  readonly style: FigureStyle;
  readonly onOutline: (outline: readonly PlaceInSection[]) => void;
}) {
  const [chosen, setChosen] = useState<string | null>(null);
  const [preparation, setPreparation] = useState<WeldPreparation | null>(null);
  const faults = preparation === null ? [] : preparationFaults(preparation, thicknessMm);
  return (
    <div className={styles.group}>
      <Choice
        label="Begin from a preparation"
        placeholder="Choose one"
        options={preparations.map(({ id, label }) => ({ id, label }))}
        chosen={chosen}
        onChoose={(id) => {
          setChosen(id);
          setPreparation(preparations.find((one) => one.id === id)?.is ?? null);
        }}
      />
      {preparation !== null && (
        <>
          <div className={styles.fields}>
            {fields.map(({ key, label, measure, bound }) => (
              <QuantityInput
                key={key}
                label={label}
                measure={measure}
                bound={bound}
                style={style}
                value={preparation[key]}
                onValue={(value) => setPreparation({ ...preparation, [key]: value })}
              />
            ))}
          </div>
          <Faults problems={faults.map((sentence) => problem('preparation', { file: 'part' }, sentence))} />
          <div className={steps.actions}>
            <Button isDisabled={faults.length > 0} onPress={() => onOutline(weldOutline(preparation, thicknessMm))}>
              Make the outline from these
            </Button>
          </div>
        </>
      )}
    </div>
  );
}

function Corners({
  outline,
  style,
  onOutline,
}: {
  readonly outline: readonly PlaceInSection[];
  readonly style: FigureStyle;
  readonly onOutline: (outline: readonly PlaceInSection[]) => void;
}) {
  const unit = unitSign('length', style);
  return (
    <fieldset className={styles.corners} aria-label="Corners of the weld’s outline">
      <div className={styles.corner} aria-hidden="true">
        <span />
        <span>Across ({unit})</span>
        <span>Depth ({unit})</span>
      </div>
      {outline.map((corner, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a corner is known by its place in the order alone
        <fieldset key={i} className={styles.corner} aria-label={`Corner ${i + 1}`}>
          <span className={styles.cornerNumber}>{i + 1}</span>
          <QuantityInput
            label={`Corner ${i + 1}, across`}
            hideLabel
            measure="length"
            bound={anything}
            style={style}
            value={corner.acrossMm}
            onValue={(acrossMm) => onOutline(outline.with(i, { ...corner, acrossMm }))}
          />
          <QuantityInput
            label={`Corner ${i + 1}, depth`}
            hideLabel
            measure="length"
            bound={anything}
            style={style}
            value={corner.depthMm}
            onValue={(depthMm) => onOutline(outline.with(i, { ...corner, depthMm }))}
          />
          <IconButton
            icon="add"
            label={`Add a corner after ${i + 1}`}
            onPress={() => onOutline(outline.toSpliced(i + 1, 0, { ...corner }))}
          />
          <IconButton
            icon="remove"
            label={`Take out corner ${i + 1}`}
            onPress={() => onOutline(outline.toSpliced(i, 1))}
          />
        </fieldset>
      ))}
      <p className={steps.note}>
        Across counts from the weld’s middle, to the right positive; depth from the scanned surface, negative in a cap
        above it.
      </p>
    </fieldset>
  );
}
