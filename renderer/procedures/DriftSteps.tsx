import { type ReactNode, useId, useState } from 'react';
import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { DriftCheck, DriftedReflector, DriftResult } from '../../core/check/drift.ts';
import { needsRange } from '../../core/check/rule.ts';
import { flagTexts } from '../../core/flag.ts';
import {
  bareFigure,
  type Figure as FigureOf,
  figures,
  figureWithUncertainty,
  figureWords,
  uncertaintyOf,
} from '../../core/origin/figure.ts';
import { verdictWords } from '../../core/origin/verdict-words.ts';
import type { DriftFigure, FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { DriftDecision } from '../../core/review/review.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Icon, type IconName } from '../parts/Icon.tsx';
import { CapturePicker } from './CapturePicker.tsx';
import { type CaptureChoice, chosenInWords } from './capture-choices.ts';
import { DoubtNotes } from './DoubtNote.tsx';
import { DriftChart } from './DriftChart.tsx';
import own from './DriftSteps.module.css';
import { chosenRule, noRule, reflectorsOf, ruleOf, ruleOptions } from './drift-decision.ts';
import { FileButton } from './FileButton.tsx';
import { percentOfScreen, positive } from './field-reading.ts';
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
        doubts={problems.map(({ sentence }) => ({ sentence, advice: null }))}
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

// ── the checks, one by one ──────────────────────────────────────────────────

function ChecksStep(props: DriftStepsProps) {
  const { result } = props;
  if (result === null || result.checks.length === 0) {
    return (
      <Step title="Verdicts and what follows" state="needs" summary="Needs the checks.">
        {null}
      </Step>
    );
  }
  const failing = result.checks.filter((check) => check.verdict === 'fail').length;
  const open = result.checks.filter((check) => check.verdict === 'inconclusive').length;
  const summary =
    result.rule === null
      ? 'No rule was chosen: there are no verdicts.'
      : failing === 0 && open === 0
        ? 'Every check passes.'
        : [failing > 0 ? `${failing} failing` : '', open > 0 ? `${open} inconclusive` : ''].filter(Boolean).join(', ');
  return (
    <Step
      title="Verdicts and what follows"
      state={failing > 0 ? 'wrong' : open > 0 ? 'doubt' : result.rule === null ? 'optional' : 'found'}
      word={failing > 0 ? 'failing' : open > 0 ? 'not decided' : result.rule === null ? 'no rule' : 'passing'}
      summary={summary}
    >
      {result.firstFailing !== null && <Reexamine {...props} result={result} firstFailing={result.firstFailing} />}
      <ol className={own.checks} aria-label="Checks in order of time">
        {result.checks.map((check) => (
          <Check key={check.captureId} {...props} check={check} />
        ))}
      </ol>
    </Step>
  );
}

/** What the first failing check puts in doubt, in the words of the rule. */
function Reexamine({
  result,
  firstFailing,
}: DriftStepsProps & { readonly result: DriftResult; readonly firstFailing: CaptureId }) {
  const check = result.checks.find(({ captureId }) => captureId === firstFailing);
  return (
    <DoubtNotes
      label="What must be done"
      doubts={[
        {
          sentence: `First failing: ${fileOf(firstFailing)}${check?.takenAt ? ` (${clock(check.takenAt)})` : ''}`,
          advice: check?.consequences.join(' ') ?? null,
        },
      ]}
    />
  );
}

const verdictIcons: Readonly<Record<NonNullable<DriftCheck['verdict']>, IconName>> = {
  pass: 'check',
  fail: 'cross',
  inconclusive: 'doubt',
};

function clock(takenAt: string): string {
  return takenAt.replace('T', ' ').replace(/:00(?=Z|[+-]|$)/, '');
}

function Check({ check, asked, onAsk, onSelect, style }: DriftStepsProps & { readonly check: DriftCheck }) {
  const { verdict } = check;
  // Until a person decides: a check that comes to fail under another rule unfolds.
  const [decided, setOpen] = useState<boolean | null>(null);
  const isOpen = decided ?? verdict !== 'pass';
  const id = useId();
  const ask = (figure: DriftFigure, distanceMm: number | null, name: string, text: string) => {
    const own: FigureAsked = { kind: 'drift', captureId: check.captureId, distanceMm, figure };
    const isAsked =
      asked?.kind === 'drift' &&
      asked.captureId === check.captureId &&
      asked.figure === figure &&
      asked.distanceMm === distanceMm;
    return <Figure name={name} text={text} asked={own} onAsk={onAsk} isAsked={isAsked} />;
  };
  const written = (figure: FigureOf | null) => figureWithUncertainty(figure, style);
  return (
    <li className={[own.check, verdict === null ? '' : own[verdict]].join(' ')}>
      <div className={own.head}>
        <button
          type="button"
          className={own.unfold}
          aria-expanded={isOpen}
          aria-controls={id}
          onClick={() => setOpen(!isOpen)}
        >
          <Icon name={isOpen ? 'chevron-down' : 'chevron-right'} />
          <span className={own.name}>{fileOf(check.captureId)}</span>
          <span className={own.taken}>{check.takenAt === null ? 'time not stated' : clock(check.takenAt)}</span>
        </button>
        {verdict !== null && (
          <span className={own.verdict}>
            <Icon name={verdictIcons[verdict]} />
            {ask('verdict', null, 'Verdict', verdictWords[verdict])}
          </span>
        )}
      </div>
      <div id={id} hidden={!isOpen} className={own.body}>
        <table className={styles.table}>
          <thead>
            <tr>
              <th>Reflector</th>
              <th className={styles.number}>Distance error ({unitSign('length', style)})</th>
              <th className={styles.number}>Amplitude change (dB)</th>
            </tr>
          </thead>
          <tbody>
            {check.reflectors.map((reflector) => (
              <ReflectorRow key={reflector.distanceMm} reflector={reflector} ask={ask} style={style} />
            ))}
          </tbody>
        </table>
        <dl className={styles.figures}>
          <dt>Zero offset changed by</dt>
          <dd>
            {ask(
              'zero-offset-change',
              null,
              'Zero offset change',
              written(check.zeroOffsetChangeUs && figures.timeUs(check.zeroOffsetChangeUs, style)),
            )}
          </dd>
          <dt>Velocity changed by</dt>
          <dd>
            {ask(
              'velocity-change',
              null,
              'Velocity change',
              written(check.velocityChangePercent && figures.changePercent(check.velocityChangePercent, style)),
            )}
          </dd>
        </dl>
        {check.causeSentence !== null && <p>{check.causeSentence}</p>}
        <DoubtNotes
          label={`Doubts about ${check.captureId}`}
          doubts={check.flags.filter((flag) => flag !== 'drift').map((flag) => flagTexts[flag])}
        />
        <Demands title="What the rule demands" sentences={check.consequences} />
        <Demands title="The limits are kept; the rule asks all the same" sentences={check.remarks} />
        <div>
          <Button small onPress={() => onSelect(check.captureId)}>
            Show the capture
          </Button>
        </div>
      </div>
    </li>
  );
}

function Demands({ title, sentences }: { readonly title: string; readonly sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <div>
      <p className={styles.note}>{title}</p>
      <ul className={own.do}>
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </div>
  );
}

/** Checks have one trace as a rule: its file names it. */
function fileOf(captureId: CaptureId): string {
  return captureId.split('#')[0] ?? captureId;
}

function ReflectorRow({
  reflector,
  ask,
  style,
}: {
  readonly reflector: DriftedReflector;
  readonly ask: (figure: DriftFigure, distanceMm: number | null, name: string, text: string) => ReactNode;
  readonly style: FigureStyle;
}) {
  const { distanceMm, distanceErrorMm, amplitudeChangeDb } = reflector;
  const at = figureWords(figures.statedMm(distanceMm, style), style);
  const bare = (figure: FigureOf | null) => {
    const u = figure === null ? null : uncertaintyOf(figure);
    return u === null ? bareFigure(figure, style) : `${bareFigure(figure, style)} ± ${bareFigure(u, style)}`;
  };
  return (
    <tr>
      <td>{at}</td>
      <td className={styles.number}>
        {ask(
          'distance-error',
          distanceMm,
          `Distance error at ${at}`,
          bare(distanceErrorMm && figures.lengthMm(distanceErrorMm, style)),
        )}
      </td>
      <td className={styles.number}>
        {ask(
          'amplitude-change',
          distanceMm,
          `Amplitude change at ${at}`,
          bare(amplitudeChangeDb && figures.levelDb(amplitudeChangeDb, style)),
        )}
      </td>
    </tr>
  );
}
