import { useState } from 'react';
import type { DampedEcho, DampingComparison } from '../../core/compare/damping.ts';
import { bareFigure, figures, uncertaintyOf } from '../../core/origin/figure.ts';
import type { Problem } from '../../core/outcome.ts';
import type { PartDecision } from '../../core/review/part-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { Quantity } from '../../core/units/quantity.ts';
import { Button, IconButton } from '../parts/Button.tsx';
import { Choice } from '../parts/Choice.tsx';
import { Icon, type IconName } from '../parts/Icon.tsx';
import type { CaptureChoice } from '../procedures/capture-choices.ts';
import { notNegative, percentOfScreen } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import steps from '../procedures/Step.module.css';
import { Step } from '../procedures/Step.tsx';
import { Faults } from './Faults.tsx';
import styles from './Part.module.css';

interface DampingStepProps {
  readonly part: PartDecision;
  readonly onPart: (part: PartDecision) => void;
  readonly choices: readonly CaptureChoice[];
  readonly result: readonly DampingComparison[];
  readonly problems: readonly Problem[];
  readonly onShowEcho: (captureId: string, timeUs: number) => void;
  readonly style: FigureStyle;
}

/** Two captures of one position, before and after a surface was damped: what comes from that surface falls. */
export function DampingStep({ part, onPart, choices, result, problems, onShowEcho, style }: DampingStepProps) {
  const tests = part.damping;
  const set = (damping: PartDecision['damping']) => onPart({ ...part, damping });
  return (
    <Step
      title="Damping"
      state={problems.length > 0 ? 'wrong' : tests.length === 0 ? 'optional' : 'found'}
      summary={
        tests.length === 0
          ? 'Hold a capture with a damped surface against one without: echoes from that surface change.'
          : tests.length === 1
            ? 'One comparison'
            : `${tests.length} comparisons`
      }
      isOpenAtFirst={tests.length > 0}
    >
      {tests.map((test, i) => {
        const found = result.find(({ before, after }) => isOf(test.before, before) && isOf(test.after, after));
        const change = (next: Partial<typeof test>) => set(tests.with(i, { ...test, ...next }));
        return (
          <fieldset key={`${test.before} ${test.after}`} className={styles.entry}>
            <legend className={styles.unseen}>
              Damping of {test.before} and {test.after}
            </legend>
            <div className={styles.named}>
              <p className={styles.words}>
                <strong>{test.before}</strong>, then damped <strong>{test.after}</strong>
              </p>
              <IconButton
                icon="remove"
                label={`Take out the comparison of ${test.before} and ${test.after}`}
                onPress={() => set(tests.toSpliced(i, 1))}
              />
            </div>
            <div className={steps.row}>
              <QuantityInput
                label="Echoes above"
                measure="percent"
                bound={percentOfScreen}
                style={style}
                value={test.abovePercent}
                onValue={(abovePercent) => change({ abovePercent })}
              />
              <QuantityInput
                label="u of the coupling"
                measure="level"
                bound={notNegative}
                style={style}
                value={test.uCouplingDb}
                onValue={(uCouplingDb) => change({ uCouplingDb })}
              />
            </div>
            {found !== undefined && <Comparison found={found} onShowEcho={onShowEcho} style={style} />}
          </fieldset>
        );
      })}
      <Faults problems={problems} />
      <NewTest choices={choices} onAdd={(before, after) => set([...tests, newTest(before, after)])} />
    </Step>
  );
}

function isOf(reference: string, captureId: string): boolean {
  return captureId === reference || captureId.startsWith(`${reference}#`);
}

/** Coupling by hand repeats to about 1 dB (common practice); the person states what theirs does. */
function newTest(before: string, after: string): PartDecision['damping'][number] {
  return { before, after, abovePercent: 5, uCouplingDb: 1 };
}

function NewTest({
  choices,
  onAdd,
}: {
  readonly choices: readonly CaptureChoice[];
  readonly onAdd: (before: string, after: string) => void;
}) {
  const [before, setBefore] = useState<string | null>(null);
  const [after, setAfter] = useState<string | null>(null);
  const options = choices
    .filter(({ isTrace, detail }) => isTrace || !/^\d+ captures/.test(detail))
    .map(({ reference }) => ({ id: reference, label: reference }));
  return (
    <div className={styles.add}>
      <Choice label="Capture before" options={options} chosen={before} onChoose={setBefore} placeholder="Choose one" />
      <Choice
        label="Capture with the surface damped"
        options={options}
        chosen={after}
        onChoose={setAfter}
        placeholder="Choose one"
      />
      <div className={steps.actions}>
        <Button
          isDisabled={before === null || after === null || before === after}
          onPress={() => {
            if (before === null || after === null) return;
            onAdd(before, after);
            setBefore(null);
            setAfter(null);
          }}
        >
          Compare them
        </Button>
      </div>
    </div>
  );
}

const outcomes: Readonly<Record<DampedEcho['outcome'], { readonly word: string; readonly icon: IconName }>> = {
  changed: { word: 'changed', icon: 'chevron-down' },
  gone: { word: 'gone', icon: 'cross' },
  new: { word: 'new', icon: 'add' },
  unchanged: { word: 'unchanged', icon: 'check' },
  'not-known': { word: 'not known', icon: 'ring' },
};

function Comparison({
  found,
  onShowEcho,
  style,
}: {
  readonly found: DampingComparison;
  readonly onShowEcho: DampingStepProps['onShowEcho'];
  readonly style: FigureStyle;
}) {
  return (
    <>
      <div className={steps.scroll}>
        <table className={steps.table}>
          <thead>
            <tr>
              <th scope="col" className={steps.number}>
                Echo (µs)
              </th>
              <th scope="col" className={steps.number}>
                Change (dB)
              </th>
              <th scope="col" className={steps.number}>
                Moved (µs)
              </th>
            </tr>
          </thead>
          <tbody>
            {found.echoes.map((echo) => {
              const at = echo.before ?? echo.after;
              const { word, icon } = outcomes[echo.outcome];
              return (
                <tr key={`${echo.before?.timeUs} ${echo.after?.timeUs}`}>
                  <td className={steps.number}>
                    {at !== null && (
                      <button
                        type="button"
                        className={styles.echo}
                        onClick={() => onShowEcho(echo.before === null ? found.after : found.before, at.timeUs)}
                        title="Show it on the trace"
                      >
                        {bareFigure(figures.timeUs(at.timeUs, style), style)}
                      </button>
                    )}
                    <span className={styles.outcome} data-outcome={echo.outcome} title={echo.sentence}>
                      <Icon name={icon} /> {word}
                    </span>
                  </td>
                  <Change known={echo.changeDb} figure={figures.levelDb} style={style} />
                  <Change known={echo.shiftUs} figure={figures.timeUs} style={style} />
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      {found.echoes.length === 0 && <p className={steps.note}>No echo stands above this height in either.</p>}
      {found.remarks.map((remark) => (
        <p key={remark} className={steps.note}>
          {remark}
        </p>
      ))}
    </>
  );
}

function Change({
  known,
  figure,
  style,
}: {
  readonly known: Quantity | null;
  readonly figure: (typeof figures)['levelDb' | 'timeUs'];
  readonly style: FigureStyle;
}) {
  const shown = known === null ? null : figure(known, style);
  const u = shown === null ? null : uncertaintyOf(shown);
  return (
    <td className={steps.number}>
      {bareFigure(shown, style)}
      {u !== null && <span className={styles.u}> ± {bareFigure(u, style)}</span>}
    </td>
  );
}
