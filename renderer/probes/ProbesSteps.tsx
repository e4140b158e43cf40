import type { FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { ProbesDecision } from '../../core/review/probes-decision.ts';
import type { ProbesResult } from '../../core/steps/probes.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { CapturesStep } from '../audit/CheckSteps.tsx';
import type { CaptureChoice } from '../procedures/capture-choices.ts';
import { Steps } from '../procedures/Step.tsx';
import type { WindowWanted } from '../state/workbench-state.ts';
import { BeamStep } from './BeamStep.tsx';
import { EchoStep } from './EchoStep.tsx';
import { OutcomeStep } from './OutcomeStep.tsx';
import { noProbes } from './probes-decision.ts';
import { StatedStep } from './StatedStep.tsx';

export interface ProbesStepsProps {
  readonly choices: readonly CaptureChoice[];
  /** `null` where nothing was begun. */
  readonly decision: ProbesDecision | null;
  readonly onDecision: (decision: ProbesDecision | null) => void;
  readonly result: ProbesResult | null;
  readonly isEvaluating: boolean;
  /** What is wrong with the file that was given last. */
  readonly fileProblems: readonly Problem[];
  readonly onStatedFile: (file: File) => void;
  readonly onRuleFile: (file: File) => void;
  readonly onDraw: (wanted: WindowWanted | null) => void;
  readonly drawing: string | null;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}

/** What the steps work with. */
export type OfProbes = ProbesStepsProps & {
  readonly decided: ProbesDecision;
  readonly change: (part: Partial<ProbesDecision>) => void;
};

/** Captures, gate, elements, stated figures, and what came of them, as a column of steps. */
export function ProbesSteps(props: ProbesStepsProps) {
  const decided = props.decision ?? noProbes;
  const of: OfProbes = { ...props, decided, change: (part) => props.onDecision({ ...decided, ...part }) };
  return (
    <Steps label="Probes">
      <CapturesStep
        choices={props.choices}
        captures={decided.captures}
        nothing="Choose the captures of one reflector, with one probe or several; captures of one probe are put together by its name."
        onCaptures={(captures) => of.change({ captures })}
        onRemove={props.decision === null ? null : () => props.onDecision(null)}
        remove="Take the probes out"
      />
      <EchoStep {...of} />
      <BeamStep {...of} />
      <StatedStep {...of} />
      <OutcomeStep {...of} />
    </Steps>
  );
}
