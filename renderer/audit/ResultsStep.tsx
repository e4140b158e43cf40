import type { ReactNode } from 'react';
import type { AssessedStep } from '../../core/check/assessed-step.ts';
import type { VerdictOutcome } from '../../core/check/verdict.ts';
import { flagTexts } from '../../core/flag.ts';
import type { LinearityPart } from '../../core/linearity/part.ts';
import type { LinearityRule } from '../../core/linearity/rule.ts';
import { limitsShown, verdictFigure } from '../../core/origin/decision-in-numbers.ts';
import { type Figure as FigureOf, figures, figureWithUncertainty } from '../../core/origin/figure.ts';
import { verdictWords } from '../../core/origin/verdict-words.ts';
import type { FigureAsked, LinearityPartName } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { Quantity } from '../../core/units/quantity.ts';
import { Button } from '../parts/Button.tsx';
import { Figure } from '../parts/Figure.tsx';
import { toldOnce } from '../parts/told-once.ts';
import { DoubtNotes } from '../procedures/DoubtNote.tsx';
import styles from '../procedures/Step.module.css';
import { Step, type StepState } from '../procedures/Step.tsx';
import { isSame } from './asked.ts';
import own from './Check.module.css';
import { inWords } from './figure-words.ts';
import { VerdictSign } from './VerdictSign.tsx';

export interface ResultsProps {
  readonly name: LinearityPartName;
  /** `null` where there is none yet. */
  readonly part: LinearityPart<LinearityRule> | null;
  /** Everything that the check needs is decided. */
  readonly isAsked: boolean;
  readonly isEvaluating: boolean;
  readonly problems: readonly Problem[];
  readonly needs: string;
  readonly plot: ReactNode;
  /** What is to be said of the whole beside its verdict. */
  readonly about?: readonly string[];
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}

/** What came of a check: the verdict of the whole, the plot, each step with its arithmetic to be asked, and what was not assessed. */
export function ResultsStep(props: ResultsProps) {
  const { part, isAsked, isEvaluating, problems, needs } = props;
  if (part === null || !isAsked) {
    const isWrong = isAsked && problems.length > 0;
    return (
      <Step
        title="Steps and verdicts"
        state={isWrong ? 'wrong' : isAsked && isEvaluating ? 'working' : 'needs'}
        summary={isWrong ? 'The check could not be made.' : needs}
      >
        <DoubtNotes
          label="What keeps the check from being made"
          doubts={(isAsked ? toldOnce(problems) : []).map((sentence) => ({ sentence, advice: null }))}
        />
      </Step>
    );
  }
  return <Results {...props} part={part} />;
}

const states: Readonly<Record<VerdictOutcome, StepState>> = {
  pass: 'found',
  fail: 'wrong',
  inconclusive: 'doubt',
  'not-assessed': 'doubt',
};

function Results(props: ResultsProps & { readonly part: LinearityPart<LinearityRule> }) {
  const { name, part, problems, plot, about = [], asked, onAsk, isEvaluating } = props;
  const { steps, conclusions, outcome, rule, unused, warnings } = part;
  const ofCheck: FigureAsked = { kind: 'linearity', part: name, of: 'check', figure: 'verdict' };
  const common = commonLimits(steps);
  return (
    <Step
      title="Steps and verdicts"
      state={isEvaluating ? 'working' : outcome === null ? 'optional' : states[outcome]}
      word={isEvaluating ? null : outcome === null ? 'no rule' : verdictWords[outcome]}
      summary={summaryOf(part)}
    >
      {outcome !== null && rule !== null && (
        <p className={own.overall}>
          <span>The whole check</span>
          <span className={own.why}>
            <VerdictSign outcome={outcome} />
            <Button
              small
              kind="quiet"
              aria-label={`Why? The verdict of the whole check: ${verdictWords[outcome]}`}
              {...(isSame(asked, ofCheck) ? { 'aria-current': 'true' as const } : {})}
              onPress={() => onAsk(ofCheck)}
            >
              Why?
            </Button>
          </span>
        </p>
      )}
      {plot}
      {about.map((sentence) => (
        <p key={sentence} className={styles.note}>
          {sentence}
        </p>
      ))}
      <DoubtNotes
        label="What is wrong with the steps"
        doubts={toldOnce(problems).map((sentence) => ({ sentence, advice: null }))}
      />
      {conclusions.length > 0 && (
        <>
          <h4 className={own.heading}>What follows from all steps</h4>
          <StepList {...props} of="conclusions" steps={conclusions} common={null} />
        </>
      )}
      {steps.length > 0 && (
        <h4 className={own.heading}>
          Each step{common !== null && `, allowed ${inWords(limitsShown(common.limits, common.unit, props.style))}`}
        </h4>
      )}
      <StepList {...props} of="steps" steps={steps} common={common} />
      {unused.length > 0 && (
        <details className={own.folded}>
          <summary>
            {unused.length} {unused.length === 1 ? 'capture serves' : 'captures serve'} no step
          </summary>
          <ul className={own.unused}>
            {unused.map(({ captureId, reason }) => (
              <li key={captureId}>
                {captureId}: {reason}
              </li>
            ))}
          </ul>
        </details>
      )}
      <DoubtNotes
        label="What was taken for granted"
        doubts={toldOnce(warnings).map((sentence) => ({ sentence, advice: null }))}
      />
    </Step>
  );
}

function summaryOf({ steps, conclusions, rule, outcome }: LinearityPart<LinearityRule>): string {
  const all = [...steps, ...conclusions];
  if (rule === null) return `${steps.length} steps; no rule was chosen, so there is no verdict.`;
  if (outcome === null) return `${steps.length} steps; the rule limits none of them.`;
  const count = (wanted: VerdictOutcome) => all.filter(({ verdict }) => verdict?.outcome === wanted).length;
  const words = (['fail', 'inconclusive', 'not-assessed', 'pass'] as const)
    .filter((wanted) => count(wanted) > 0)
    .map((wanted) => `${count(wanted)} ${verdictWords[wanted]}`);
  return `${words.join(', ')}.`;
}

interface Common {
  readonly limits: NonNullable<AssessedStep['limits']>;
  readonly unit: AssessedStep['unit'];
}

/** One pair of limits for all steps that have any; `null` where they differ. */
function commonLimits(steps: readonly AssessedStep[]): Common | null {
  const limited = steps.flatMap(({ limits, unit }) => (limits === null ? [] : [{ limits, unit }]));
  const [first] = limited;
  if (first === undefined) return null;
  const isOne = limited.every(
    ({ limits, unit }) =>
      limits.lower === first.limits.lower && limits.upper === first.limits.upper && unit === first.unit,
  );
  return isOne ? first : null;
}

function StepList({
  name,
  of,
  steps,
  common,
  asked,
  onAsk,
  style,
}: ResultsProps & {
  readonly of: 'steps' | 'conclusions';
  readonly steps: readonly AssessedStep[];
  readonly common: Common | null;
}) {
  return (
    <ol className={own.results} aria-label={of === 'steps' ? 'Steps' : 'What follows from all steps'}>
      {steps.map((step, index) => {
        const ask = (figure: 'read' | 'deviation' | 'verdict', title: string, text: string) => {
          const figureAsked: FigureAsked = { kind: 'linearity', part: name, of, index, figure };
          return (
            <Figure
              name={`${title} of ${step.name}`}
              text={inWords(text)}
              asked={figureAsked}
              onAsk={onAsk}
              isAsked={isSame(asked, figureAsked)}
            />
          );
        };
        const { read, expected, deviation, readUnit, unit, limits, verdict, flags, remark } = step;
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: steps stand in the order of the rule, and two may have one name
          <li key={index} className={own.result}>
            <div className={own.line}>
              <span className={own.name}>{sentenceCase(step.name)}</span>
              {deviation === null ? (
                <span className={own.soft}>–</span>
              ) : (
                ask('deviation', unit === 'dB' ? 'Error' : 'Deviation', written({ measured: deviation, unit }, style))
              )}
              {verdict !== null && <VerdictSign outcome={verdict.outcome} bare={verdict.outcome === 'pass'} />}
            </div>
            {(read !== null || expected !== null) && (
              <p className={own.soft}>
                {read !== null && <>read {ask('read', 'Reading', figureText(read, readUnit, style))}</>}
                {read !== null && expected !== null && ', '}
                {expected !== null && (
                  <>expected {inWords(figureText({ ...expected, standardUncertainty: null }, readUnit, style))}</>
                )}
              </p>
            )}
            {common === null && limits !== null && (
              <p className={own.soft}>allowed {inWords(limitsShown(limits, unit, style))}</p>
            )}
            {remark !== null && (
              <p className={verdict === null || verdict.outcome === 'pass' ? own.soft : own.remark}>
                {sentenceCase(remark)}
              </p>
            )}
            {flags.map((flag) => (
              <p key={flag} className={own.remark}>
                {flagTexts[flag].sentence}
              </p>
            ))}
          </li>
        );
      })}
    </ol>
  );
}

/** What is exact is written without an uncertainty of nought. */
function written({ measured, unit }: Parameters<typeof verdictFigure>[0], style: FigureStyle): string {
  const known = measured?.standardUncertainty === 0 ? { ...measured, standardUncertainty: null } : measured;
  return figureWithUncertainty(verdictFigure({ measured: known, unit }, style), style);
}

function figureText(quantity: Quantity, unit: AssessedStep['readUnit'], style: FigureStyle): string {
  return figureWithUncertainty(readFigure(quantity, unit, style), style);
}

function readFigure(quantity: Quantity, unit: AssessedStep['readUnit'], style: FigureStyle): FigureOf {
  switch (unit) {
    case 'µs':
      return figures.echoTimeUs(quantity, style);
    case 'mm':
      return figures.lengthMm(quantity, style);
    case 'dB':
      return figures.levelDb(quantity, style);
    case '%':
      return figures.amplitudePercent(quantity, style);
  }
}

function sentenceCase(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
