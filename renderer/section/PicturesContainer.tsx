import type { Engine } from '../engine/engine.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { Toggle } from '../parts/Choice.tsx';
import { SeriesContainer } from '../series/SeriesContainer.tsx';
import type { Picture } from '../settings/layout.ts';
import { laterPart } from '../shell/later-part.ts';
import { useWorkbench } from '../state/workbench.ts';
import styles from './Pictures.module.css';

/** The drawings come when they are wanted, or when the page has nothing else to do. */
const drawings = laterPart(() => import('./Drawings.tsx'));

const names: Readonly<Record<Picture, string>> = {
  series: 'Series',
  depth: 'True depth',
  section: 'Section',
  plan: 'Plan',
};

/** What stands below the trace: the series alone, or with a part, a scan or a beam described a choice of pictures: the captures by time and by true depth, and drawings. */
export function PicturesContainer({ engine, of }: { readonly engine: Engine; readonly of: readonly TraceFacts[] }) {
  const hasPart = useWorkbench(({ review }) => review.part !== null || review.scan !== null);
  const hasBeam = useWorkbench(({ review }) => review.readings?.beam != null);
  const wanted = useWorkbench(({ layout }) => layout.picture);
  const actions = useWorkbench((workbench) => workbench.actions);
  const hasSeries = of.length > 1;
  const choices: readonly Picture[] = [
    ...(hasSeries ? (['series'] as const) : []),
    'depth',
    ...(hasPart ? (['section', 'plan'] as const) : []),
  ];
  const hasChoice = hasPart || hasBeam;
  const shown: Picture = !hasChoice
    ? 'series'
    : choices.includes(wanted)
      ? wanted
      : hasPart && !hasSeries
        ? 'section'
        : 'series';
  const part = drawings.usePart(hasChoice && shown !== 'series');
  if (!hasChoice) return <SeriesContainer engine={engine} of={of} />;
  const choice = (
    <div className={styles.choice}>
      <Toggle
        label="Picture below the trace"
        hideLabel
        options={choices.map((id) => ({ id, label: names[id] }))}
        chosen={shown}
        onChoose={(picture) => actions.setLayout((layout) => ({ ...layout, picture }))}
      />
    </div>
  );
  if (shown !== 'series')
    return part === null ? null : <part.Drawings picture={shown} head={choice} engine={engine} of={of} />;
  return (
    <div className={styles.pictures}>
      {choice}
      <SeriesContainer engine={engine} of={of} />
    </div>
  );
}
