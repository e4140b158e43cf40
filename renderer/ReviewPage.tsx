import { useDeferredValue, useMemo } from 'react';
import { CapturesContainer } from './captures/CapturesContainer.tsx';
import type { Engine } from './engine/engine.ts';
import type { Host } from './host/host.ts';
import { PicturesOf } from './probes/PicturesOf.tsx';
import { ProceduresContainer } from './procedures/ProceduresContainer.tsx';
import { PicturesContainer } from './section/PicturesContainer.tsx';
import { seriesCaptures } from './series/series-captures.ts';
import type { PageShell } from './shell/use-shell.ts';
import { Workspace } from './shell/Workspace.tsx';
import { useWorkbench } from './state/workbench.ts';
import { TraceContainer } from './trace/TraceContainer.tsx';
import { WherefromContainer } from './wherefrom/WherefromContainer.tsx';

/** The columns of a review; no logic. */
export function ReviewPage({
  engine,
  host,
  room,
  panels,
  onPanels,
  shell,
}: Pick<Parameters<typeof Workspace>[0], 'room' | 'panels' | 'onPanels'> & {
  readonly engine: Engine;
  readonly host: Host;
  readonly shell: PageShell;
}) {
  const setProcedure = useWorkbench(({ actions }) => actions.setProcedure);
  const asked = useWorkbench((workbench) => workbench.asked);
  const review = useWorkbench((workbench) => workbench.review);
  const captures = useDeferredValue(useWorkbench((workbench) => workbench.captures));
  // biome-ignore lint/correctness/useExhaustiveDependencies: thousands of captures are not gone through again while a gate is dragged, but only when others are read.
  const series = useMemo(() => seriesCaptures({ review, captures }), [review.readings?.captures, captures]);
  const procedure = useWorkbench((workbench) => workbench.procedure);
  const ofProbes = procedure === 'probes' || procedure === 'comparison' || procedure === 'material' ? procedure : null;
  const hasPictures = ofProbes !== null || series.length > 1 || review.part !== null || review.scan !== null;
  // The trace and the list come first, and what stands beside them between the frames that follow.
  const besides = useDeferredValue(true, false);
  return (
    <Workspace
      room={room}
      panels={panels}
      onPanels={onPanels}
      captures={
        <CapturesContainer
          onConcern={() => {
            setProcedure('import');
            shell.openProcedures();
          }}
        />
      }
      trace={<TraceContainer engine={engine} />}
      below={
        hasPictures && panels.series
          ? besides &&
            (ofProbes === null ? (
              <PicturesContainer engine={engine} of={series} />
            ) : (
              <PicturesOf procedure={ofProbes} engine={engine} host={host} />
            ))
          : null
      }
      procedures={besides && <ProceduresContainer engine={engine} host={host} />}
      over={asked === null ? null : <WherefromContainer engine={engine} />}
    />
  );
}
