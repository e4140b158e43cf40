import { useState } from 'react';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { Problem } from '../../core/outcome.ts';
import type { ScanDecision, Sizing } from '../../core/review/scan-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { CapturePicker } from '../procedures/CapturePicker.tsx';
import { type CaptureChoice, chosenInWords } from '../procedures/capture-choices.ts';
import { anything, notNegative, percentOfScreen, positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { Faults } from './Faults.tsx';
import styles from './Part.module.css';
import { newScan, sizingOptions } from './scan-decision.ts';

/** The first statements about a scan: where it is looked, from which height on, and how lengths are taken. */
export function BeginScan({
  captures,
  choices,
  style,
  onScan,
}: {
  /** Those that the readings work on, to begin with. */
  readonly captures: readonly string[];
  readonly choices: readonly CaptureChoice[];
  readonly style: FigureStyle;
  readonly onScan: (scan: ScanDecision) => void;
}) {
  const [chosen, setChosen] = useState<readonly string[]>(captures);
  const [fromMm, setFrom] = useState<number | null>(null);
  const [toMm, setTo] = useState<number | null>(null);
  const [percent, setPercent] = useState<number | null>(null);
  const [kind, setKind] = useState<'drop-6-db' | 'drop-20-db' | null>(null);
  const isWhole =
    chosen.length > 0 && fromMm !== null && toMm !== null && fromMm < toMm && percent !== null && kind !== null;
  return (
    <div className={steps.body}>
      <details className={styles.more} open={captures.length === 0}>
        <summary>{chosenInWords(chosen, 'Which captures are the scan?')}</summary>
        <CapturePicker label="Captures of the scan" choices={choices} chosen={chosen} onChosen={setChosen} />
      </details>
      <div className={styles.fields}>
        <OptionalQuantityInput
          label="Sound paths from"
          measure="length"
          bound={notNegative}
          style={style}
          value={fromMm}
          onValue={setFrom}
        />
        <OptionalQuantityInput
          label="to"
          measure="length"
          bound={positive}
          style={style}
          value={toMm}
          onValue={setTo}
        />
        <OptionalQuantityInput
          label="Proposed from a height of"
          measure="percent"
          bound={percentOfScreen}
          style={style}
          value={percent}
          onValue={setPercent}
        />
      </div>
      <Choice
        label="Length by"
        options={sizingOptions.filter(({ id }) => id === 'drop-6-db' || id === 'drop-20-db')}
        chosen={kind}
        placeholder="Choose how"
        onChoose={(id) => setKind(id as 'drop-6-db' | 'drop-20-db')}
      />
      <div className={steps.actions}>
        <Button
          kind="main"
          isDisabled={!isWhole}
          onPress={() => {
            if (isWhole) onScan(newScan(chosen, fromMm, toMm, percent, { kind }));
          }}
        >
          Look for indications
        </Button>
      </div>
    </div>
  );
}

interface ScanStepProps {
  readonly scan: ScanDecision;
  readonly onScan: (scan: ScanDecision) => void;
  readonly style: FigureStyle;
}

/** Which captures, which sound paths, from which height on. */
export function ScanStep({
  scan,
  onScan,
  onRemove,
  choices,
  problems,
  style,
}: ScanStepProps & {
  readonly onRemove: () => void;
  readonly choices: readonly CaptureChoice[];
  readonly problems: readonly Problem[];
}) {
  const { captures, fromMm, toMm, level } = scan;
  const set = (next: Partial<ScanDecision>) => onScan({ ...scan, ...next });
  const [from, to] = [fromMm, toMm].map((mm) => figureWords(figures.statedMm(mm, style), style));
  const height = level.kind === 'screen' ? `${level.percent} % FSH` : `${level.db} dB to the curve`;
  return (
    <Step
      title="Scan"
      state={problems.length > 0 ? 'wrong' : captures.length === 0 ? 'needs' : 'found'}
      summary={`${chosenInWords(captures, 'No captures')}, ${from} to ${to}, from ${height} on`}
      isOpenAtFirst={problems.length > 0 || captures.length === 0}
    >
      <details className={styles.more}>
        <summary>{chosenInWords(captures, 'Which captures are the scan?')}</summary>
        <CapturePicker
          label="Captures of the scan"
          choices={choices}
          chosen={captures}
          onChosen={(next) => set({ captures: [...next] })}
        />
      </details>
      <div className={styles.fields}>
        <QuantityInput
          label="Sound paths from"
          measure="length"
          bound={anything}
          style={style}
          value={fromMm}
          onValue={(value) => set({ fromMm: value })}
        />
        <QuantityInput
          label="to"
          measure="length"
          bound={anything}
          style={style}
          value={toMm}
          onValue={(value) => set({ toMm: value })}
        />
      </div>
      <Toggle
        label="Proposed from"
        options={[
          { id: 'screen', label: 'A height on the screen' },
          { id: 'curve', label: 'dB to the curve' },
        ]}
        chosen={level.kind}
        onChoose={(kind) => set({ level: kind === 'screen' ? { kind, percent: 20 } : { kind, db: -14 } })}
      />
      <div className={styles.fields}>
        {level.kind === 'screen' ? (
          <QuantityInput
            label="Height"
            measure="percent"
            bound={percentOfScreen}
            style={style}
            value={level.percent}
            onValue={(percent) => set({ level: { kind: 'screen', percent } })}
          />
        ) : (
          <QuantityInput
            label="Above the curve"
            measure="level"
            bound={anything}
            style={style}
            value={level.db}
            onValue={(db) => set({ level: { kind: 'curve', db } })}
          />
        )}
        <QuantityInput
          label="u of a position"
          measure="length"
          bound={notNegative}
          style={style}
          value={scan.uPositionMm}
          onValue={(uPositionMm) => set({ uPositionMm })}
        />
      </div>
      <Faults problems={problems} />
      <div className={steps.actions}>
        <Button small onPress={onRemove}>
          Take the scan out of the review
        </Button>
      </div>
    </Step>
  );
}

/** How long an indication is taken to be, and what its height is told against. */
export function SizingStep({ scan, onScan, style }: ScanStepProps) {
  const { sizing, beamWidthMm, reference, rating, scanningGainDb } = scan;
  const set = (next: Partial<ScanDecision>) => onScan({ ...scan, ...next });
  const chosen = sizingOptions.find(({ id }) => id === sizing.kind);
  return (
    <Step
      title="Size and amplitude"
      state="found"
      summary={`${chosen?.label ?? ''}; ${reference === null ? 'reference of the sensitivity, where there is one' : `reference ${reference.percent} % FSH at ${reference.gainDb} dB`}`}
      isOpenAtFirst={false}
    >
      <Choice
        label="Length by"
        options={sizingOptions}
        chosen={sizing.kind}
        onChoose={(kind) => set({ sizing: sizingOf(kind) })}
      />
      <div className={styles.fields}>
        {sizing.kind === 'fixed-level' && (
          <QuantityInput
            label="Ends at a height of"
            measure="percent"
            bound={percentOfScreen}
            style={style}
            value={sizing.percent}
            onValue={(percent) => set({ sizing: { kind: 'fixed-level', percent } })}
          />
        )}
        <OptionalQuantityInput
          label="Beam’s width at the level"
          measure="length"
          bound={positive}
          style={style}
          value={beamWidthMm}
          placeholder="not known"
          onValue={(value) => set({ beamWidthMm: value })}
        />
        <QuantityInput
          label="Its u"
          measure="length"
          bound={notNegative}
          style={style}
          value={scan.uBeamWidthMm}
          onValue={(uBeamWidthMm) => set({ uBeamWidthMm })}
        />
        <OptionalQuantityInput
          label="Gain added for scanning"
          measure="level"
          bound={anything}
          style={style}
          value={scanningGainDb}
          placeholder="as captured"
          onValue={(value) => set({ scanningGainDb: value })}
        />
      </div>
      <Reference scan={scan} set={set} style={style} />
      <Toggle
        label="Indication rating, as an aid"
        options={[
          { id: 'none', label: 'None' },
          { id: 'inch', label: 'AWS D1.1, inch' },
          { id: 'si', label: 'AWS D1.1, SI' },
        ]}
        chosen={rating?.form ?? 'none'}
        onChoose={(form) =>
          set({
            rating: form === 'none' ? null : { kind: 'aws-d1.1', form, floorAtZero: rating?.floorAtZero ?? false },
          })
        }
      />
      {rating !== null && (
        <label className={styles.check}>
          <input
            type="checkbox"
            checked={rating.floorAtZero}
            onChange={(event) => set({ rating: { ...rating, floorAtZero: event.target.checked } })}
          />
          <span>Nearer than where the formula begins the attenuation factor is 0</span>
        </label>
      )}
    </Step>
  );
}

function sizingOf(kind: Sizing['kind']): Sizing {
  return kind === 'fixed-level' ? { kind, percent: 20 } : { kind };
}

/** The height that a reference reflector gives, where the sensitivity of the review does not tell it. */
function Reference({
  scan,
  set,
  style,
}: {
  readonly scan: ScanDecision;
  readonly set: (next: Partial<ScanDecision>) => void;
  readonly style: FigureStyle;
}) {
  const { reference } = scan;
  const [percent, setPercent] = useState<number | null>(null);
  const [gainDb, setGain] = useState<number | null>(null);
  if (reference === null)
    return (
      <fieldset className={styles.add} aria-label="Reference level">
        <div className={steps.row}>
          <OptionalQuantityInput
            label="Reference height"
            measure="percent"
            bound={percentOfScreen}
            style={style}
            value={percent}
            onValue={setPercent}
          />
          <OptionalQuantityInput
            label="at a gain of"
            measure="level"
            bound={anything}
            style={style}
            value={gainDb}
            onValue={setGain}
          />
          <Button
            isDisabled={percent === null || gainDb === null}
            onPress={() => {
              if (percent !== null && gainDb !== null) set({ reference: { percent, gainDb, uGainDb: 0 } });
            }}
          >
            State the reference
          </Button>
        </div>
      </fieldset>
    );
  const change = (next: Partial<typeof reference>) => set({ reference: { ...reference, ...next } });
  return (
    <fieldset className={styles.entry}>
      <legend className={styles.legend}>Reference level</legend>
      <div className={styles.fields}>
        <QuantityInput
          label="Reference height"
          measure="percent"
          bound={percentOfScreen}
          style={style}
          value={reference.percent}
          onValue={(value) => change({ percent: value })}
        />
        <QuantityInput
          label="at a gain of"
          measure="level"
          bound={anything}
          style={style}
          value={reference.gainDb}
          onValue={(value) => change({ gainDb: value })}
        />
        <QuantityInput
          label="u of the gain"
          measure="level"
          bound={notNegative}
          style={style}
          value={reference.uGainDb}
          onValue={(value) => change({ uGainDb: value })}
        />
      </div>
      <div className={steps.actions}>
        <Button small onPress={() => set({ reference: null })}>
          Take the reference out
        </Button>
      </div>
    </fieldset>
  );
}
