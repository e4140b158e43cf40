import { useState } from 'react';
import { Input, Label, Text, TextArea, TextField } from 'react-aria-components';
import { withField } from '../../core/review/edit-record.ts';
import {
  ownEntries,
  type RecordField,
  type ReviewRecord,
  recorded,
  recordGroups,
  signatories,
  signatureField,
  signatureFields,
} from '../../core/review/record.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import fieldStyles from '../parts/Field.module.css';
import { Field } from '../parts/Field.tsx';
import stepStyles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import styles from './Report.module.css';

export interface RecordStepsProps {
  readonly record: ReviewRecord;
  readonly onRecord: (record: ReviewRecord) => void;
  readonly notes: string;
  readonly onNotes: (notes: string) => void;
}

/** What the report says beside the results, group by group; what stays empty is a line for a pen. */
export function RecordSteps(props: RecordStepsProps) {
  const { record, onRecord, notes, onNotes } = props;
  const change = (field: string) => (value: string) => onRecord(withField(record, field, value));
  return (
    <>
      {recordGroups.map(({ id, title, fields }) => (
        <Step
          key={id}
          {...filledIn(
            title,
            fields.map(({ field }) => recorded(record, field)),
          )}
          isOpenAtFirst={false}
        >
          {fields.map((field) => (
            <RecordLine
              key={field.field}
              {...field}
              value={recorded(record, field.field)}
              onValue={change(field.field)}
            />
          ))}
        </Step>
      ))}
      <Step {...filledIn('Names and levels', signed(record))} isOpenAtFirst={false}>
        {signatories.map(({ id, title }) => (
          <fieldset key={id} className={styles.signatory}>
            <legend className={stepStyles.sub}>{title}</legend>
            {signatureFields.map((field) => {
              const name = signatureField(id, field.id);
              return (
                <Words
                  key={name}
                  label={field.label}
                  value={recorded(record, name)}
                  onValue={change(name)}
                  isLong={false}
                />
              );
            })}
          </fieldset>
        ))}
        <p className={stepStyles.note}>The signature itself is made on paper: the report leaves a place for it.</p>
      </Step>
      <Step
        title="Notes and entries of my own"
        state={notes === '' && ownEntries(record).length === 0 ? 'optional' : 'found'}
        summary={
          notes === '' && ownEntries(record).length === 0
            ? 'Whatever else the report should say.'
            : [notes === '' ? null : 'Notes', ...ownEntries(record).map(({ field }) => field)]
                .filter((part) => part !== null)
                .join(', ')
        }
        isOpenAtFirst={false}
      >
        <Words label="Notes" value={notes} onValue={onNotes} isLong />
        {ownEntries(record).map(({ field, value }) => (
          <div key={field} className={styles.own}>
            <Words label={field} value={value} onValue={change(field)} isLong={value.includes('\n')} />
            <IconButton icon="remove" label={`Take out ${field}`} onPress={() => change(field)('')} />
          </div>
        ))}
        <NewEntry record={record} onAdd={(field, value) => change(field)(value)} />
      </Step>
    </>
  );
}

const mostInSummary = 90;

/** How a group of fields stands: what is filled in, in its own words. */
function filledIn(title: string, values: readonly string[]) {
  const filled = values.filter((value) => value !== '');
  const words = filled.map((value) => value.split('\n')[0]).join(' · ');
  return {
    title,
    state: filled.length === values.length ? ('found' as const) : ('optional' as const),
    word: filled.length === 0 ? 'empty' : `${filled.length} of ${values.length}`,
    summary:
      filled.length === 0
        ? 'What stays empty is a line for a pen.'
        : words.length > mostInSummary
          ? `${words.slice(0, mostInSummary).trimEnd()} …`
          : words,
  };
}

function signed(record: ReviewRecord): readonly string[] {
  return signatories.flatMap(({ id }) =>
    signatureFields.map((field) => recorded(record, signatureField(id, field.id))),
  );
}

/** Fields that take more than a line. */
const longFields: ReadonlySet<string> = new Set(['indications', 'evaluation', 'remarks', 'deviations', 'restricted']);

function RecordLine({
  field,
  label,
  sources,
  value,
  onValue,
}: RecordField & { readonly value: string; readonly onValue: (value: string) => void }) {
  return (
    <Words
      label={label}
      value={value}
      onValue={onValue}
      isLong={longFields.has(field) || value.includes('\n')}
      description={sources.join(', ')}
    />
  );
}

/** A field that is changed when it is left, or by Enter where it has one line; Escape takes back what was typed. */
function Words({
  label,
  value,
  onValue,
  isLong,
  description = null,
}: {
  readonly label: string;
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly isLong: boolean;
  readonly description?: string | null;
}) {
  const [draft, setDraft] = useState<string | null>(null);
  const commit = () => {
    if (draft !== null && draft !== value) onValue(draft);
    setDraft(null);
  };
  const common = {
    value: draft ?? value,
    onChange: setDraft,
    onBlur: commit,
    onKeyDown: (event: { key: string; continuePropagation(): void }) => {
      if (event.key === 'Enter' && !isLong) commit();
      if (event.key === 'Escape' && draft !== null) setDraft(null);
      else event.continuePropagation();
    },
  };
  return (
    <TextField {...common} className={fieldStyles.field ?? ''}>
      <span className={styles.label}>
        <Label className={fieldStyles.label ?? ''}>{label}</Label>
        {description !== null && (
          <Text slot="description" className={fieldStyles.description ?? ''}>
            {description}
          </Text>
        )}
      </span>
      {isLong ? (
        <TextArea className={[fieldStyles.input, styles.area].join(' ')} rows={3} />
      ) : (
        <Input className={fieldStyles.input ?? ''} />
      )}
    </TextField>
  );
}

function NewEntry({
  record,
  onAdd,
}: {
  readonly record: ReviewRecord;
  readonly onAdd: (field: string, value: string) => void;
}) {
  const [field, setField] = useState('');
  const [value, setValue] = useState('');
  const isTaken = record.some((entry) => entry.field === field.trim());
  const isWhole = field.trim() !== '' && value.trim() !== '' && !isTaken;
  return (
    <fieldset aria-label="Another entry" className={styles.entry}>
      <Field
        label="Name of the entry"
        value={field}
        onChange={(words) => setField(words.slice(0, 200))}
        error={isTaken ? 'an entry of this name stands here already' : null}
      />
      <Field label="What it says" value={value} onChange={setValue} />
      <div>
        <Button
          small
          isDisabled={!isWhole}
          onPress={() => {
            onAdd(field.trim(), value);
            setField('');
            setValue('');
          }}
        >
          Add the entry
        </Button>
      </div>
    </fieldset>
  );
}
