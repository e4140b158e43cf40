import type { Engine } from '../engine/engine.ts';
import type { Host } from '../host/host.ts';
import { EmptyState } from '../parts/EmptyState.tsx';
import { ProcedureTabs } from '../shell/ProcedureTabs.tsx';
import { useWorkbench } from '../state/workbench.ts';

export function ProceduresContainer(_: { readonly engine: Engine; readonly host: Host }) {
  const procedure = useWorkbench((workbench) => workbench.procedure);
  const actions = useWorkbench((workbench) => workbench.actions);
  return (
    <ProcedureTabs
      chosen={procedure}
      onChoose={actions.setProcedure}
      notes={{ import: 0, calibration: 0, readings: 0, drift: 0 }}
    >
      {(id) => <EmptyState title={id} />}
    </ProcedureTabs>
  );
}
