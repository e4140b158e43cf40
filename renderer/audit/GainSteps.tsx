import { rulesFor } from '../../core/linearity/rule.ts';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { GainDecision } from '../../core/review/linearity-decision.ts';
import type { GainCheck } from '../../core/steps/linearity.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { percentOfScreen } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import { Step, Steps } from '../procedures/Step.tsx';
import { CapturesStep, type CheckProps, RuleStep, WindowFields } from './CheckSteps.tsx';
import { DeviationPlot } from './DeviationPlot.tsx';
import { inWords } from './figure-words.ts';
import { GainTableStep } from './GainTable.tsx';
import { isGiven, noGain } from './linearity-decision.ts';
import { ResultsStep } from './ResultsStep.tsx';
import { windowWords } from './ScreenHeightSteps.tsx';
import { orderWords } from './step-order.ts';

export interface GainStepsProps extends CheckProps {
  readonly decision: GainDecision | null;
  readonly onDecision: (decision: GainDecision | null) => void;
  readonly check: GainCheck | null;
  /** Those that were chosen, in the review's order. */
  readonly captures: readonly TraceFacts[];
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
}

/** Whether a step of the gain in dB is one, as a column of steps. */
export function GainSteps(props: GainStepsProps) {
  const { onDecision, captures, onSelect, check, style, onDraw, drawing } = props;
  const decision = props.decision ?? noGain;
  const given = isGiven(decision.window);
  return (
    <Steps label="Gain linearity">
      <CapturesStep
        {...props}
        captures={decision.captures}
        nothing="Choose the captures of one echo at known steps of the gain."
        onCaptures={(next) => onDecision({ ...decision, captures: next })}
        onRemove={props.decision === null ? null : () => onDecision(null)}
      />
      <Step
        title="Echo"
        state={given ? 'found' : 'needs'}
        summary={given ? `From ${windowWords(decision.window, style)}` : 'Draw or type the window of the echo.'}
      >
        <WindowFields
          name="echo"
          window={decision.window}
          onWindow={(window) => onDecision({ ...decision, window })}
          onDraw={onDraw}
          drawing={drawing}
          style={style}
        />
        <QuantityInput
          label="Threshold"
          measure="percent"
          bound={percentOfScreen}
          style={style}
          value={decision.thresholdPercent}
          onValue={(thresholdPercent) => onDecision({ ...decision, thresholdPercent })}
        />
      </Step>
      <GainTableStep
        steps={decision.steps}
        onSteps={(steps) => onDecision({ ...decision, steps })}
        captures={captures}
        faults={check?.faults ?? []}
        onSelect={onSelect}
        style={style}
      />
      <RuleStep
        published={rulesFor('gain')}
        check="gain"
        choice={decision.rule}
        onChoice={(rule) => onDecision({ ...decision, rule })}
        decision={decision.decision}
        onDecision={(by) => onDecision({ ...decision, decision: by })}
      />
      <ResultsStep
        {...props}
        name="gain"
        part={check}
        isAsked={decision.captures.length > 0 && given}
        needs="Needs the captures and the window of the echo."
        about={check === null ? [] : aboutRange(check, style)}
        plot={check === null ? null : <Plot {...props} check={check} />}
      />
    </Steps>
  );
}

function aboutRange({ order, qualified, rule }: GainCheck, style: FigureStyle): string[] {
  const said = orderWords[order];
  if (qualified === null || rule === null || rule.form !== 'run') return [said];
  const db = (value: number) => inWords(figureWords(figures.levelDb(value, style), style));
  const total = inWords(figureWithUncertainty(figures.levelDb(qualified.totalDb, style), style));
  return [
    said,
    `The widest range of the gain over which the errors add up to no more than ${db(rule.totalDb)} is from ${db(qualified.fromDb)} to ${db(qualified.toDb)}; they add up to ${total} in it.`,
  ];
}

/** A rule with a table judges each step; one that adds the errors up is seen in their running sum over the gain. */
function Plot({ check, onAsk, style }: GainStepsProps & { readonly check: GainCheck }) {
  const { rule, steps, points } = check;
  if (rule !== null && rule.form === 'table')
    return (
      <DeviationPlot
        title="Deviation from the height expected"
        unit="%"
        across={{ title: 'number of the step', from: 1, to: Math.max(2, steps.length) }}
        points={steps.map((step, index) => ({
          at: index + 1,
          name: step.name,
          value: step.deviation,
          limits: step.limits,
          outcome: step.verdict?.outcome ?? null,
          asked: { kind: 'linearity', part: 'gain', of: 'steps', index, figure: 'deviation' },
        }))}
        onAsk={onAsk}
        style={style}
      />
    );
  const levels = points.map(({ levelDb }) => levelDb);
  return (
    <DeviationPlot
      title="Error summed up from the first setting"
      unit="dB"
      across={{ title: 'gain (dB)', from: Math.min(...levels), to: Math.max(...levels) }}
      points={points
        .map((point, index) => ({
          at: point.levelDb,
          name: `at ${Number(point.levelDb.toFixed(1))} dB`,
          value: point.totalErrorDb,
          limits: rule !== null && rule.form === 'run' ? { lower: -rule.totalDb, upper: rule.totalDb } : null,
          outcome: null,
          asked: { kind: 'linearity', part: 'gain', of: 'points', index, figure: 'total-error' } as const,
        }))
        .toSorted((a, b) => a.at - b.at)}
      isJoined
      onAsk={onAsk}
      style={style}
    />
  );
}
