import type { Engine } from '../engine/engine.ts';
import type { Host } from '../host/host.ts';
import type { Procedure } from '../state/workbench-state.ts';
import { LinearityContainer } from './LinearityContainers.tsx';
import { ReportContainer } from './ReportContainer.tsx';
import { SensitivityContainer } from './SensitivityContainer.tsx';
import { VerdictsContainer } from './VerdictsContainer.tsx';

/** What an auditor works with beside the calibration: the instrument's own checks, sensitivity, verdicts, the report. */
export function AuditProcedures({
  procedure,
  host,
}: {
  readonly procedure: Exclude<
    Procedure,
    | 'import'
    | 'calibration'
    | 'readings'
    | 'drift'
    | 'part'
    | 'location'
    | 'indications'
    | 'probes'
    | 'comparison'
    | 'material'
  >;
  readonly engine: Engine;
  readonly host: Host;
}) {
  switch (procedure) {
    case 'time-base':
      return <LinearityContainer part="timeBase" />;
    case 'screen-height':
      return <LinearityContainer part="screenHeight" />;
    case 'gain':
      return <LinearityContainer part="gain" />;
    case 'sensitivity':
      return <SensitivityContainer />;
    case 'verdicts':
      return <VerdictsContainer host={host} />;
    case 'report':
      return <ReportContainer host={host} />;
    default:
      return null;
  }
}
