import type { Problem } from '../../core/outcome.ts';
import type { TextTable } from '../../core/report/table-text.ts';
import type { ScanDecision } from '../../core/review/scan-decision.ts';
import type { ScanResult } from '../../core/steps/scan.ts';
import type { CaptureChoice } from '../procedures/capture-choices.ts';
import { Step, Steps } from '../procedures/Step.tsx';
import { ChosenIndication, type ChosenIndicationProps } from './ChosenIndication.tsx';
import { IndicationsStep } from './IndicationsStep.tsx';
import { BeginScan, ScanStep, SizingStep } from './ScanStep.tsx';
import { windowCodes } from './scan-decision.ts';

export interface IndicationStepsProps
  extends Pick<
    ChosenIndicationProps,
    'onChange' | 'onLeave' | 'onMerge' | 'onSplit' | 'selected' | 'onSelect' | 'asked' | 'onAsk' | 'style'
  > {
  readonly scan: ScanDecision | null;
  readonly onScan: (scan: ScanDecision) => void;
  readonly onRemove: () => void;
  readonly hasCalibration: boolean;
  /** Captures that the readings work on, to begin with. */
  readonly captures: readonly string[];
  readonly choices: readonly CaptureChoice[];
  readonly result: ScanResult | null;
  readonly isEvaluating: boolean;
  readonly chosen: string | null;
  readonly onChoose: (name: string) => void;
  readonly onTakeAllUp: () => void;
  readonly onCopy: (table: TextTable) => Promise<boolean>;
  readonly onSave: (table: TextTable) => void;
}

/** The scan's indications as a column of steps: proposed, taken up, sized, rated. */
export function IndicationSteps(props: IndicationStepsProps) {
  const { scan, onScan, onRemove, choices, result, chosen, captures, hasCalibration, style } = props;
  if (scan === null)
    return (
      <Steps label="Indications">
        <Step
          title="Scan"
          state="needs"
          summary={
            hasCalibration
              ? 'Say where to look; echoes that stand together above a height are proposed.'
              : 'A scan needs a distance calibration to turn its times into sound paths: calibrate first.'
          }
        >
          <BeginScan captures={captures} choices={choices} style={style} onScan={onScan} />
        </Step>
      </Steps>
    );
  const problems: readonly Problem[] = result?.problems ?? [];
  const indications = result?.indications ?? [];
  return (
    <Steps label="Indications">
      <ScanStep
        scan={scan}
        onScan={onScan}
        onRemove={onRemove}
        choices={choices}
        problems={problems.filter(({ code }) => windowCodes.has(code))}
        style={style}
      />
      <SizingStep scan={scan} onScan={onScan} style={style} />
      <IndicationsStep {...props} problems={problems.filter(({ code }) => !windowCodes.has(code))} />
      <ChosenIndication
        {...props}
        indication={indications.find(({ name }) => name === chosen) ?? null}
        others={indications.map(({ name }) => name).filter((name) => name !== chosen)}
      />
    </Steps>
  );
}
