import { useState } from 'react';
import { readStepTable } from '../../core/linearity/read-step-table.ts';
import type { StepFault } from '../../core/linearity/step-table.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { Problem } from '../../core/outcome.ts';
import type { StepTable } from '../../core/review/linearity-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { FileButton } from '../procedures/FileButton.tsx';
import { anything } from '../procedures/field-reading.ts';
import { OptionalQuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import own from './Check.module.css';
import { inWords } from './figure-words.ts';
import { type GainRow, gainRows, tableOf, withStatedGain } from './linearity-decision.ts';

export interface GainTableProps {
  readonly steps: StepTable | null;
  readonly onSteps: (steps: StepTable | null) => void;
  /** Those that were chosen, in the review's order. */
  readonly captures: readonly TraceFacts[];
  /** What is wrong with rows of the table. */
  readonly faults: readonly StepFault[];
  readonly onSelect: (captureId: string) => void;
  readonly style: FigureStyle;
}

const stated = [
  { id: 'gain', label: 'The instrument’s gain' },
  { id: 'change', label: 'Its change since the first' },
  { id: 'attenuator', label: 'The loss of an attenuator outside' },
] as const;

/** What the gain was at each capture: as the captures say it, or as the person states it in a table; a contradiction stands in its row. */
export function GainTableStep(props: GainTableProps) {
  const { steps, onSteps, captures, faults } = props;
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const rows = gainRows(steps, captures);
  const silent = rows.filter(({ ownDb, statedDb }) => (steps === null ? ownDb : statedDb) === null).length;
  const words =
    captures.length === 0
      ? 'Needs the captures.'
      : steps === null
        ? silent === 0
          ? 'Every capture says its gain.'
          : `${silent} of ${rows.length} captures do not say their gain: state it here, or they serve no step.`
        : `A table of ${steps.rows.length} rows${silent === 0 ? '' : `, ${silent} without a figure`}${faults.length === 0 ? '' : `, ${faults.length} contradicted`}.`;
  async function takeFile(file: File): Promise<void> {
    const read = readStepTable(file.name, new Uint8Array(await file.arrayBuffer()));
    setProblems(read.ok ? read.value.problems : read.problems);
    if (!read.ok) return;
    const { states, rows: given } = read.value;
    onSteps({ states, rows: given.map(({ capture, db }) => ({ capture: referenceOf(capture, captures), db })) });
  }
  return (
    <Step
      title="Gain of each capture"
      state={captures.length === 0 ? 'needs' : faults.length > 0 ? 'wrong' : silent > 0 ? 'doubt' : 'found'}
      word={faults.length > 0 ? 'contradicted' : silent > 0 && captures.length > 0 ? 'incomplete' : null}
      summary={words}
      isOpenAtFirst={faults.length > 0 || silent > 0}
    >
      {captures.length > 0 && (
        <>
          {steps !== null && (
            <Choice
              label="What the table states"
              options={stated}
              chosen={steps.states}
              onChoose={(states) => onSteps({ ...steps, states })}
            />
          )}
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what is longer than the room is scrolled by the keyboard too */}
          <section className={own.tableEnd} tabIndex={0} aria-label="Gain of each capture">
            <table className={own.gains}>
              <thead>
                <tr>
                  <th scope="col">Capture</th>
                  <th scope="col" className={own.number}>
                    says (dB)
                  </th>
                  {steps !== null && (
                    <th scope="col" className={own.number}>
                      stated (dB)
                    </th>
                  )}
                </tr>
              </thead>
              <tbody>
                {rows.map((row) => (
                  <Row key={`${row.row} ${row.capture}`} {...props} row={row} />
                ))}
              </tbody>
            </table>
          </section>
          <DoubtNotes
            label="What is wrong with the step table"
            doubts={problems.map(({ place, sentence }) => ({
              sentence: `${sentence} (${[place.file, place.line, place.column].filter((part) => part !== null).join(':')})`,
              advice: null,
            }))}
          />
          <div className={styles.actions}>
            {steps === null ? (
              <Button onPress={() => onSteps(tableOf(captures, 'gain'))}>State the gains in a table</Button>
            ) : (
              <Button onPress={() => onSteps(null)}>Go by what the captures say</Button>
            )}
            <FileButton
              label="A step table from a file …"
              accept={['.csv', 'text/csv']}
              onFile={(file) => void takeFile(file)}
            />
          </div>
        </>
      )}
    </Step>
  );
}

function Row({ row, steps, onSteps, faults, onSelect, style }: GainTableProps & { readonly row: GainRow }) {
  const { captureId, capture, ownDb } = row;
  const own_ =
    ownDb === null ? '–' : inWords(figureWords({ ...figures.levelDb(ownDb, style), unit: '' }, style).trim());
  const wrong = faults.filter((fault) => row.row !== null && fault.row === row.row);
  const name = capture.replace(/#[^#]*$/, (trace) => (trace.length > 1 ? trace : ''));
  return (
    <>
      <tr>
        <td>
          {captureId === null ? (
            <span className={own.unnamed}>{name}</span>
          ) : (
            <Button kind="quiet" small onPress={() => onSelect(captureId)} aria-label={`Show ${name}`}>
              {shortName(name)}
            </Button>
          )}
        </td>
        <td className={own.number}>{own_}</td>
        {steps !== null && (
          <td className={own.number}>
            <span className={own.stated}>
              <OptionalQuantityInput
                label={`Stated for ${name}`}
                hideLabel
                measure="level"
                bound={anything}
                style={style}
                value={row.statedDb}
                placeholder="–"
                onValue={(db) => onSteps(withStatedGain(steps, row, db))}
              />
              {row.row !== null && (
                <IconButton
                  icon="remove"
                  label={`Take the row of ${name} out`}
                  onPress={() => onSteps({ ...steps, rows: steps.rows.toSpliced(row.row ?? 0, 1) })}
                />
              )}
            </span>
          </td>
        )}
      </tr>
      {wrong.map(({ sentence }) => (
        <tr key={sentence} className={own.fault}>
          <td colSpan={steps === null ? 2 : 3}>{sentence}</td>
        </tr>
      ))}
    </>
  );
}

/** Of a file with several captures the trace tells them apart, of several files the end of the path. */
function shortName(name: string): string {
  const [file = name, trace] = name.split('#');
  const base = file.slice(file.lastIndexOf('/') + 1);
  return trace === undefined || /^(amplitude|a|y)/i.test(trace) ? base : trace;
}

/** The capture that a table means: by its own name, or by the base name that only one has. */
function referenceOf(named: string, captures: readonly TraceFacts[]): string {
  if (captures.some(({ id, file }) => id === named || file === named)) return named;
  const base = (path: string) => path.slice(path.lastIndexOf('/') + 1);
  const [file = '', trace] = named.split('#');
  const alike = captures.filter(
    (capture) => base(capture.file) === base(file) && (trace === undefined || capture.trace === trace),
  );
  const files = new Set(alike.map((capture) => capture.file));
  const [only] = alike;
  if (only === undefined || files.size > 1) return named;
  return trace === undefined ? only.file : only.id;
}
