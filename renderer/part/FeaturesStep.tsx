import { plateEdge } from '../../core/part/expected-echoes.ts';
import type { Feature, PartDecision } from '../../core/review/part-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { IconButton } from '../parts/Button.tsx';
import { anything, positive } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { AddEntry } from './AddEntry.tsx';
import { NameField } from './NameField.tsx';
import styles from './Part.module.css';
import { thicknessOf } from './part-decision.ts';

/** Other things of the part's own that send echoes: its edge, a counterbore. */
export function FeaturesStep({
  part,
  onPart,
  style,
}: {
  readonly part: PartDecision;
  readonly onPart: (part: PartDecision) => void;
  readonly style: FigureStyle;
}) {
  const { features, shape } = part;
  const set = (next: readonly Feature[]) => onPart({ ...part, features: [...next] });
  const thicknessMm = thicknessOf(shape);
  const taken = features.map(({ name }) => name);
  return (
    <Step
      title="Edges and corners that echo"
      state={features.length === 0 ? 'optional' : 'found'}
      summary={features.length === 0 ? 'Beside the weld nothing of the part is expected to echo.' : taken.join(', ')}
      isOpenAtFirst={false}
    >
      {features.map((feature, i) => {
        const change = (next: Partial<Feature>) => set(features.with(i, { ...feature, ...next }));
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: its name changes as it is written
          <fieldset key={i} className={styles.entry}>
            <legend className={styles.unseen}>{feature.name}</legend>
            <div className={styles.named}>
              <NameField
                label="Name"
                value={feature.name}
                taken={taken.toSpliced(i, 1)}
                onName={(name) => change({ name })}
              />
              <IconButton
                icon="remove"
                label={`Take out ${feature.name}`}
                onPress={() => set(features.toSpliced(i, 1))}
              />
            </div>
            <div className={steps.row}>
              <QuantityInput
                label="Across"
                measure="length"
                bound={anything}
                style={style}
                value={feature.acrossMm}
                onValue={(acrossMm) => change({ acrossMm })}
              />
              <QuantityInput
                label="Depth"
                measure="length"
                bound={anything}
                style={style}
                value={feature.depthMm}
                onValue={(depthMm) => change({ depthMm })}
              />
              <QuantityInput
                label="±"
                measure="length"
                bound={positive}
                style={style}
                value={feature.toleranceMm}
                onValue={(toleranceMm) => change({ toleranceMm })}
              />
            </div>
          </fieldset>
        );
      })}
      <AddEntry
        label="Add a corner"
        style={style}
        fields={[
          { label: 'Across', measure: 'length', bound: anything },
          { label: 'Depth', measure: 'length', bound: anything },
          { label: '±', measure: 'length', bound: positive },
        ]}
        onAdd={([acrossMm, depthMm, toleranceMm]) =>
          set([
            ...features,
            { name: freeName('corner', taken), acrossMm: acrossMm!, depthMm: depthMm!, toleranceMm: toleranceMm! },
          ])
        }
      />
      {thicknessMm !== null && !taken.some((name) => name.startsWith('plate edge')) && (
        <AddEntry
          label="Add the plate’s edge"
          style={style}
          fields={[
            { label: 'Edge at, across', measure: 'length', bound: anything },
            { label: '±', measure: 'length', bound: positive },
          ]}
          onAdd={([acrossMm, toleranceMm]) => set([...features, ...plateEdge(acrossMm!, thicknessMm, toleranceMm!)])}
        />
      )}
    </Step>
  );
}

function freeName(stem: string, taken: readonly string[]): string {
  for (let i = 1; ; i++) if (!taken.includes(`${stem} ${i}`)) return `${stem} ${i}`;
}
