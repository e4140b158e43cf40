import { rulesFor } from '../../core/linearity/rule.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { ScreenHeightDecision, StepTable } from '../../core/review/linearity-decision.ts';
import type { ScreenHeightCheck } from '../../core/steps/linearity.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { Toggle } from '../parts/Choice.tsx';
import { percentOfScreen } from '../procedures/field-reading.ts';
import { QuantityInput } from '../procedures/QuantityInput.tsx';
import { Step, Steps } from '../procedures/Step.tsx';
import { CapturesStep, type CheckProps, RuleStep, WindowFields } from './CheckSteps.tsx';
import { DeviationPlot } from './DeviationPlot.tsx';
import { GainTableStep } from './GainTable.tsx';
import { inForm, isGiven, noTwoEcho, type Window } from './linearity-decision.ts';
import { ResultsStep } from './ResultsStep.tsx';
import { orderWords } from './step-order.ts';

export interface ScreenHeightStepsProps extends CheckProps {
  readonly decision: ScreenHeightDecision | null;
  readonly onDecision: (decision: ScreenHeightDecision | null) => void;
  readonly check: ScreenHeightCheck | null;
  /** Those that were chosen, in the review's order. */
  readonly captures: readonly TraceFacts[];
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
}

type Of = ScreenHeightStepsProps & { readonly decision: ScreenHeightDecision };

/** Whether an echo half as high is shown half as high, as a column of steps. */
export function ScreenHeightSteps(props: ScreenHeightStepsProps) {
  const { onDecision, captures, onSelect, check, style } = props;
  const decision = props.decision ?? noTwoEcho;
  const of = { ...props, decision };
  const published = rulesFor('screen-height').filter(
    ({ form }) => (form === 'two-echo') === (decision.form === 'two-echo'),
  );
  return (
    <Steps label="Screen-height linearity">
      <CapturesStep
        {...props}
        captures={decision.captures}
        nothing="Choose the captures in which the echoes step through the screen."
        onCaptures={(next) => onDecision({ ...decision, captures: next })}
        onRemove={props.decision === null ? null : () => onDecision(null)}
      />
      <EchoesStep {...of} />
      {decision.form === 'stepped-gain' && (
        <GainTableStep
          steps={decision.steps}
          onSteps={(steps: StepTable | null) => onDecision({ ...decision, steps })}
          captures={captures}
          faults={check?.form === 'stepped-gain' ? check.faults : []}
          onSelect={onSelect}
          style={style}
        />
      )}
      <RuleStep
        published={published}
        check="screen-height"
        choice={decision.rule}
        onChoice={(rule) => onDecision({ ...decision, rule })}
        decision={decision.decision}
        onDecision={(by) => onDecision({ ...decision, decision: by })}
      />
      <ResultsStep
        {...props}
        name="screenHeight"
        part={check}
        isAsked={decision.captures.length > 0 && areGiven(decision)}
        needs="Needs the captures and the windows of the echoes."
        about={check?.form === 'stepped-gain' ? [orderWords[check.order]] : []}
        plot={check === null ? null : <Plot {...of} check={check} />}
      />
    </Steps>
  );
}

function areGiven(decision: ScreenHeightDecision): boolean {
  return decision.form === 'two-echo'
    ? isGiven(decision.larger) && isGiven(decision.smaller)
    : isGiven(decision.window);
}

const forms = [
  { id: 'two-echo', label: 'Two echoes' },
  { id: 'stepped-gain', label: 'One echo, stepped' },
] as const;

export function windowWords({ fromUs, toUs }: Window, style: FigureStyle): string {
  return `${figureWords(figures.timeUs(fromUs, style), style)} to ${figureWords(figures.timeUs(toUs, style), style)}`;
}

function EchoesStep({ decision, onDecision, style, onDraw, drawing }: Of) {
  const given = areGiven(decision);
  const summary = !given
    ? decision.form === 'two-echo'
      ? 'Draw or type a window for each of the two echoes.'
      : 'Draw or type the window of the echo.'
    : decision.form === 'two-echo'
      ? `Larger from ${windowWords(decision.larger, style)}, smaller from ${windowWords(decision.smaller, style)}`
      : `From ${windowWords(decision.window, style)}`;
  return (
    <Step title="Echoes" state={given ? 'found' : 'needs'} summary={summary}>
      <Toggle
        label="How the screen was stepped through"
        options={forms}
        chosen={decision.form}
        onChoose={(form) => onDecision(inForm(decision, form))}
      />
      {decision.form === 'two-echo' ? (
        <>
          <WindowFields
            name="larger echo"
            window={decision.larger}
            onWindow={(larger) => onDecision({ ...decision, larger })}
            onDraw={onDraw}
            drawing={drawing}
            style={style}
          />
          <WindowFields
            name="smaller echo"
            window={decision.smaller}
            onWindow={(smaller) => onDecision({ ...decision, smaller })}
            onDraw={onDraw}
            drawing={drawing}
            style={style}
          />
        </>
      ) : (
        <WindowFields
          name="echo"
          window={decision.window}
          onWindow={(window) => onDecision({ ...decision, window })}
          onDraw={onDraw}
          drawing={drawing}
          style={style}
        />
      )}
      <QuantityInput
        label="Threshold"
        measure="percent"
        bound={percentOfScreen}
        style={style}
        value={decision.thresholdPercent}
        onValue={(thresholdPercent) => onDecision({ ...decision, thresholdPercent })}
      />
    </Step>
  );
}

/** Against what was expected: the height that a linear screen would show. */
function Plot({ check, onAsk, style }: Of & { readonly check: ScreenHeightCheck }) {
  const places = check.steps.map(({ expected, name }) => expected?.value ?? heightNamed(name) ?? 0);
  return (
    <DeviationPlot
      title="Deviation from the height expected"
      unit="%"
      across={{ title: 'height expected (% FSH)', from: 0, to: 10 * Math.ceil(Math.max(10, ...places) / 10) }}
      points={check.steps.map((step, index) => ({
        at: places[index] ?? 0,
        name: step.name,
        value: step.deviation,
        limits: step.limits,
        outcome: step.verdict?.outcome ?? null,
        asked: { kind: 'linearity', part: 'screenHeight', of: 'steps', index, figure: 'deviation' },
      }))}
      onAsk={onAsk}
      style={style}
    />
  );
}

/** A step that nothing was read for bears its height in its name. */
function heightNamed(name: string): number | null {
  const found = /(\d+(?:\.\d+)?) %$/.exec(name)?.[1];
  return found === undefined ? null : Number(found) / 2;
}
