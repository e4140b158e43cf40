import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { DriftResult } from '../../core/check/drift.ts';
import type { DriftOverTime } from '../../core/check/drift-over-time.ts';
import { needsRange } from '../../core/check/rule.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { DriftDecision } from '../../core/review/review.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { toldOnce } from '../parts/told-once.ts';
import { CapturePicker } from './CapturePicker.tsx';
import { ChecksStep } from './ChecksStep.tsx';
import { type CaptureChoice, chosenInWords } from './capture-choices.ts';
import { DoubtNotes } from './DoubtNote.tsx';
import { DriftChart } from './DriftChart.tsx';
import { chosenRule, noRule, reflectorsOf, ruleOf, ruleOptions } from './drift-decision.ts';
import { FileButton } from './FileButton.tsx';
import { percentOfScreen, positive } from './field-reading.ts';
import { OverTimeStep } from './OverTimeStep.tsx';
import { OptionalQuantityInput, QuantityInput } from './QuantityInput.tsx';
import styles from './Step.module.css';
import { Step, type StepState, Steps } from './Step.tsx';
import { WindowTable } from './WindowTable.tsx';

export interface DriftStepsProps {
  readonly choices: readonly CaptureChoice[];
  readonly decision: DriftDecision;
  readonly onDecision: (decision: DriftDecision) => void;
  /** The calibration in force. */
  readonly calibration: DistanceCalibration | null;
  readonly result: DriftResult | null;
  /** The same checks by instrument and probe; `null` without a result. */
  readonly overTime: DriftOverTime | null;
  /** What keeps the checks from being judged. */
  readonly problems: readonly Problem[];
  readonly isEvaluating: boolean;
  /** What is wrong with the rule file that was given last. */
  readonly ruleProblems: readonly Problem[];
  readonly onRuleFile: (file: File) => void;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
  readonly selected: CaptureId | null;
  readonly onSelect: (captureId: CaptureId) => void;
  readonly style: FigureStyle;
}

/** The drift checks as a column of steps. */
export function DriftSteps(props: DriftStepsProps) {
  return (
    <Steps label="Drift checks">
      <CapturesStep {...props} />
      <ReflectorsStep {...props} />
      <RuleStep {...props} />
      <ChartsStep {...props} />
      <ChecksStep {...props} />
      <OverTimeStep {...props} />
    </Steps>
  );
}

function CapturesStep({ choices, decision, onDecision }: DriftStepsProps) {
  const { captures } = decision;
  return (
    <Step
      title="Check captures"
      state={captures.length === 0 ? 'needs' : 'found'}
      summary={chosenInWords(captures, 'Choose the captures taken on the block through the shift.')}
      isOpenAtFirst={captures.length === 0}
    >
      <CapturePicker
        label="Check captures"
        choices={choices}
        chosen={captures}
        onChosen={(references) => onDecision({ ...decision, captures: [...references] })}
      />
    </Step>
  );
}

function ReflectorsStep({ decision, onDecision, calibration, style }: DriftStepsProps) {
  const { reflectors, thresholdPercent } = decision;
  const list = reflectors.map((r) => figureWords(figures.statedMm(r.distanceMm, style), style)).join(', ');
  const canTakeOver = calibration !== null && calibration.points.length > 0;
  return (
    <Step
      title="Reflectors that are read again"
      state={reflectors.length === 0 ? 'needs' : 'found'}
      summary={
        reflectors.length === 0
          ? 'Needs the reflectors of the calibration, or others of known distance.'
          : `${list}, threshold ${thresholdPercent} % FSH`
      }
      isOpenAtFirst={reflectors.length === 0}
    >
      {calibration === null && (
        <DoubtNotes
          label="No calibration"
          doubts={[{ sentence: 'There is no calibration to hold the checks against.', advice: 'Calibrate first.' }]}
        />
      )}
      <div className={styles.actions}>
        <Button
          isDisabled={!canTakeOver}
          onPress={() => canTakeOver && onDecision({ ...decision, reflectors: [...reflectorsOf(calibration)] })}
        >
          Take the calibration’s reflectors
        </Button>
      </div>
      <WindowTable
        hasTolerance={false}
        list={reflectors}
        style={style}
        onList={(next) => onDecision({ ...decision, reflectors: [...next] })}
      />
      <QuantityInput
        label="Threshold"
        measure="percent"
        bound={percentOfScreen}
        style={style}
        value={thresholdPercent}
        onValue={(value) => onDecision({ ...decision, thresholdPercent: value })}
      />
    </Step>
  );
}

const decisions = [
  { id: 'with-uncertainty', label: 'Limit guarded by 2 u' },
  { id: 'simple-acceptance', label: 'Value alone' },
] as const;

function RuleStep({ decision, onDecision, ruleProblems, onRuleFile, style }: DriftStepsProps) {
  const rule = ruleOf(decision);
  const wantsRange = rule !== null && needsRange(rule) && decision.rangeMm === null;
  const state: StepState = wantsRange ? 'needs' : rule === null ? 'optional' : 'found';
  return (
    <Step
      title="Rule and limits"
      state={state}
      summary={
        rule === null
          ? 'Without a rule there are figures and no verdicts.'
          : wantsRange
            ? `${rule.title} needs the range: its limits are shares of it.`
            : `${rule.title}, ${rule.clause}`
      }
    >
      <Choice
        label="Rule"
        options={ruleOptions(decision.rule?.kind === 'own' ? decision.rule.rule : null)}
        chosen={chosenRule(decision)}
        onChoose={(id) => {
          if (id === noRule) onDecision({ ...decision, rule: null });
          else if (!id.startsWith('own ')) onDecision({ ...decision, rule: { kind: 'published', name: id } });
        }}
      />
      {rule !== null && (
        <p className={styles.note}>
          Edition: {rule.edition}. {rule.source}
        </p>
      )}
      <DoubtNotes
        label="What is wrong with the rule file"
        doubts={ruleProblems.map(({ place, sentence }) => ({
          sentence: `${[place.file, place.line, place.column].filter((part) => part !== null).join(':')}: ${sentence}`,
          advice: null,
        }))}
      />
      <div className={styles.row}>
        <OptionalQuantityInput
          label="Range"
          measure="length"
          bound={positive}
          style={style}
          value={decision.rangeMm}
          description="The full sweep"
          onValue={(rangeMm) => onDecision({ ...decision, rangeMm })}
        />
        <OptionalQuantityInput
          label="Height at calibration"
          measure="percent"
          bound={percentOfScreen}
          style={style}
          value={decision.amplitudePercent}
          placeholder="as calibrated"
          description="Of the highest reflector"
          onValue={(amplitudePercent) => onDecision({ ...decision, amplitudePercent })}
        />
      </div>
      {rule !== null && (
        <Toggle
          label="What decides"
          options={decisions}
          chosen={decision.decision}
          onChoose={(id) => onDecision({ ...decision, decision: id })}
        />
      )}
      <div className={styles.actions}>
        <FileButton label="A rule file of my own …" accept={['.json', 'application/json']} onFile={onRuleFile} />
      </div>
    </Step>
  );
}

function ChartsStep({ result, problems, isEvaluating, onAsk, style }: DriftStepsProps) {
  const state: StepState =
    result === null
      ? problems.length > 0
        ? 'wrong'
        : isEvaluating
          ? 'working'
          : 'needs'
      : result.warnings.length > 0
        ? 'doubt'
        : 'found';
  return (
    <Step
      title="Deviations in order of time"
      state={state}
      summary={
        result === null
          ? 'Needs checks, reflectors and a calibration.'
          : `${result.checks.length} ${result.checks.length === 1 ? 'check' : 'checks'} against the calibration${result.rule === null ? '' : ' and its limits'}.`
      }
    >
      <DoubtNotes
        label="What keeps the checks from being judged"
        doubts={toldOnce(problems).map((sentence) => ({ sentence, advice: null }))}
      />
      {result !== null && (
        <>
          <DriftChart checks={result.checks} quantity="distance-error" onAsk={onAsk} style={style} />
          <DriftChart checks={result.checks} quantity="amplitude-change" onAsk={onAsk} style={style} />
          <DoubtNotes label="What was taken for granted" doubts={warningsOf(result)} />
        </>
      )}
    </Step>
  );
}

/** Each sentence once, with the checks it is about. */
function warningsOf({ warnings }: DriftResult) {
  const about = new Map<string, string[]>();
  for (const { place, sentence } of warnings) about.set(sentence, [...(about.get(sentence) ?? []), place.file]);
  return [...about].map(([sentence, files]) => ({
    sentence,
    advice: files.every((file) => file === 'drift') ? null : files.join(', '),
  }));
}
