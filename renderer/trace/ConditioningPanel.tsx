import { type FigureStyle, figureWithUnit, readFigure } from '../../core/units/figure-style.ts';
import { IconButton } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { QuantityField, type Read } from '../parts/QuantityField.tsx';
import styles from './ConditioningPanel.module.css';
import { conditioningWords, firstBandPass } from './conditioning-words.ts';
import { fieldText } from './gate-fields.ts';
import type { ConditioningPanelProps } from './trace-props.ts';

const baselines = [
  {
    id: 'linear',
    label: 'Straight line',
    description: 'Fitted through the record and taken out: offset and slow drift',
  },
  { id: 'mean', label: 'Mean', description: 'The record’s mean is taken out: offset only' },
  { id: 'none', label: 'None', description: 'The record stays as it was captured' },
] as const;

const paddings = [
  {
    id: 'extend',
    label: 'Extended',
    description: 'The record is mirrored beyond its ends, so that neither end disturbs the other',
  },
  {
    id: 'none',
    label: 'Zeros',
    description: 'Padded with zeros only, as a plain script does; the ends are not to be trusted',
  },
] as const;

const peaks = [
  {
    id: 'log-parabola',
    label: 'Logarithmic parabola',
    description: 'Through the top of the envelope’s logarithm: exact for a Gaussian echo',
  },
  { id: 'three-point', label: 'Three points', description: 'A parabola through the highest sample and its neighbours' },
] as const;

/** How captures become traces, with the effect in sight: every change is drawn, and read, at once. */
export function ConditioningPanel({
  recipe,
  sampleRateMHz,
  style,
  problems,
  onRecipe,
  onClose,
}: ConditioningPanelProps) {
  const { bandPass } = recipe;
  const change = (part: Partial<typeof recipe>) => onRecipe({ ...recipe, ...part }, 'now');
  return (
    <section className={styles.panel} aria-label="Conditioning">
      <div className={styles.fields}>
        <Choice
          label="Base line taken out"
          options={baselines}
          chosen={recipe.baseline}
          onChoose={(baseline) => change({ baseline })}
        />
        <Toggle
          label="Band-pass"
          options={[
            { id: 'off', label: 'Off' },
            { id: 'on', label: 'On' },
          ]}
          chosen={bandPass === null ? 'off' : 'on'}
          onChoose={(id) => change({ bandPass: id === 'off' ? null : (bandPass ?? firstBandPass(sampleRateMHz)) })}
        />
        {bandPass !== null && (
          <>
            {(['lowMHz', 'highMHz'] as const).map((edge) => (
              <div key={edge} className={styles.number}>
                <QuantityField
                  label={edge === 'lowMHz' ? 'From (MHz)' : 'To (MHz)'}
                  value={bandPass}
                  shown={(of) => fieldText(of[edge], 'frequency', style)}
                  read={(words) => bandRead(bandPass, edge, words, sampleRateMHz, style)}
                  onCommit={(next) => change({ bandPass: next })}
                />
              </div>
            ))}
            <div className={styles.order}>
              <QuantityField
                label="Order"
                value={bandPass}
                shown={(of) => String(of.order)}
                read={(words) => orderRead(bandPass, words)}
                onCommit={(next) => change({ bandPass: next })}
              />
            </div>
          </>
        )}
        <Choice
          label="Ends of the record"
          options={paddings}
          chosen={recipe.padding}
          onChoose={(padding) => change({ padding })}
        />
        <Choice
          label="Peak between samples"
          options={peaks}
          chosen={recipe.peak}
          onChoose={(peak) => change({ peak })}
        />
      </div>
      <div className={styles.below}>
        {problems.length > 0 ? (
          <div role="alert">
            <ul className={styles.problems}>
              {problems.map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ul>
          </div>
        ) : (
          <p className={styles.words}>
            {conditioningWords(recipe, style)}. The same for every capture of the review; the files stay as they are.
          </p>
        )}
        <IconButton icon="close" label="Close the conditioning" onPress={onClose} />
      </div>
    </section>
  );
}

type BandPass = NonNullable<ConditioningPanelProps['recipe']['bandPass']>;

function bandRead(
  band: BandPass,
  edge: 'lowMHz' | 'highMHz',
  words: string,
  sampleRateMHz: number | null,
  style: FigureStyle,
): Read<BandPass> {
  const value = readFigure(words, 'frequency', style);
  if (!value.ok) return value;
  const next = { ...band, [edge]: value.value };
  if (!(next.lowMHz > 0)) return { ok: false, sentence: 'The band must begin above 0 MHz' };
  if (next.lowMHz >= next.highMHz) return { ok: false, sentence: 'The band must end above where it begins' };
  if (sampleRateMHz !== null && next.highMHz >= sampleRateMHz / 2) {
    const half = figureWithUnit(sampleRateMHz / 2, 'frequency', 1, style);
    return {
      ok: false,
      sentence: `This capture holds nothing above ${half}, half its sampling rate; end the band below that`,
    };
  }
  return { ok: true, value: next };
}

function orderRead(band: BandPass, words: string): Read<BandPass> {
  const order = Number(words.trim());
  return Number.isInteger(order) && order >= 1 && order <= 10
    ? { ok: true, value: { ...band, order } }
    : { ok: false, sentence: 'A whole number from 1 to 10' };
}
