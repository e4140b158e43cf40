import { rulesFor } from '../../core/linearity/rule.ts';
import { figures, figureWords } from '../../core/origin/figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { TimeBaseDecision } from '../../core/review/linearity-decision.ts';
import type { TimeBaseCheck } from '../../core/steps/linearity.ts';
import { toShown, unitSign } from '../../core/units/figure-style.ts';
import { Toggle } from '../parts/Choice.tsx';
import { percentOfScreen, positive } from '../procedures/field-reading.ts';
import { OptionalQuantityInput, QuantityInput } from '../procedures/QuantityInput.tsx';
import styles from '../procedures/Step.module.css';
import { Step, Steps } from '../procedures/Step.tsx';
import { WindowTable } from '../procedures/WindowTable.tsx';
import { CapturesStep, type CheckProps, RuleStep, WindowFields } from './CheckSteps.tsx';
import { DeviationPlot } from './DeviationPlot.tsx';
import { inWords } from './figure-words.ts';
import { isGiven, noTimeBase } from './linearity-decision.ts';
import { ResultsStep } from './ResultsStep.tsx';

export interface TimeBaseStepsProps extends CheckProps {
  /** `null` where nothing was begun. */
  readonly decision: TimeBaseDecision | null;
  readonly onDecision: (decision: TimeBaseDecision | null) => void;
  readonly check: TimeBaseCheck | null;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
}

/** Whether equal distances stand equally far apart, as a column of steps. */
export function TimeBaseSteps(props: TimeBaseStepsProps) {
  const { onDecision } = props;
  const decision = props.decision ?? noTimeBase;
  const of = { ...props, decision };
  const change = (part: Partial<TimeBaseDecision>) => onDecision({ ...decision, ...part });
  return (
    <Steps label="Time-base linearity">
      <CapturesStep
        {...props}
        captures={decision.captures}
        nothing="Choose one capture with many back-wall echoes of one plate, or several at known distances."
        onCaptures={(captures) => change({ captures })}
        onRemove={props.decision === null ? null : () => onDecision(null)}
      />
      <EchoesStep {...of} change={change} />
      <RuleStep
        published={rulesFor('time-base')}
        check="time-base"
        choice={decision.rule}
        onChoice={(rule) => change({ rule })}
        decision={decision.decision}
        onDecision={(by) => change({ decision: by })}
      >
        <RangeFields {...of} change={change} />
      </RuleStep>
      <Outcome {...of} />
    </Steps>
  );
}

type Of = TimeBaseStepsProps & { readonly decision: TimeBaseDecision };
type Changing = Of & { readonly change: (part: Partial<TimeBaseDecision>) => void };

const kinds = [
  { id: 'equally-spaced', label: 'Echoes of one plate' },
  { id: 'known-distances', label: 'Known distances' },
] as const;
const timings = [
  { id: 'peak', label: 'Peak' },
  { id: 'crossing', label: 'Crossing' },
] as const;

function EchoesStep({ decision, change, style, onDraw, drawing }: Changing) {
  const { reflectors, timing, thresholdPercent } = decision;
  const isReady = reflectors.kind === 'equally-spaced' ? isGiven(reflectors) : reflectors.list.length >= 2;
  const summary =
    reflectors.kind === 'known-distances'
      ? reflectors.list.length === 0
        ? 'Give each distance with the window of its echo.'
        : `${reflectors.list.length} distances, by ${timing}`
      : isGiven(reflectors)
        ? `From ${figureWords(figures.timeUs(reflectors.fromUs, style), style)} to ${figureWords(figures.timeUs(reflectors.toUs, style), style)}, above ${reflectors.abovePercent} % FSH, by ${timing}`
        : 'Draw or type the window in which the echoes are counted.';
  return (
    <Step title="Echoes" state={isReady ? 'found' : 'needs'} summary={summary}>
      <Toggle
        label="What the echoes are of"
        options={kinds}
        chosen={reflectors.kind}
        onChoose={(kind) => {
          if (kind === reflectors.kind) return;
          change({
            reflectors: kind === 'known-distances' ? { kind, list: [] } : noTimeBase.reflectors,
          });
        }}
      />
      {reflectors.kind === 'equally-spaced' ? (
        <>
          <WindowFields
            name="back-wall echoes"
            window={reflectors}
            onWindow={(window) => change({ reflectors: { ...reflectors, ...window } })}
            onDraw={onDraw}
            drawing={drawing}
            style={style}
          />
          <div className={styles.row}>
            <QuantityInput
              label="Echoes above"
              measure="percent"
              bound={percentOfScreen}
              style={style}
              value={reflectors.abovePercent}
              onValue={(abovePercent) => change({ reflectors: { ...reflectors, abovePercent } })}
            />
            <OptionalQuantityInput
              label="Spacing"
              measure="length"
              bound={positive}
              style={style}
              value={reflectors.spacingMm}
              placeholder="not known"
              onValue={(spacingMm) => change({ reflectors: { ...reflectors, spacingMm } })}
            />
          </div>
        </>
      ) : (
        <WindowTable
          hasTolerance
          list={reflectors.list}
          style={style}
          onList={(list) => change({ reflectors: { ...reflectors, list: [...list] } })}
        />
      )}
      <div className={styles.row}>
        <Toggle label="Timed by" options={timings} chosen={timing} onChoose={(id) => change({ timing: id })} />
        <QuantityInput
          label="Threshold"
          measure="percent"
          bound={percentOfScreen}
          style={style}
          value={thresholdPercent}
          onValue={(value) => change({ thresholdPercent: value })}
        />
      </div>
    </Step>
  );
}

const axes = [
  { id: 'span', label: 'Not stated' },
  { id: 'time', label: 'In time' },
  { id: 'path', label: 'In path' },
] as const;
const lines = [
  { id: 'end-points', label: 'First and last' },
  { id: 'least-squares', label: 'Least squares' },
] as const;

function RangeFields({ decision, change, check, style }: Changing) {
  const { range, rule, line } = decision;
  return (
    <>
      <Toggle
        label="Full range of the time base"
        options={axes}
        chosen={range?.axis ?? 'span'}
        onChoose={(axis) => {
          if (axis === 'span') change({ range: null });
          else if (axis === 'time' && range?.axis !== 'time')
            change({ range: { axis, widthUs: Math.ceil(check?.rangeUs ?? 100) } });
          else if (axis === 'path' && range?.axis !== 'path') change({ range: { axis, widthMm: 250 } });
        }}
      />
      {range?.axis === 'time' && (
        <QuantityInput
          label="Width"
          measure="time"
          bound={positive}
          style={style}
          value={range.widthUs}
          onValue={(widthUs) => change({ range: { axis: 'time', widthUs } })}
        />
      )}
      {range?.axis === 'path' && (
        <QuantityInput
          label="Width"
          measure="length"
          bound={positive}
          style={style}
          value={range.widthMm}
          onValue={(widthMm) => change({ range: { axis: 'path', widthMm } })}
        />
      )}
      {rule === null && <Toggle label="Line" options={lines} chosen={line} onChoose={(id) => change({ line: id })} />}
    </>
  );
}

const definitions = {
  'end-points': 'through the first and the last of them',
  'least-squares': 'through all of them, by least squares',
} as const;

function Outcome(props: Of) {
  const { decision, check, onAsk, style } = props;
  const { reflectors, captures } = decision;
  const isReady = reflectors.kind === 'equally-spaced' ? isGiven(reflectors) : reflectors.list.length >= 2;
  return (
    <ResultsStep
      {...props}
      name="timeBase"
      part={check}
      isAsked={captures.length > 0 && isReady}
      needs="Needs the captures and the echoes."
      about={check === null ? [] : [aboutLine(check, style), ...check.doubts.map(({ sentence }) => sentence)]}
      plot={check === null ? null : <Plot check={check} onAsk={onAsk} style={style} />}
    />
  );
}

function aboutLine({ definition, rangeUs, rangeFrom }: TimeBaseCheck, style: Of['style']): string {
  const through =
    definition.kind === 'anchors'
      ? `through echoes ${definition.anchors.map(({ echo, percent }) => `${echo} on the ${percent} % mark`).join(' and ')}`
      : definitions[definition.kind];
  const from = { stated: 'as stated', anchors: 'by these marks', span: 'the span of the reflectors' };
  const range =
    rangeUs === null || rangeFrom === null
      ? ''
      : ` The full range is ${inWords(figureWords(figures.timeUs(rangeUs, style), style))}, ${from[rangeFrom]}.`;
  return `Deviations are counted from a straight line ${through}, in % of the full range.${range}`;
}

function Plot({ check, onAsk, style }: Pick<Of, 'onAsk' | 'style'> & { readonly check: TimeBaseCheck }) {
  const isNumbers = check.places === 'numbers';
  const at = (place: number) => (isNumbers ? place : toShown(place, 'length', style));
  const places = check.stepPlaces.map(at);
  return (
    <DeviationPlot
      title="Deviation from the line"
      unit="%"
      across={{
        title: isNumbers ? 'number of the echo' : `distance (${unitSign('length', style)})`,
        from: Math.min(...places),
        to: Math.max(...places),
      }}
      points={check.steps.map((step, index) => ({
        at: places[index] ?? index,
        name: step.name,
        value: step.deviation,
        limits: step.limits,
        outcome: step.verdict?.outcome ?? null,
        asked: { kind: 'linearity', part: 'timeBase', of: 'steps', index, figure: 'deviation' },
      }))}
      onAsk={onAsk}
      style={style}
    />
  );
}
