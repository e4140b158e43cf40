import { useCallback, useEffect, useMemo, useState } from 'react';
import type { Review } from '../../core/review/review.ts';
import type { Engine } from '../engine/engine.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { newestWins } from '../engine/newest-wins.ts';
import { toldOnce } from '../parts/told-once.ts';
import { useWorkbench } from '../state/workbench.ts';
import { limitsOfAll, type Viewport, wholeOf } from '../trace/viewport.ts';
import { PeakCurve } from './PeakCurve.tsx';
import styles from './SeriesContainer.module.css';
import { SeriesPicture } from './SeriesPicture.tsx';
import { seriesOf } from './series-captures.ts';
import type { ImageAsked, SeriesImage } from './series-image.ts';

/** The series as a picture, and beside it height against position; connected to the workbench. */
export function SeriesContainer({ engine, of }: { readonly engine: Engine; readonly of: readonly TraceFacts[] }) {
  const actions = useWorkbench((workbench) => workbench.actions);
  const review = useWorkbench((workbench) => workbench.review);
  const evaluation = useWorkbench((workbench) => workbench.evaluation);
  const traceView = useWorkbench((workbench) => workbench.view);
  const selected = useWorkbench((workbench) => workbench.selected);
  const selectedGate = useWorkbench((workbench) => workbench.selectedGate);
  const style = useWorkbench((workbench) => workbench.style);

  const captures = useMemo(() => seriesOf(of), [of]);
  const names = useMemo(() => new Map(captures.map(({ captureId, name }) => [captureId, name])), [captures]);
  // With one of its captures on the trace, both show the same window; with another one, the series has a window of its own.
  const own = useMemo(() => of.find(({ id }) => id === selected), [of, selected]);
  const [ownView, setOwnView] = useState<Viewport | null>(null);
  const limits = useMemo(() => limitsOfAll(own === undefined ? of : [own]), [of, own]);
  const view = useMemo(
    () => (own === undefined ? ownView : traceView) ?? wholeOf(limits),
    [own, ownView, traceView, limits],
  );
  const [image, problems, onImage] = useImage(engine, review.conditioning, view);

  const gates = review.readings?.gates ?? noGates;
  const followed = (gates.find(({ name }) => name === selectedGate) ?? gates[0])?.name ?? null;
  const readings = useMemo(
    () => evaluation?.readings?.readings.filter(({ gate }) => gate === followed) ?? [],
    [evaluation, followed],
  );
  const series = evaluation?.readings?.series.find(({ gate }) => gate === followed) ?? null;

  return (
    <div className={styles.pair}>
      <SeriesPicture
        captures={captures}
        image={image}
        onImage={onImage}
        problems={problems}
        readings={readings}
        ofOneReflector={review.readings?.series != null}
        peak={series?.peak ?? null}
        gates={gates}
        selectedGate={selectedGate}
        calibration={evaluation?.calibration?.calibration ?? null}
        view={view}
        limits={limits}
        onView={own === undefined ? setOwnView : actions.show}
        selected={selected}
        onSelect={actions.select}
        style={style}
      />
      <PeakCurve
        gate={followed ?? ''}
        curve={series?.curve ?? null}
        readings={readings}
        nameOf={(id) => withoutFolder(names.get(id) ?? id)}
        doubts={series?.doubts ?? noDoubts}
        selected={selected}
        onSelect={actions.select}
        style={style}
      />
    </div>
  );
}

/** Where there is little room: the file within its folder. */
function withoutFolder(name: string): string {
  return name.slice(name.lastIndexOf('/') + 1);
}

const noGates: NonNullable<Review['readings']>['gates'] = [];
const noDoubts: readonly string[] = [];

/** The image for what the picture last asked, of the part of the axis that is shown. */
function useImage(
  engine: Engine,
  conditioning: Review['conditioning'],
  { fromUs, toUs }: { readonly fromUs: number; readonly toUs: number },
): readonly [SeriesImage | null, readonly string[], (asked: ImageAsked) => void] {
  const [asked, setAsked] = useState<ImageAsked | null>(null);
  const [image, setImage] = useState<SeriesImage | null>(null);
  const [problems, setProblems] = useState<readonly string[]>([]);
  const onMistake = useCallback(
    (error: unknown) => setProblems([error instanceof Error ? error.message : String(error)]),
    [],
  );
  const submit = useMemo(() => newestWins(onMistake), [onMistake]);
  useEffect(() => {
    if (asked === null) return;
    submit(async () => {
      const {
        columns,
        rows,
        percent,
        problems: found,
      } = await engine.ask('picture', {
        columns: asked.captures,
        conditioning,
        layer: 'envelope',
        fromUs,
        toUs,
        rows: asked.rows,
      });
      setImage({ asked, fromUs, toUs, cells: { columns, rows, percent } });
      setProblems(toldOnce(found));
    });
  }, [engine, asked, conditioning, fromUs, toUs, submit]);
  return [image, problems, setAsked];
}
