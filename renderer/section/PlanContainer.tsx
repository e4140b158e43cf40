import { type ReactNode, useDeferredValue, useMemo } from 'react';
import { begun } from '../parts/begun.ts';
import { onScreen } from '../parts/on-screen.ts';
import { useWorkbench } from '../state/workbench.ts';
import { indicationId, planItems } from './located-items.ts';
import { PlanView } from './PlanView.tsx';

/** The plan along the weld as the workbench has it. */
export function PlanContainer({ head }: { readonly head: ReactNode }) {
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluationOf = useDeferredValue(useWorkbench((workbench) => workbench.evaluationOf));
  const selected = useWorkbench((workbench) => workbench.selected);
  const indication = useWorkbench((workbench) => workbench.indication);
  const hasScan = useWorkbench((workbench) => workbench.review.scan !== null);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const scan = evaluation?.scan ?? null;
  const outline = evaluationOf?.part?.weld?.outline ?? null;
  const items = useMemo(() => planItems(scan?.indications ?? [], style), [scan, style]);
  const stations = useMemo(
    () => (scan?.lines ?? []).flatMap((line) => line.stations).toSorted((a, b) => a.positionMm - b.positionMm),
    [scan],
  );
  const weldAcrossMm = useMemo(() => {
    const across = (outline ?? []).map(({ acrossMm }) => acrossMm);
    return across.length === 0 ? null : ([Math.min(...across), Math.max(...across)] as const);
  }, [outline]);
  const without = !hasScan
    ? {
        title: 'No scan is described yet',
        sentences: ['Say in Indications which captures are a scan of the weld; what it shows is drawn here.'],
      }
    : scan !== null && stations.length === 0
      ? {
          title: 'Nothing of this scan can be placed',
          sentences: scan.problems.map(({ sentence }) => begun(onScreen(sentence))),
        }
      : null;
  return (
    <PlanView
      head={head}
      stations={stations}
      items={items}
      weldAcrossMm={weldAcrossMm}
      selected={indication === null ? null : indicationId(indication)}
      onSelect={(id) => {
        const one = (scan?.indications ?? []).find(({ name }) => indicationId(name) === id);
        if (one !== undefined) actions.chooseIndication(one.name);
      }}
      selectedCapture={selected}
      onSelectCapture={actions.select}
      without={without}
      style={style}
    />
  );
}
