import { useState } from 'react';
import type { FigureDifference } from '../../core/compare/probes.ts';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import { probeFigure } from '../../core/origin/probe-figure.ts';
import type { FigureAsked } from '../../core/origin.ts';
import { probeFigures } from '../../core/probe/figures.ts';
import type { ProbesDecision } from '../../core/review/probes-decision.ts';
import type { ProbeResult, ProbesResult } from '../../core/steps/probes.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { formatNumber } from '../../core/units/format-quantity.ts';
import { isSame } from '../audit/asked.ts';
import own from '../audit/Check.module.css';
import { inWords } from '../audit/figure-words.ts';
import { Button } from '../parts/Button.tsx';
import { Choice, Toggle } from '../parts/Choice.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import { Figure } from '../parts/Figure.tsx';
import { Icon } from '../parts/Icon.tsx';
import styles from '../procedures/Step.module.css';
import { Step, Steps } from '../procedures/Step.tsx';

export interface ComparisonStepsProps {
  readonly decision: ProbesDecision | null;
  readonly onDecision: (decision: ProbesDecision) => void;
  readonly result: ProbesResult | null;
  readonly isEvaluating: boolean;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  /** To the procedure in which captures and gate are chosen. */
  readonly onProbes: () => void;
  readonly style: FigureStyle;
}

const none = 'no reference';
const alignments = [
  { id: 'cross-correlation', label: 'Most alike' },
  { id: 'envelope-peak', label: 'Envelope’s peak' },
] as const;
const heights = [
  { id: 'own', label: 'Own height each' },
  { id: 'gain', label: 'At one gain' },
] as const;

/** Which probe the others are held against, how they lie over one another, and whether they differ. */
export function ComparisonSteps(props: ComparisonStepsProps) {
  const { decision, result, onProbes } = props;
  if (decision === null || result === null || result.probes.length < 2)
    return (
      <EmptyState
        title={result === null || result.probes.length === 0 ? 'No probes yet' : 'One probe alone'}
        actions={<Button onPress={onProbes}>Go to Probes</Button>}
      >
        {result === null || result.probes.length === 0
          ? 'Choose the captures and a gate in Probes; here they are held against one another.'
          : 'There is nothing to hold it against: choose captures of another probe too.'}
      </EmptyState>
    );
  return (
    <Steps label="Comparison">
      <ReferenceStep {...props} decided={decision} known={result} />
      <DifferenceStep {...props} decided={decision} known={result} />
    </Steps>
  );
}

type Of = ComparisonStepsProps & { readonly decided: ProbesDecision; readonly known: ProbesResult };

function ReferenceStep({ decided, known, onDecision, style }: Of) {
  const { reference, align, normalised, significance } = decided;
  const change = (part: Partial<ProbesDecision>) => onDecision({ ...decided, ...part });
  const chances = [...new Set([0.01, 0.05, 0.1, significance])].toSorted((a, b) => a - b);
  return (
    <Step
      title="Reference and alignment"
      state={reference === null ? 'needs' : 'found'}
      summary={
        reference === null
          ? 'Choose the probe that the others are held against.'
          : `Against ${reference}; ${align === 'cross-correlation' ? 'shifted to where they are most alike' : 'envelope peak on envelope peak'}`
      }
    >
      <Choice
        label="Reference probe"
        options={[
          { id: none, label: 'None: figures side by side alone' },
          ...known.probes.map(({ probe }) => ({ id: probe, label: probe })),
        ]}
        chosen={reference ?? none}
        onChoose={(id) => change({ reference: id === none ? null : id })}
      />
      <Toggle label="Aligned by" options={alignments} chosen={align} onChoose={(id) => change({ align: id })} />
      <Toggle
        label="Heights in overlays"
        options={heights}
        chosen={normalised ? 'own' : 'gain'}
        onChoose={(id) => change({ normalised: id === 'own' })}
      />
      <Choice
        label="Probes differ where chance alone would part them as far in less than"
        options={chances.map((share) => ({
          id: String(share),
          label: `${formatNumber(100 * share, Number.isInteger(100 * share) ? 0 : 1, style)} % of comparisons`,
        }))}
        chosen={String(significance)}
        onChoose={(share) => change({ significance: Number(share) })}
      />
    </Step>
  );
}

function DifferenceStep({ known, isEvaluating, onAsk, asked, style }: Of) {
  const [chosen, setChosen] = useState<string | null>(null);
  const others = known.probes.filter(({ comparison }) => comparison !== null);
  const probe = others.find((each) => each.probe === chosen) ?? others[0] ?? null;
  if (probe === null || probe.comparison === null)
    return (
      <Step title="Differences" state={isEvaluating ? 'working' : 'needs'} summary="Needs a reference probe.">
        {null}
      </Step>
    );
  const { figures: all, time, reference } = probe.comparison;
  const differing = all.filter(({ differs }) => differs === true);
  const alike = all.filter(({ differs }) => differs === false);
  const untold = all.filter(({ differs }) => differs === null);
  return (
    <Step
      title="Differences"
      state="found"
      word={`${differing.length} differ`}
      summary={`${probe.probe} against ${reference}: ${differing.length} figures differ, ${alike.length} do not show it, of ${untold.length} nothing can be told.`}
    >
      {others.length > 1 && (
        <Choice
          label="Probe"
          options={others.map((each) => ({
            id: each.probe,
            label: each.probe,
            description: `${each.comparison?.figures.filter(({ differs }) => differs === true).length ?? 0} figures differ`,
          }))}
          chosen={probe.probe}
          onChoose={setChosen}
        />
      )}
      {time !== null && (
        <p className={styles.note}>
          Shift taken out: {inWords(figureWords(figures.timeUs(time.alignment.shiftUs, style), style))}
          {time.alignment.correlation !== null &&
            `, correlation ${inWords(formatNumber(time.alignment.correlation, 3, style))}`}
          .
        </p>
      )}
      <Differences
        title="They differ"
        sign="doubt"
        list={differing}
        probe={probe}
        onAsk={onAsk}
        asked={asked}
        style={style}
      />
      <Differences
        title="A difference is not shown"
        sign="ring"
        list={alike}
        probe={probe}
        onAsk={onAsk}
        asked={asked}
        style={style}
      />
      <Differences
        title="Nothing can be told"
        sign="wait"
        list={untold}
        probe={probe}
        onAsk={onAsk}
        asked={asked}
        style={style}
      />
      {known.remarks.map((sentence) => (
        <p key={sentence} className={styles.note}>
          {sentence}
        </p>
      ))}
    </Step>
  );
}

function Differences({
  title,
  sign,
  list,
  probe,
  onAsk,
  asked,
  style,
}: {
  readonly title: string;
  readonly sign: 'doubt' | 'ring' | 'wait';
  readonly list: readonly FigureDifference[];
  readonly probe: ProbeResult;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly asked: FigureAsked | null;
  readonly style: FigureStyle;
}) {
  if (list.length === 0) return null;
  return (
    <section aria-label={title}>
      <h4 className={own.heading}>
        <span className={own.why}>
          <Icon name={sign} />
          {title}
        </span>
      </h4>
      <ul className={own.results}>
        {list.map(({ figure, difference, sentence }) => {
          const name = probeFigures[figure].title;
          const figureAsked: FigureAsked = { kind: 'probe', of: 'difference', probe: probe.probe, figure };
          return (
            <li key={figure} className={own.result}>
              <div className={own.line}>
                <span className={own.name}>{name}</span>
                {difference !== null && (
                  <Figure
                    name={`${name}: ${probe.probe} less the reference`}
                    text={inWords(figureWithUncertainty(probeFigure(figure, difference, style), style))}
                    asked={figureAsked}
                    onAsk={onAsk}
                    isAsked={isSame(asked, figureAsked)}
                  />
                )}
              </div>
              <p className={own.soft}>{inWords(withoutName(sentence, name))}</p>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** The figure’s name stands above its sentence. */
function withoutName(sentence: string, name: string): string {
  const rest = sentence.startsWith(`${name}: `) ? sentence.slice(name.length + 2) : sentence;
  return rest.charAt(0).toUpperCase() + rest.slice(1);
}
