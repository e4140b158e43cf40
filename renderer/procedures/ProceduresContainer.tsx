import { useDeferredValue } from 'react';
import type { Engine } from '../engine/engine.ts';
import type { Host } from '../host/host.ts';
import { ProcedureTabs } from '../shell/ProcedureTabs.tsx';
import { useWorkbench } from '../state/workbench.ts';
import type { Procedure } from '../state/workbench-state.ts';
import { CalibrationContainer } from './CalibrationContainer.tsx';
import { DriftContainer } from './DriftContainer.tsx';
import { ImportContainer } from './ImportContainer.tsx';
import { ReadingsContainer } from './ReadingsContainer.tsx';

/** The four procedures as the workbench has them; a tab bears the number of doubts that wait in it. */
export function ProceduresContainer({ engine, host }: { readonly engine: Engine; readonly host: Host }) {
  const procedure = useWorkbench((workbench) => workbench.procedure);
  const actions = useWorkbench((workbench) => workbench.actions);
  // What comes from the worker is drawn between two frames: the trace does not wait for it.
  const files = useDeferredValue(useWorkbench((workbench) => workbench.files));
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
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
    }
  };
  return (
    <ProcedureTabs
      chosen={procedure}
      onChoose={actions.setProcedure}
      notes={{
        import: [...files.values()].filter(({ state }) => state !== 'ready').length,
        calibration: evaluation?.calibration?.calibration?.flags.length ?? 0,
        readings: (evaluation?.readings?.readings ?? []).filter(({ flags }) => flags.length > 0).length,
        drift: (evaluation?.drift?.checks ?? []).filter(
          ({ verdict }) => verdict === 'fail' || verdict === 'inconclusive',
        ).length,
      }}
    >
      {content}
    </ProcedureTabs>
  );
}
