import type { DistanceCalibration } from '../../core/calibration/distance.ts';
import type { FigureAsked } from '../../core/origin.ts';
import type { Problem } from '../../core/outcome.ts';
import type { CurveDecision, SensitivityDecision } from '../../core/review/sensitivity-decision.ts';
import type { SensitivityResult } from '../../core/steps/sensitivity.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { CaptureChoice } from '../procedures/capture-choices.ts';
import { Steps } from '../procedures/Step.tsx';
import { AttenuationStep } from './AttenuationStep.tsx';
import { CurveStep } from './CurveStep.tsx';
import { HeldReadingsStep } from './HeldReadingsStep.tsx';
import { NearFieldStep } from './NearFieldStep.tsx';
import { ReferenceStep } from './ReferenceStep.tsx';
import { ReflectorsStep } from './ReflectorsStep.tsx';
import { noCurve, noSensitivity } from './sensitivity-decision.ts';

export interface SensitivityStepsProps {
  readonly choices: readonly CaptureChoice[];
  /** `null` where nothing was begun. */
  readonly decision: SensitivityDecision | null;
  readonly onDecision: (decision: SensitivityDecision | null) => void;
  readonly result: SensitivityResult | null;
  readonly calibration: DistanceCalibration | null;
  readonly isEvaluating: boolean;
  /** What keeps a part from being made, files included. */
  readonly problems: readonly Problem[];
  /** What is wrong with the file of levels that was given last. */
  readonly levelProblems: readonly Problem[];
  readonly onLevelsFile: (file: File) => void;
  /** The figure as the core writes it where it is asked. */
  readonly written: (asked: FigureAsked) => string | null;
  readonly asked: FigureAsked | null;
  readonly onAsk: (asked: FigureAsked) => void;
  readonly onSelect: (captureId: string) => void;
  readonly style: FigureStyle;
}

/** What the steps of the curve work with. */
export interface OfCurve extends SensitivityStepsProps {
  readonly sensitivity: SensitivityDecision;
  readonly curve: CurveDecision;
  readonly changeCurve: (part: Partial<CurveDecision>) => void;
  readonly change: (part: Partial<SensitivityDecision>) => void;
}

/** Reference level, curve, attenuation, and the readings held against the curve, as a column of steps. */
export function SensitivitySteps(props: SensitivityStepsProps) {
  const sensitivity = props.decision ?? noSensitivity;
  const curve = sensitivity.curve ?? noCurve;
  const change = (part: Partial<SensitivityDecision>) => props.onDecision({ ...sensitivity, ...part });
  const of: OfCurve = {
    ...props,
    sensitivity,
    curve,
    change,
    changeCurve: (part) => change({ curve: { ...curve, ...part } }),
  };
  return (
    <Steps label="Sensitivity">
      <ReflectorsStep {...of} />
      <ReferenceStep {...of} />
      <NearFieldStep {...of} />
      <CurveStep {...of} />
      <AttenuationStep {...of} />
      <HeldReadingsStep {...of} />
    </Steps>
  );
}
