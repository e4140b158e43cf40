import { useState } from 'react';
import { Label, TextArea, TextField } from 'react-aria-components';
import type { CaptureId } from '../../core/capture/capture.ts';
import { flagTexts } from '../../core/flag.ts';
import { bareFigure, figures, figureWithUncertainty } from '../../core/origin/figure.ts';
import type { FigureAsked, IndicationFigure } from '../../core/origin.ts';
import { type IndicationRating, ratingCaution, ratingClause } from '../../core/rating/aws-d1.1.ts';
import { boundSign } from '../../core/report/figure-table.ts';
import { decisionWords, indicationColumns } from '../../core/report/indications-table.ts';
import type { IndicationDecision } from '../../core/review/scan-decision.ts';
import type { SplitAt } from '../../core/scan/extent.ts';
import type { Indication } from '../../core/steps/scan.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { isSame } from '../audit/asked.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import fieldStyles from '../parts/Field.module.css';
import { Figure } from '../parts/Figure.tsx';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { anything } from '../procedures/field-reading.ts';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { AddEntry } from './AddEntry.tsx';
import { EchoDynamicPlot } from './EchoDynamicPlot.tsx';
import { Faults } from './Faults.tsx';
import { NameField } from './NameField.tsx';
import styles from './Part.module.css';

export interface ChosenIndicationProps {
  readonly indication: Indication | null;
  /** Names of all others. */
  readonly others: readonly string[];
  readonly onChange: (next: Partial<IndicationDecision>, what: string) => void;
  readonly onLeave: () => void;
  readonly onMerge: (other: string) => void;
  /** Whether it could be split there. */
  readonly onSplit: (at: SplitAt) => boolean;
  readonly selected: CaptureId | null;
  readonly onSelect: (captureId: CaptureId) => void;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}

const takenOptions = [
  { id: 'reflector', label: 'Reflector' },
  { id: 'geometry', label: 'Geometry' },
  { id: 'open', label: 'Not decided' },
] as const;

/** One indication with everything that is known of it, and what a person can decide. */
export function ChosenIndication(props: ChosenIndicationProps) {
  const { indication } = props;
  if (indication === null)
    return (
      <Step
        title="The one chosen"
        state="optional"
        summary="Choose an indication in the table, the section or the plan."
      >
        {null}
      </Step>
    );
  const { name, decided, taken, notes, flags, remarks, location } = indication;
  const geometry = location?.geometry ?? [];
  const doubts = [
    ...flags.map((flag) => ({ sentence: flagTexts[flag].sentence, advice: flagTexts[flag].advice })),
    ...remarks.map((sentence) => ({ sentence, advice: null })),
  ];
  return (
    <Step
      // Another one begins with its own name and notes.
      key={name}
      title="The one chosen"
      state={!decided ? 'needs' : taken === null ? 'doubt' : 'found'}
      word={decisionWords(indication)}
      summary={name}
    >
      <NameField
        label="Name"
        value={name}
        taken={props.others}
        onName={(next) => props.onChange({ name: next }, `name indication '${next}'`)}
      />
      <Toggle
        label="Taken for"
        options={takenOptions}
        chosen={taken ?? 'open'}
        onChoose={(id) => props.onChange({ taken: id === 'open' ? null : id }, `decide on indication '${name}'`)}
      />
      {!decided && (
        <div className={steps.actions}>
          <Button kind="main" onPress={() => props.onChange({}, `take up indication '${name}'`)}>
            Take it up
          </Button>
        </div>
      )}
      {geometry.length > 0 && (
        <DoubtNotes
          label="Geometry expected here"
          doubts={geometry.map(({ sentence }) => ({ sentence, advice: null }))}
        />
      )}
      <Figures {...props} indication={indication} />
      <EchoDynamicPlot
        indication={indication}
        selected={props.selected}
        onSelect={props.onSelect}
        style={props.style}
      />
      <Rating {...props} indication={indication} />
      <DoubtNotes label="Doubts about this indication" doubts={doubts} />
      <Notes value={notes} onNotes={(next) => props.onChange({ notes: next }, `note on indication '${name}'`)} />
      <MergeAndSplit {...props} indication={indication} />
      {decided && (
        <div className={steps.actions}>
          <Button small onPress={props.onLeave}>
            Leave it to the proposals again
          </Button>
        </div>
      )}
    </Step>
  );
}

const figuresInOrder: readonly IndicationFigure[] = [
  'length',
  'low-end',
  'high-end',
  'length-across',
  'depth',
  'surface-distance',
  'leg',
  'sound-path',
  'amplitude',
  'level',
  'to-curve',
];
const figureNames: Readonly<Partial<Record<IndicationFigure, string>>> = { 'low-end': 'From', 'high-end': 'To' };
const columnOf: Readonly<Partial<Record<IndicationFigure, string>>> = { 'low-end': 'from', 'high-end': 'to' };

function Figures({ indication, asked, onAsk, style }: ChosenIndicationProps & { readonly indication: Indication }) {
  const columns = indicationColumns([indication], style);
  const across = indication.location?.place?.acrossMm ?? null;
  const { withoutLength } = indication.length;
  const withoutAcross = indication.lengthAcross.withoutLength;
  return (
    <dl className={steps.figures}>
      {figuresInOrder.map((which) => {
        const column = columns.find(({ id }) => id === (columnOf[which] ?? which));
        const figure = column?.figure(indication) ?? null;
        if (column === undefined || figure === null) return null;
        const text = `${boundSign(column.bound(indication))}${figureWithUncertainty(figure, style)}`;
        const ask = column.asked(indication);
        return (
          <div key={which} className={styles.pair}>
            <dt>{figureNames[which] ?? column.name}</dt>
            <dd>
              {ask === null ? (
                text
              ) : (
                <Figure name={column.name} text={text} asked={ask} onAsk={onAsk} isAsked={isSame(ask, asked)} />
              )}
            </dd>
          </div>
        );
      })}
      {across !== null && (
        <div className={styles.pair}>
          <dt>Across the weld</dt>
          <dd>{figureWithUncertainty(figures.lengthMm(across, style), style)}</dd>
        </div>
      )}
      {withoutLength !== null && (
        <div className={styles.pair}>
          <dt>Length</dt>
          <dd className={steps.note}>{withoutLength}</dd>
        </div>
      )}
      {withoutAcross !== null && (
        <div className={styles.pair}>
          <dt>Length across</dt>
          <dd className={steps.note}>{withoutAcross}</dd>
        </div>
      )}
      {indication.amplitude.unreferenced !== null && (
        <div className={styles.pair}>
          <dt>Amplitude</dt>
          <dd className={steps.note}>{indication.amplitude.unreferenced}</dd>
        </div>
      )}
    </dl>
  );
}

/** The rating with its arithmetic, its clause and its caution; or why there is none. */
function Rating({ indication, asked, onAsk, style }: ChosenIndicationProps & { readonly indication: Indication }) {
  const { rating, withoutRating } = indication;
  if (rating === null)
    return withoutRating === null ? null : (
      <p className={styles.reason}>
        <strong>No rating.</strong> {withoutRating}
      </p>
    );
  const ask = { kind: 'indication', name: indication.name, figure: 'rating' } as const;
  return (
    <div className={styles.rating}>
      <p>
        Indication rating{' '}
        <Figure
          name="Indication rating"
          text={`${rating.atMost ? '≤ ' : ''}${figureWithUncertainty(figures.levelDb(rating.ratingDb, style), style)}`}
          asked={ask}
          onAsk={onAsk}
          isAsked={isSame(ask, asked)}
        />
      </p>
      <p className={steps.note}>{arithmetic(rating, style)}</p>
      <p className={steps.note}>{ratingClause}.</p>
      <p className={styles.caution}>{ratingCaution}</p>
    </div>
  );
}

function arithmetic(rating: IndicationRating, style: FigureStyle): string {
  const db = (value: number) => bareFigure(figures.levelDb(value, style), style);
  const { indicationLevelDb: a, referenceLevelDb: b, factor, aboveReferenceGainDb, ratingDb } = rating;
  const result = `${db(ratingDb.value)} dB`;
  if (a === null || b === null)
    return `(a − b) − c = ${db(aboveReferenceGainDb.value)} − ${factor.factorDb} = ${result}, with an attenuation factor c of ${factor.factorDb} dB`;
  return `a − b − c = ${db(a)} − ${db(b)} − ${factor.factorDb} = ${result}: indication level a, reference level b, attenuation factor c`;
}

function Notes({ value, onNotes }: { readonly value: string; readonly onNotes: (notes: string) => void }) {
  const [draft, setDraft] = useState<string | null>(null);
  return (
    <TextField
      className={fieldStyles.field ?? ''}
      value={draft ?? value}
      onChange={setDraft}
      onBlur={() => {
        if (draft !== null && draft !== value) onNotes(draft);
        setDraft(null);
      }}
    >
      <Label className={fieldStyles.label ?? ''}>Notes</Label>
      <TextArea className={fieldStyles.input ?? ''} rows={3} />
    </TextField>
  );
}

function MergeAndSplit({
  indication,
  others,
  onMerge,
  onSplit,
  style,
}: ChosenIndicationProps & { readonly indication: Indication }) {
  const [other, setOther] = useState<string | null>(null);
  const [fault, setFault] = useState(false);
  const cut = (at: SplitAt) => setFault(!onSplit(at));
  return (
    <details className={styles.more}>
      <summary>Merge or split</summary>
      <div className={styles.group}>
        <div className={steps.row}>
          <Choice
            label="Merge with"
            options={others.map((name) => ({ id: name, label: name }))}
            chosen={other !== null && others.includes(other) ? other : null}
            placeholder={others.length === 0 ? 'There is no other' : 'Choose one'}
            isDisabled={others.length === 0}
            onChoose={setOther}
          />
          <Button
            isDisabled={other === null || !others.includes(other)}
            onPress={() => other !== null && onMerge(other)}
          >
            Merge
          </Button>
        </div>
        <AddEntry
          label="Split here"
          style={style}
          fields={[{ label: 'At a position', measure: 'length', bound: anything }]}
          onAdd={([positionMm]) => cut({ positionMm: positionMm! })}
        />
        <AddEntry
          label="Split there"
          style={style}
          fields={[{ label: 'At a sound path', measure: 'length', bound: anything }]}
          onAdd={([pathMm]) => cut({ pathMm: pathMm! })}
        />
        {fault && (
          <Faults
            problems={[
              {
                code: 'split-holds-nothing',
                place: { file: 'scan', line: null, column: null },
                sentence: `one part would hold nothing of ${indication.name}; split between its own positions or sound paths`,
              },
            ]}
          />
        )}
      </div>
    </details>
  );
}
