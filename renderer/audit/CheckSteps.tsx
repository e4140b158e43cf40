import { type ReactNode, useRef, useState } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { DecisionRule } from '../../core/check/verdict.ts';
import { type LinearityRule, readLinearityRule } from '../../core/linearity/rule.ts';
import { type Problem, problem } from '../../core/outcome.ts';
import type { TimeBaseDecision } from '../../core/review/linearity-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { CapturePicker } from '../procedures/CapturePicker.tsx';
import { type CaptureChoice, chosenInWords } from '../procedures/capture-choices.ts';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import { FileButton } from '../procedures/FileButton.tsx';
import { anything, type Bound } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step, type StepState } from '../procedures/Step.tsx';
import { readSmallFile } from '../procedures/small-file.ts';
import own from './Check.module.css';
import { isGiven, type Window } from './linearity-decision.ts';

/** What every check of an instrument works with beside its own decision. */
export interface CheckProps {
  readonly choices: readonly CaptureChoice[];
  readonly isEvaluating: boolean;
  /** What keeps the check from being made. */
  readonly problems: readonly Problem[];
  readonly selected: CaptureId | null;
  readonly onSelect: (captureId: CaptureId) => void;
  /** A window is to be drawn on the trace; `null`: no longer. */
  readonly onDraw: (wanted: { readonly name: string; readonly take: (window: Window) => void } | null) => void;
  /** The name of the window that is being drawn. */
  readonly drawing: string | null;
  readonly style: FigureStyle;
}

/** Which captures a check is made from; a check that was begun can be left out again. */
export function CapturesStep({
  choices,
  captures,
  nothing,
  onCaptures,
  onRemove,
  remove = 'Leave this check out',
}: Pick<CheckProps, 'choices'> & {
  readonly captures: readonly string[];
  /** What is needed, where nothing is chosen. */
  readonly nothing: string;
  readonly onCaptures: (captures: string[]) => void;
  /** `null` where there is nothing to leave out. */
  readonly onRemove: (() => void) | null;
  /** What that is called. */
  readonly remove?: string;
}) {
  return (
    <Step
      title="Captures"
      state={captures.length === 0 ? 'needs' : 'found'}
      summary={chosenInWords(captures, nothing)}
      isOpenAtFirst={captures.length === 0}
    >
      <CapturePicker
        label="Captures"
        choices={choices}
        chosen={captures}
        onChosen={(references) => onCaptures([...references])}
      />
      {onRemove !== null && (
        <div className={styles.actions}>
          <Button small onPress={onRemove}>
            {remove}
          </Button>
        </div>
      )}
    </Step>
  );
}

/** When an echo is looked for: typed, or drawn on the trace as a gate is. */
export function WindowFields({
  name,
  window,
  onWindow,
  onDraw,
  drawing,
  style,
}: Pick<CheckProps, 'onDraw' | 'drawing' | 'style'> & {
  readonly name: string;
  readonly window: Window;
  readonly onWindow: (window: Window) => void;
}) {
  const isDrawn = drawing === name;
  // What is drawn a while later goes into the decision as it stands then.
  const latest = useRef(onWindow);
  latest.current = onWindow;
  const before: Bound = isGiven(window)
    ? { holds: (from) => from < window.toUs, sentence: 'begin before the end' }
    : anything;
  const after: Bound = { holds: (to) => to > window.fromUs, sentence: 'end after the beginning' };
  return (
    <fieldset className={own.window} aria-label={`Window of the ${name}`}>
      <legend className={styles.sub}>{name.charAt(0).toUpperCase() + name.slice(1)}</legend>
      <div className={own.ends}>
        <QuantityInput
          label="From"
          measure="time"
          bound={before}
          style={style}
          value={window.fromUs}
          onValue={(fromUs) => onWindow({ ...window, fromUs })}
        />
        <QuantityInput
          label="To"
          measure="time"
          bound={after}
          style={style}
          value={window.toUs}
          onValue={(toUs) => onWindow({ ...window, toUs })}
        />
        <Button
          aria-pressed={isDrawn}
          onPress={() => onDraw(isDrawn ? null : { name, take: (drawn) => latest.current(drawn) })}
          aria-label={isDrawn ? `Stop drawing the ${name}` : `Draw the ${name} on the trace`}
        >
          {isDrawn ? 'Stop' : 'Draw'}
        </Button>
      </div>
    </fieldset>
  );
}

type RuleChoice = TimeBaseDecision['rule'];

const noRule = 'none';
const decisions = [
  { id: 'with-uncertainty', label: 'Limit guarded by 2 u' },
  { id: 'simple-acceptance', label: 'Value alone' },
] as const;

/** Which rule limits the deviations; none is chosen in silence. */
export function RuleStep<Rule extends LinearityRule>({
  published,
  check,
  choice,
  onChoice,
  decision,
  onDecision,
  children = null,
}: {
  readonly published: readonly Rule[];
  readonly check: LinearityRule['check'];
  readonly choice: RuleChoice;
  readonly onChoice: (choice: RuleChoice) => void;
  readonly decision: DecisionRule;
  readonly onDecision: (decision: DecisionRule) => void;
  /** What the limits depend on beside the rule. */
  readonly children?: ReactNode;
}) {
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const rule: LinearityRule | null =
    choice === null
      ? null
      : choice.kind === 'own'
        ? choice.rule
        : (published.find(({ name }) => name === choice.name) ?? null);
  const isUnknown = choice !== null && rule === null;
  const state: StepState = isUnknown ? 'wrong' : rule === null ? 'optional' : 'found';

  async function takeFile(file: File): Promise<void> {
    const { name, text } = await readSmallFile(file);
    const read = readLinearityRule(name, text);
    const isOther = read.ok && read.value.check !== check;
    setProblems(
      !read.ok
        ? read.problems
        : isOther
          ? [
              problem(
                'rule-of-another-check',
                { file: name },
                `this is a rule for another check (${read.value.check}); one for ${check} is needed here`,
              ),
            ]
          : [],
    );
    if (read.ok && !isOther) onChoice({ kind: 'own', rule: read.value });
  }

  return (
    <Step
      title="Rule and limits"
      state={state}
      summary={
        isUnknown && choice.kind === 'published'
          ? `No published rule is called "${choice.name}".`
          : rule === null
            ? 'Without a rule there are figures and no verdicts.'
            : `${rule.title}, ${rule.clause}`
      }
    >
      <Choice
        label="Rule"
        options={[
          { id: noRule, label: 'No rule: figures without verdicts' },
          ...published.map(({ name, title, edition }) => ({ id: name, label: title, description: edition })),
          ...(choice?.kind === 'own'
            ? [
                {
                  id: `own ${choice.rule.name}`,
                  label: choice.rule.title,
                  description: `${choice.rule.edition} (a rule of my own)`,
                },
              ]
            : []),
        ]}
        chosen={choice === null ? noRule : choice.kind === 'own' ? `own ${choice.rule.name}` : choice.name}
        onChoose={(id) => {
          if (id === noRule) onChoice(null);
          else if (!id.startsWith('own ')) onChoice({ kind: 'published', name: id });
        }}
      />
      {rule !== null && (
        <p className={styles.note}>
          Edition: {rule.edition}. {rule.source}
        </p>
      )}
      <DoubtNotes
        label="What is wrong with the rule file"
        doubts={problems.map(({ place, sentence }) => ({
          sentence: `${sentence} (${[place.file, place.line, place.column].filter((part) => part !== null).join(':')})`,
          advice: null,
        }))}
      />
      {children}
      {rule !== null && (
        <Toggle label="What decides" options={decisions} chosen={decision} onChoose={(id) => onDecision(id)} />
      )}
      <div className={styles.actions}>
        <FileButton
          label="A rule file of my own …"
          accept={['.json', 'application/json']}
          onFile={(file) => void takeFile(file)}
        />
      </div>
    </Step>
  );
}
