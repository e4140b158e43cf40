import { useDeferredValue, useMemo } from 'react';
import { emptyReview } from '../../core/review/review.ts';
import type { Engine } from '../engine/engine.ts';
import type { Host } from '../host/host.ts';
import type { PartProcedure } from '../part/PartProcedures.tsx';
import type { ProbesProcedure } from '../probes/ProbesProcedures.tsx';
import { laterPart } from '../shell/later-part.ts';
import { ProcedureTabs } from '../shell/ProcedureTabs.tsx';
import { useWorkbench } from '../state/workbench.ts';
import type { Procedure } from '../state/workbench-state.ts';
import { CalibrationContainer } from './CalibrationContainer.tsx';
import { concernsOf } from './concerns.ts';
import { DriftContainer } from './DriftContainer.tsx';
import { ImportContainer } from './ImportContainer.tsx';
import { ReadingsContainer } from './ReadingsContainer.tsx';

/** What an auditor needs comes when it is asked for, or when the page has nothing else to do. */
const auditPart = laterPart(() => import('../audit/AuditProcedures.tsx'));

/** So does what a technician needs once the part is examined. */
const partPart = laterPart(() => import('../part/PartProcedures.tsx'));

/** And what a researcher needs for probes. */
const probesPart = laterPart(() => import('../probes/ProbesProcedures.tsx'));

type AuditProcedure = Parameters<Awaited<ReturnType<typeof auditPart.load>>['AuditProcedures']>[0]['procedure'];

/** The procedures as the workbench has them; a tab bears the number of doubts that wait in it. */
export function ProceduresContainer({ engine, host }: { readonly engine: Engine; readonly host: Host }) {
  const procedure = useWorkbench((workbench) => workbench.procedure);
  const actions = useWorkbench((workbench) => workbench.actions);
  // What comes from the worker is drawn between two frames: the trace does not wait for it.
  const files = useDeferredValue(useWorkbench((workbench) => workbench.files));
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluationOf = useDeferredValue(useWorkbench((workbench) => workbench.evaluationOf));
  const notes = useMemo(
    () => concernsOf(files, evaluationOf === null ? null : evaluation, evaluationOf ?? emptyReview),
    [files, evaluation, evaluationOf],
  );
  const content = (id: Procedure) => {
    switch (id) {
      case 'import':
        return <ImportContainer engine={engine} host={host} />;
      case 'calibration':
        return <CalibrationContainer engine={engine} />;
      case 'readings':
        return <ReadingsContainer host={host} />;
      case 'drift':
        return <DriftContainer />;
      case 'part':
      case 'location':
      case 'indications':
        return <Part procedure={id} host={host} />;
      case 'probes':
      case 'comparison':
      case 'material':
        return <Probes procedure={id} />;
      default:
        return <Audit procedure={id} engine={engine} host={host} />;
    }
  };
  return (
    <ProcedureTabs chosen={procedure} onChoose={actions.setProcedure} notes={notes}>
      {content}
    </ProcedureTabs>
  );
}

function Audit(props: { readonly procedure: AuditProcedure; readonly engine: Engine; readonly host: Host }) {
  const part = auditPart.usePart(true);
  return part === null ? null : <part.AuditProcedures {...props} />;
}

function Part(props: { readonly procedure: PartProcedure; readonly host: Host }) {
  const part = partPart.usePart(true);
  return part === null ? null : <part.PartProcedures {...props} />;
}

function Probes(props: { readonly procedure: ProbesProcedure }) {
  const part = probesPart.usePart(true);
  return part === null ? null : <part.ProbesProcedures {...props} />;
}
