import { figures, figureWords } from '../../core/origin/figure.ts';
import type { Problem } from '../../core/outcome.ts';
import type { PartDecision, Placement } from '../../core/review/part-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { IconButton } from '../parts/Button.tsx';
import { Toggle } from '../parts/Choice.tsx';
import { CapturePicker } from '../procedures/CapturePicker.tsx';
import { type CaptureChoice, chosenInWords } from '../procedures/capture-choices.ts';
import { anything, notNegative } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { AddEntry } from './AddEntry.tsx';
import { Faults } from './Faults.tsx';
import styles from './Part.module.css';
import { newPlacement } from './part-decision.ts';

/** Where the probe stood for which captures: what turns a distance from the probe into a place in the weld. */
export function PlacementsStep({
  part,
  onPart,
  choices,
  problems,
  style,
}: {
  readonly part: PartDecision;
  readonly onPart: (part: PartDecision) => void;
  readonly choices: readonly CaptureChoice[];
  readonly problems: readonly Problem[];
  readonly style: FigureStyle;
}) {
  const { placements } = part;
  const set = (next: readonly Placement[]) => onPart({ ...part, placements: [...next] });
  return (
    <Step
      title="Where the probe stood"
      state={problems.length > 0 ? 'wrong' : placements.length === 0 ? 'needs' : 'found'}
      summary={
        placements.length === 0
          ? 'Without it places are told from the probe, and not from the weld.'
          : placements.map((one) => placementWords(one, style)).join('; ')
      }
      isOpenAtFirst={placements.length === 0 || problems.length > 0}
    >
      {placements.map((placement, i) => {
        const change = (next: Partial<Placement>) => set(placements.with(i, { ...placement, ...next }));
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: a place of the probe is known by its place in the list alone
          <fieldset key={i} className={styles.entry}>
            <legend className={styles.unseen}>Place {i + 1} of the probe</legend>
            <div className={styles.named}>
              <details className={styles.more}>
                <summary>{chosenInWords(placement.captures, 'For which captures?')}</summary>
                <CapturePicker
                  label={`Captures taken at place ${i + 1}`}
                  choices={choices}
                  chosen={placement.captures}
                  onChosen={(captures) => change({ captures: [...captures] })}
                />
              </details>
              <IconButton
                icon="remove"
                label={`Take out place ${i + 1} of the probe`}
                onPress={() => set(placements.toSpliced(i, 1))}
              />
            </div>
            <Toggle
              label="Side of the weld"
              options={[
                { id: 'left', label: 'Left' },
                { id: 'right', label: 'Right' },
              ]}
              chosen={placement.side}
              onChoose={(side) => change({ side })}
            />
            <div className={steps.row}>
              <QuantityInput
                label="Index point to middle"
                measure="length"
                bound={anything}
                style={style}
                value={placement.offsetMm}
                onValue={(offsetMm) => change({ offsetMm })}
              />
              <QuantityInput
                label="Its u"
                measure="length"
                bound={notNegative}
                style={style}
                value={placement.uOffsetMm}
                onValue={(uOffsetMm) => change({ uOffsetMm })}
              />
            </div>
            <Toggle
              label="A capture’s position counts"
              options={[
                { id: 'along', label: 'Along the weld' },
                { id: 'away', label: 'Away from it' },
              ]}
              chosen={placement.position}
              onChoose={(position) => change({ position })}
            />
          </fieldset>
        );
      })}
      <Faults problems={problems} />
      <AddEntry
        label="Add a place of the probe"
        style={style}
        fields={[{ label: 'Index point to middle', measure: 'length', bound: anything }]}
        onAdd={([offsetMm]) => set([...placements, newPlacement(offsetMm!)])}
      />
    </Step>
  );
}

function placementWords({ captures, side, offsetMm }: Placement, style: FigureStyle): string {
  const offset = figureWords(figures.statedMm(offsetMm, style), style);
  return `${offset} to the ${side}: ${chosenInWords(captures, 'no captures')}`;
}
