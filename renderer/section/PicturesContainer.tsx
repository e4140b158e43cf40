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

const names: Readonly<Record<Picture, string>> = { series: 'Series', section: 'Section', plan: 'Plan' };

/** What stands below the trace: the series alone, or with a part or a scan described a choice of pictures. */
export function PicturesContainer({ engine, of }: { readonly engine: Engine; readonly of: readonly TraceFacts[] }) {
  const hasPart = useWorkbench(({ review }) => review.part !== null || review.scan !== null);
  const wanted = useWorkbench(({ layout }) => layout.picture);
  const actions = useWorkbench((workbench) => workbench.actions);
  const hasSeries = of.length > 1;
  const shown: Picture = hasPart ? (wanted === 'series' && !hasSeries ? 'section' : wanted) : 'series';
  const part = drawings.usePart(hasPart && shown !== 'series');
  if (!hasPart) return <SeriesContainer engine={engine} of={of} />;
  const options = (hasSeries ? (['series', 'section', 'plan'] as const) : (['section', 'plan'] as const)).map((id) => ({
    id,
    label: names[id],
  }));
  const choice = (
    <div className={styles.choice}>
      <Toggle
        label="Picture below the trace"
        hideLabel
        options={options}
        chosen={shown}
        onChoose={(picture) => actions.setLayout((layout) => ({ ...layout, picture }))}
      />
    </div>
  );
  if (shown !== 'series') return part === null ? null : <part.Drawings picture={shown} head={choice} />;
  return (
    <div className={styles.pictures}>
      {choice}
      <SeriesContainer engine={engine} of={of} />
    </div>
  );
}
