import { type ReactNode, useDeferredValue, useMemo } from 'react';
import { sectionDrawing } from '../../core/drawing/section-drawing.ts';
import { partProblems } from '../../core/part/part-problems.ts';
import { begun } from '../parts/begun.ts';
import { onScreen } from '../parts/on-screen.ts';
import { useWorkbench } from '../state/workbench.ts';
import { expectedUnder, indicationId, locatedItems, probeUnder, readingId, readingMeant } from './located-items.ts';
import { SectionDrawing } from './SectionDrawing.tsx';

const noReadings: never[] = [];

/** The section as the workbench has it: what is chosen on the trace or in a table is chosen here, and the other way round. */
export function SectionContainer({ head }: { readonly head: ReactNode }) {
  const review = useWorkbench((workbench) => workbench.review);
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluationOf = useDeferredValue(useWorkbench((workbench) => workbench.evaluationOf));
  const captures = useWorkbench((workbench) => workbench.captures);
  const selected = useWorkbench((workbench) => workbench.selected);
  const selectedGate = useWorkbench((workbench) => workbench.selectedGate);
  const indication = useWorkbench((workbench) => workbench.indication);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  // What is drawn belongs together: the part that was evaluated, with the places that came of it.
  const part = evaluation === null ? review.part : (evaluationOf?.part ?? null);

  const location = evaluation?.location ?? null;
  const readings = location?.readings ?? noReadings;
  const { items, meant, leftOut } = useMemo(() => locatedItems(evaluation, selected), [evaluation, selected]);
  const reading = useMemo(() => readingMeant(readings, selected, selectedGate), [readings, selected, selectedGate]);
  const chosenId =
    indication !== null && meant.has(indicationId(indication))
      ? indicationId(indication)
      : reading === null
        ? null
        : readingId(reading.captureId, reading.gate);
  const chosen = items.find(({ id }) => id === chosenId) ?? null;

  // An indication is looked at from where it stood highest, whichever of its captures is on the trace.
  const highest = evaluation?.scan?.indications.find(({ name }) => indicationId(name) === chosenId)?.peak ?? null;
  const lookedFrom = highest?.captureId ?? selected;
  const facts = lookedFrom === null ? undefined : captures.get(lookedFrom);
  const velocity = part?.probe.velocityMPerS ?? evaluation?.calibration?.calibration?.velocityMPerS.value ?? null;
  const expected = useMemo(() => expectedUnder(evaluation, lookedFrom), [evaluation, lookedFrom]);
  const drawn = useMemo(() => {
    if (part === null) return null;
    return sectionDrawing(
      part,
      {
        capture: facts === undefined ? null : { captureId: facts.id, file: facts.file },
        probe: probeUnder(evaluation, lookedFrom),
        toPathMm: chosen?.soundPathMm?.value ?? location?.beam?.skips?.vPathMm ?? null,
        edges: location?.beam?.edgesMinus6Db ?? null,
        velocityMPerS: velocity,
      },
      items,
      expected,
    );
  }, [part, facts, evaluation, lookedFrom, chosen, location, velocity, items, expected]);

  const notPlaced = readings.find((one) => one.captureId === selected && one.without !== null)?.without ?? null;
  const remarks = [
    ...(chosen?.place.remarks ?? []),
    ...(chosen === null && notPlaced !== null ? [`Nothing of this capture is drawn: ${notPlaced}.`] : []),
    ...(drawn !== null && drawn.notDrawn > 0
      ? [
          `${drawn.notDrawn} ${drawn.notDrawn === 1 ? 'place is' : 'places are'} not drawn, since it is not known where the probe stood for ${drawn.notDrawn === 1 ? 'it' : 'them'}.`,
        ]
      : []),
    ...(drawn?.origin === 'index-point' && part?.weld != null
      ? ['The weld is not drawn: where the probe stood is not known. Say so in Part and probe.']
      : []),
    ...(leftOut > 0 ? [`Of ${leftOut + readings.length} readings those of the chosen capture are drawn.`] : []),
  ];
  const faults =
    part === null ? [] : partProblems(part, 'part', velocity).map(({ sentence }) => begun(onScreen(sentence)));
  const without =
    part === null
      ? {
          title: 'No part is described yet',
          sentences: ['Describe the part and the probe in Part; its section is drawn here.'],
        }
      : faults.length > 0
        ? { title: 'Nothing can be drawn from this part', sentences: faults }
        : {
            title: 'No step is named for this capture',
            sentences: ['Name the captures of each step in Part and probe.'],
          };

  return (
    <SectionDrawing
      head={head}
      drawn={drawn}
      without={drawn === null ? without : null}
      items={items}
      selected={chosenId}
      onSelect={(id) => {
        const one = meant.get(id);
        if (one === undefined) return;
        if (one.kind === 'indication') return actions.chooseIndication(one.name);
        actions.chooseIndication(null);
        const from = evaluation?.readings?.readings.find(
          ({ captureId, gate }) => captureId === one.captureId && gate === one.gate,
        )?.from;
        actions.selectGate(one.gate);
        if (from == null) actions.select(one.captureId);
        else actions.setHighlight({ captureId: one.captureId, range: from });
      }}
      remarks={remarks}
      style={style}
    />
  );
}
