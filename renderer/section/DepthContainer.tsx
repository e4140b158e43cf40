import { type ReactNode, useDeferredValue, useEffect, useMemo, useState } from 'react';
import { depthExtents } from '../../core/drawing/depth-extents.ts';
import { type DepthScanInput, depthScan } from '../../core/drawing/depth-scan.ts';
import type { PlaceInSection } from '../../core/review/part-decision.ts';
import type { ConditioningRecipe } from '../../core/signal/conditioning.ts';
import type { Engine } from '../engine/engine.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { newestWins } from '../engine/newest-wins.ts';
import { begun } from '../parts/begun.ts';
import { onScreen } from '../parts/on-screen.ts';
import { toldOnce } from '../parts/told-once.ts';
import { shortNames } from '../procedures/reading-rows.ts';
import { useWorkbench } from '../state/workbench.ts';
import { type DepthLook, DepthPicture, firstLook } from './DepthPicture.tsx';
import type { DepthAsked, DepthShown } from './depth-image.ts';

const noOutline: readonly PlaceInSection[] = [];

/** The picture by true depth as the workbench has it: of the captures of the scan, or of the series where no scan is described. */
export function DepthContainer({
  engine,
  of,
  head,
  look = firstLook,
}: {
  readonly engine: Engine;
  /** The series that is read. */
  readonly of: readonly TraceFacts[];
  readonly head: ReactNode;
  readonly look?: DepthLook;
}) {
  const review = useWorkbench((workbench) => workbench.review);
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const evaluating = useWorkbench((workbench) => workbench.evaluation === null && workbench.evaluating);
  const captures = useWorkbench((workbench) => workbench.captures);
  const selected = useWorkbench((workbench) => workbench.selected);
  const indication = useWorkbench((workbench) => workbench.indication);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const { part, scan: decision, readings, conditioning } = review;
  const calibration = evaluation?.calibration?.calibration ?? null;

  const drawn = useMemo(() => {
    if (decision === null) return of;
    const meant = new Set(decision.captures);
    return [...captures.values()].filter(({ id, file }) => meant.has(id) || meant.has(file));
  }, [decision, captures, of]);
  const fromMm = decision?.fromMm ?? null;
  const toMm = decision?.toMm ?? null;
  const by = useMemo(
    (): Omit<DepthScanInput, 'captures'> => ({
      calibration,
      part,
      beam: readings?.beam ?? null,
      uAngleDeg: readings?.uAngleDeg ?? null,
      paths: fromMm === null || toMm === null || !(toMm > fromMm) ? null : { fromMm, toMm },
    }),
    [calibration, part, readings?.beam, readings?.uAngleDeg, fromMm, toMm],
  );
  const outcome = useMemo(() => depthScan({ ...by, captures: drawn.map(depthCapture) }), [by, drawn]);
  const scan = outcome.ok ? outcome.value : null;
  const [shown, faults, onImage] = useDepthImage(engine, by, conditioning);
  const extents = useMemo(
    () => (scan === null ? [] : depthExtents(scan, evaluation?.scan?.indications ?? [])),
    [scan, evaluation],
  );
  const names = useMemo(() => shortNames(drawn.map(({ id }) => id)), [drawn]);
  const without = evaluating
    ? { title: 'The calibration is being worked out', sentences: [] }
    : outcome.ok
      ? null
      : {
          title: drawn.length === 0 ? 'No scan yet' : 'Nothing can be drawn by true depth yet',
          sentences: outcome.problems.map(({ sentence }) => begun(onScreen(sentence))),
        };
  const problems = useMemo(
    () => [...(scan?.problems ?? []).map(({ sentence }) => begun(onScreen(sentence))), ...faults],
    [scan, faults],
  );
  return (
    <DepthPicture
      head={head}
      look={look}
      scan={scan}
      without={without}
      shown={shown}
      onImage={onImage}
      problems={problems}
      outline={part?.weld?.outline ?? noOutline}
      extents={extents}
      indication={indication}
      selected={selected}
      onSelect={(captureId, range) => actions.setHighlight({ captureId, range })}
      nameOf={({ capture }) => names.get(capture.captureId) ?? capture.captureId}
      style={style}
    />
  );
}

function depthCapture({ id, sampleCount, ...facts }: TraceFacts) {
  return { ...facts, captureId: id, samples: sampleCount };
}

/** The image for what the picture last asked. */
function useDepthImage(
  engine: Engine,
  by: Omit<DepthScanInput, 'captures'>,
  conditioning: ConditioningRecipe,
): readonly [DepthShown | null, readonly string[], (asked: DepthAsked) => void] {
  const [asked, setAsked] = useState<DepthAsked | null>(null);
  const [shown, setShown] = useState<DepthShown | null>(null);
  const [problems, setProblems] = useState<readonly string[]>([]);
  const submit = useMemo(
    () => newestWins((error) => setProblems([error instanceof Error ? error.message : String(error)])),
    [],
  );
  useEffect(() => {
    if (asked === null) return;
    submit(async () => {
      const { problems: found, ...picture } = await engine.ask('depthImage', {
        captures: asked.scan.members.map(({ capture }) => capture.captureId),
        by,
        conditioning,
        across: asked.across,
        onlyLeg: asked.onlyLeg,
        grid: asked.grid,
      });
      setShown({ asked, picture: { ...picture, grid: asked.grid } });
      setProblems(toldOnce(found));
    });
  }, [engine, asked, by, conditioning, submit]);
  return [shown, problems, setAsked];
}
