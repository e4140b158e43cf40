import { figures, figureWords } from '../../core/origin/figure.ts';
import type { Problem } from '../../core/outcome.ts';
import type { PartDecision, Shape } from '../../core/review/part-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { Toggle } from '../parts/Choice.tsx';
import { CapturePicker } from '../procedures/CapturePicker.tsx';
import { type CaptureChoice, chosenInWords } from '../procedures/capture-choices.ts';
import { notNegative, positive } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { AddEntry } from './AddEntry.tsx';
import { Faults } from './Faults.tsx';
import styles from './Part.module.css';

/** Plate, pipe or step block, with its thickness. */
export function ShapeStep({
  part,
  onPart,
  onRemove,
  choices,
  problems,
  style,
}: {
  readonly part: PartDecision;
  readonly onPart: (part: PartDecision) => void;
  readonly onRemove: () => void;
  readonly choices: readonly CaptureChoice[];
  readonly problems: readonly Problem[];
  readonly style: FigureStyle;
}) {
  const { shape } = part;
  const set = (next: Shape) => onPart({ ...part, shape: next });
  return (
    <Step
      title="Shape"
      state={problems.length > 0 ? 'wrong' : 'found'}
      summary={shapeWords(shape, style)}
      isOpenAtFirst={problems.length > 0}
    >
      {shape.kind === 'step-block' ? (
        <StepList shape={shape} onShape={set} choices={choices} style={style} />
      ) : (
        <div className={steps.row}>
          {shape.kind === 'pipe' && (
            <QuantityInput
              label="Outside radius"
              measure="length"
              bound={positive}
              style={style}
              value={shape.outsideRadiusMm}
              onValue={(outsideRadiusMm) => set({ ...shape, outsideRadiusMm })}
            />
          )}
          <QuantityInput
            label={shape.kind === 'pipe' ? 'Wall' : 'Thickness'}
            measure="length"
            bound={positive}
            style={style}
            value={shape.thicknessMm}
            onValue={(thicknessMm) => set({ ...shape, thicknessMm })}
          />
          <QuantityInput
            label="Its u"
            measure="length"
            bound={notNegative}
            style={style}
            value={shape.uThicknessMm}
            description="Standard uncertainty; 0: exact"
            onValue={(uThicknessMm) => set({ ...shape, uThicknessMm })}
          />
        </div>
      )}
      {shape.kind === 'pipe' && (
        <Toggle
          label="Scanned round the axis"
          options={[
            { id: 'outside', label: 'From outside' },
            { id: 'inside', label: 'From the bore' },
          ]}
          chosen={shape.from}
          onChoose={(from) => set({ ...shape, from })}
        />
      )}
      <Faults problems={problems} />
      <div className={steps.actions}>
        <Button small onPress={onRemove}>
          Take the part out of the review
        </Button>
      </div>
    </Step>
  );
}

function shapeWords(shape: Shape, style: FigureStyle): string {
  if (shape.kind === 'step-block')
    return shape.steps.length === 1 ? 'Step block with one step' : `Step block with ${shape.steps.length} steps`;
  const thickness = figureWords(figures.statedMm(shape.thicknessMm, style), style);
  if (shape.kind === 'plate') return `Plate, ${thickness} thick`;
  const radius = figureWords(figures.statedMm(shape.outsideRadiusMm, style), style);
  return `Pipe of ${radius} outside radius, wall ${thickness}, scanned from ${shape.from === 'outside' ? 'outside' : 'the bore'}`;
}

function StepList({
  shape,
  onShape,
  choices,
  style,
}: {
  readonly shape: Extract<Shape, { kind: 'step-block' }>;
  readonly onShape: (shape: Shape) => void;
  readonly choices: readonly CaptureChoice[];
  readonly style: FigureStyle;
}) {
  const change = (i: number, next: Partial<(typeof shape.steps)[number]>) =>
    onShape({ ...shape, steps: shape.steps.with(i, { ...shape.steps[i]!, ...next }) });
  return (
    <>
      {shape.steps.map((step, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a step is known by its place alone
        <fieldset key={i} className={styles.entry}>
          <legend className={styles.legend}>Step {i + 1}</legend>
          <div className={steps.row}>
            <QuantityInput
              label="Thickness"
              measure="length"
              bound={positive}
              style={style}
              value={step.thicknessMm}
              onValue={(thicknessMm) => change(i, { thicknessMm })}
            />
            <QuantityInput
              label="Its u"
              measure="length"
              bound={notNegative}
              style={style}
              value={step.uThicknessMm}
              onValue={(uThicknessMm) => change(i, { uThicknessMm })}
            />
            <IconButton
              icon="remove"
              label={`Take out step ${i + 1}`}
              onPress={() => onShape({ ...shape, steps: shape.steps.toSpliced(i, 1) })}
            />
          </div>
          <details className={styles.more}>
            <summary>{chosenInWords(step.captures, 'No captures named')}</summary>
            <CapturePicker
              label={`Captures on step ${i + 1}`}
              choices={choices}
              chosen={step.captures}
              onChosen={(captures) => change(i, { captures: [...captures] })}
            />
          </details>
        </fieldset>
      ))}
      <AddEntry
        label="Add a step"
        style={style}
        fields={[{ label: 'Thickness of another step', measure: 'length', bound: positive }]}
        onAdd={([thicknessMm]) =>
          onShape({ ...shape, steps: [...shape.steps, { captures: [], thicknessMm: thicknessMm!, uThicknessMm: 0 }] })
        }
      />
    </>
  );
}
