import { type ReactNode, useRef } from 'react';
import { Button } from '../parts/Button.tsx';
import { Toggle } from '../parts/Choice.tsx';
import { Icon } from '../parts/Icon.tsx';
import {
  belowLimits,
  inSight,
  type Panel,
  type Panels,
  toggled,
  widthLimits,
  withBelowShare,
  withWidth,
} from './panels.ts';
import { Separator } from './Separator.tsx';
import type { Room } from './use-room.ts';
import styles from './Workspace.module.css';

/**
 * The columns of the page: captures, trace with the pictures below it, procedures. Where there is room they stand side by side and a person
 * sets their widths; with less of it one of the side columns at a time, and with little one column at a time.
 */
export function Workspace({
  room,
  panels,
  onPanels,
  captures,
  trace,
  below,
  procedures,
  over,
}: {
  readonly room: Room;
  readonly panels: Panels;
  readonly onPanels: (panels: Panels) => void;
  readonly captures: ReactNode;
  readonly trace: ReactNode;
  /** `null` where there is nothing to put there: the trace then has the whole height. */
  readonly below: ReactNode | null;
  readonly procedures: ReactNode;
  /** Lies over the procedures, or over the trace where these are not in sight; `null`: nothing. */
  readonly over: ReactNode | null;
}) {
  const shown = inSight(panels, room);
  const toggle = (panel: Panel) => onPanels(toggled(panels, panel, room));
  return (
    <main className={styles[room]}>
      {room === 'narrow' && (
        <div className={styles.choice}>
          <Toggle
            label="Part of the page"
            hideLabel
            options={[
              { id: 'trace', label: 'Trace' },
              { id: 'captures', label: 'Captures' },
              { id: 'procedures', label: 'Procedures' },
            ]}
            chosen={panels.only ?? 'trace'}
            onChoose={(only) => onPanels({ ...panels, only: only === 'trace' ? null : only })}
          />
        </div>
      )}
      {shown.captures ? (
        <>
          <aside className={styles.side} aria-label="Captures" style={widthOf(panels, 'captures', room)}>
            <PanelHead title="Captures" hide="left" alone={room === 'narrow'} onHide={() => toggle('captures')} />
            <div className={styles.content}>{captures}</div>
          </aside>
          {room !== 'narrow' && (
            <Separator
              label="Width of the captures"
              orientation="vertical"
              value={panels.widths.captures}
              least={widthLimits.captures.least}
              most={widthLimits.captures.most}
              step={20}
              grows="right"
              unit={() => 1}
              onChange={(width) => onPanels(withWidth(panels, 'captures', width))}
            />
          )}
        </>
      ) : (
        room !== 'narrow' && <Rail title="Captures" icon="list" side="left" onOpen={() => toggle('captures')} />
      )}
      {shown.trace && (
        <Centre trace={trace} below={below} panels={panels} onPanels={onPanels} stacked={room === 'narrow'}>
          {!shown.procedures && over}
        </Centre>
      )}
      {shown.procedures ? (
        <>
          {room !== 'narrow' && (
            <Separator
              label="Width of the procedures"
              orientation="vertical"
              value={panels.widths.procedures}
              least={widthLimits.procedures.least}
              most={widthLimits.procedures.most}
              step={20}
              grows="left"
              unit={() => 1}
              onChange={(width) => onPanels(withWidth(panels, 'procedures', width))}
            />
          )}
          <aside className={styles.side} aria-label="Procedures" style={widthOf(panels, 'procedures', room)}>
            <PanelHead title="Procedures" hide="right" alone={room === 'narrow'} onHide={() => toggle('procedures')} />
            <div className={styles.content}>{procedures}</div>
            {over !== null && <div className={styles.over}>{over}</div>}
          </aside>
        </>
      ) : (
        room !== 'narrow' && <Rail title="Procedures" icon="steps" side="right" onOpen={() => toggle('procedures')} />
      )}
      {!shown.trace && !shown.procedures && over !== null && <div className={styles.over}>{over}</div>}
    </main>
  );
}

function Centre({
  trace,
  below,
  panels,
  onPanels,
  stacked,
  children,
}: {
  readonly trace: ReactNode;
  readonly below: ReactNode | null;
  readonly panels: Panels;
  readonly onPanels: (panels: Panels) => void;
  /** One below the other, each as high as it needs to be, and the page scrolls. */
  readonly stacked: boolean;
  /** What lies over it, or nothing. */
  readonly children: ReactNode;
}) {
  const centre = useRef<HTMLDivElement>(null);
  const hasOver = children !== null && children !== false;
  return (
    <div className={styles.centre} ref={centre}>
      <div className={styles.trace}>{trace}</div>
      {below !== null && stacked && <div className={styles.below}>{below}</div>}
      {below !== null && !stacked && (
        <>
          <Separator
            label="Height of the series"
            orientation="horizontal"
            value={panels.belowShare}
            least={belowLimits.least}
            most={belowLimits.most}
            step={0.05}
            grows="up"
            unit={() => 1 / Math.max(1, centre.current?.clientHeight ?? 1)}
            onChange={(share) => onPanels(withBelowShare(panels, share))}
          />
          <div className={styles.below} style={{ flexBasis: `${panels.belowShare * 100}%` }}>
            {below}
          </div>
        </>
      )}
      {hasOver && <div className={styles.over}>{children}</div>}
    </div>
  );
}

function PanelHead({
  title,
  hide,
  alone,
  onHide,
}: {
  readonly title: string;
  readonly hide: 'left' | 'right';
  /** Its name stands above it already, among the parts of the page; a screen reader still finds it here. */
  readonly alone: boolean;
  readonly onHide: () => void;
}) {
  if (alone) return <h2 className={styles.unseen}>{title}</h2>;
  return (
    <div className={styles.panelHead}>
      <h2>{title}</h2>
      <Button kind="quiet" small aria-label={`Hide the ${title.toLowerCase()}`} onPress={onHide}>
        <Icon name={hide === 'left' ? 'chevron-left' : 'chevron-right'} />
      </Button>
    </div>
  );
}

/** A column that is closed: its name up the edge of the page, to open it again. */
function Rail({
  title,
  icon,
  side,
  onOpen,
}: {
  readonly title: string;
  readonly icon: 'list' | 'steps';
  readonly side: 'left' | 'right';
  readonly onOpen: () => void;
}) {
  return (
    <div className={side === 'left' ? styles.railLeft : styles.railRight}>
      <Button kind="quiet" aria-label={`Show the ${title.toLowerCase()}`} onPress={onOpen}>
        <Icon name={icon} />
        <span className={styles.railName}>{title}</span>
      </Button>
    </div>
  );
}

function widthOf(panels: Panels, panel: Panel, room: Room) {
  return room === 'narrow' ? {} : { width: panels.widths[panel] };
}
