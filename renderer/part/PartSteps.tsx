import type { FigureAsked } from '../../core/origin.ts';
import type { PartDecision } from '../../core/review/part-decision.ts';
import type { LocationResult } from '../../core/steps/locate.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { CaptureChoice } from '../procedures/capture-choices.ts';
import { Step, Steps } from '../procedures/Step.tsx';
import { BeginPart, type Suggested } from './BeginPart.tsx';
import { FeaturesStep } from './FeaturesStep.tsx';
import { PlacementsStep } from './PlacementsStep.tsx';
import { ProbeChecksStep } from './ProbeChecksStep.tsx';
import { ProbeStep } from './ProbeStep.tsx';
import { problemsAt } from './part-decision.ts';
import { ShapeStep } from './ShapeStep.tsx';
import { WeldStep } from './WeldStep.tsx';

export interface PartStepsProps {
  readonly part: PartDecision | null;
  readonly onPart: (part: PartDecision) => void;
  readonly onRemove: () => void;
  /** What follows from the part; `null` as long as nothing was evaluated. */
  readonly result: LocationResult | null;
  readonly choices: readonly CaptureChoice[];
  readonly suggested: Suggested;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly style: FigureStyle;
}

/** The part that is examined and the probe, as a column of steps. */
export function PartSteps(props: PartStepsProps) {
  const { part, onPart, onRemove, result, choices, suggested, asked, onAsk, style } = props;
  if (part === null)
    return (
      <Steps label="Part and probe">
        <Step title="Shape" state="needs" summary="No part is described yet.">
          <BeginPart suggested={suggested} style={style} onPart={onPart} />
        </Step>
      </Steps>
    );
  const problems = result?.problems ?? [];
  const common = { part, onPart, style };
  return (
    <Steps label="Part and probe">
      <ShapeStep {...common} onRemove={onRemove} choices={choices} problems={problemsAt(problems, 'shape')} />
      <WeldStep {...common} problems={problemsAt(problems, 'weld')} />
      <PlacementsStep {...common} choices={choices} problems={problemsAt(problems, 'placements')} />
      <ProbeStep
        {...common}
        beam={result?.beam ?? null}
        problems={problemsAt(problems, 'probe')}
        warnings={problemsAt(result?.warnings ?? [], 'probe')}
        asked={asked}
        onAsk={onAsk}
      />
      <FeaturesStep {...common} />
      <ProbeChecksStep
        {...common}
        checks={result?.checks ?? null}
        problems={problemsAt(problems, 'checks')}
        asked={asked}
        onAsk={onAsk}
      />
    </Steps>
  );
}
