import { useCallback, useEffect, useMemo, useState } from 'react';
import { I18nProvider } from 'react-aria-components';
import { useStore } from 'zustand';
import { useShallow } from 'zustand/react/shallow';
import styles from './App.module.css';
import { CapturesContainer } from './captures/CapturesContainer.tsx';
import type { Engine } from './engine/engine.ts';
import type { Host } from './host/host.ts';
import { ProceduresContainer } from './procedures/ProceduresContainer.tsx';
import { SeriesContainer } from './series/SeriesContainer.tsx';
import { seriesCaptures } from './series/series-captures.ts';
import { followScheme } from './settings/scheme.ts';
import { DialogsContainer } from './shell/DialogsContainer.tsx';
import { DropEverywhere } from './shell/DropEverywhere.tsx';
import { FirstPageContainer, isBlank } from './shell/FirstPageContainer.tsx';
import { Head } from './shell/Head.tsx';
import { Notices } from './shell/Notices.tsx';
import { initialPanels } from './shell/panels.ts';
import { StatusLine } from './shell/StatusLine.tsx';
import { useConcerns } from './shell/use-concerns.ts';
import { useOwnWindow } from './shell/use-own-window.ts';
import { useRoom } from './shell/use-room.ts';
import { useShell } from './shell/use-shell.ts';
import { useShortcuts } from './shell/use-shortcuts.ts';
import { Workspace } from './shell/Workspace.tsx';
import { commandState } from './state/commands.ts';
import { useWorkbench, WorkbenchContext, type WorkbenchStore } from './state/workbench.ts';
import { TraceContainer } from './trace/TraceContainer.tsx';
import { WherefromContainer } from './wherefrom/WherefromContainer.tsx';

interface AppProps {
  readonly host: Host;
  readonly engine: Engine;
  readonly workbench: WorkbenchStore;
}

/** The page's regions; no logic. The page's words are English, whatever language the browser speaks. */
export function App(props: AppProps) {
  const theme = useStore(props.workbench, (workbench) => workbench.theme);
  useEffect(() => followScheme(theme), [theme]);
  return (
    <I18nProvider locale="en-GB">
      <WorkbenchContext value={props.workbench}>
        <Page {...props} />
      </WorkbenchContext>
    </I18nProvider>
  );
}

function Page({ host, engine, workbench }: AppProps) {
  const room = useRoom();
  const [panels, setPanels] = useState(initialPanels);
  const shell = useShell(workbench, room, setPanels);
  const { run, doing } = shell;
  useShortcuts(doing);
  useOwnWindow(host, workbench, shell);
  useConcerns(shell);

  const state = useWorkbench(useShallow(commandState));
  const blank = useWorkbench(isBlank);
  const actions = useWorkbench((all) => all.actions);
  const onDrop = useCallback((data: DataTransfer) => shell.takeIn(host.dropped(data)), [shell, host]);

  return (
    <div className={styles.page}>
      <Head
        state={state}
        compact={room === 'narrow'}
        hasOwnMenu={host.ownWindow !== undefined}
        onTitle={(title) => void actions.edit({ kind: 'set-title', title })}
        onRun={run}
      />
      {blank ? (
        <main className={styles.first}>
          <FirstPageContainer onRun={run} />
        </main>
      ) : (
        <Review engine={engine} host={host} room={room} panels={panels} onPanels={setPanels} shell={shell} />
      )}
      <div>
        <NoticesContainer />
        <StatusContainer />
      </div>
      <DialogsContainer host={host} shell={shell} state={state} />
      <DropEverywhere onDrop={onDrop} />
    </div>
  );
}

function Review({
  engine,
  host,
  room,
  panels,
  onPanels,
  shell,
}: Omit<Parameters<typeof Workspace>[0], 'captures' | 'trace' | 'below' | 'procedures' | 'over'> & {
  readonly engine: Engine;
  readonly host: Host;
  readonly shell: ReturnType<typeof useShell>;
}) {
  const setProcedure = useWorkbench(({ actions }) => actions.setProcedure);
  const asked = useWorkbench((workbench) => workbench.asked);
  const review = useWorkbench((workbench) => workbench.review);
  const captures = useWorkbench((workbench) => workbench.captures);
  // biome-ignore lint/correctness/useExhaustiveDependencies: thousands of captures are not gone through again while a gate is dragged, but only when others are read.
  const series = useMemo(() => seriesCaptures({ review, captures }), [review.readings?.captures, captures]);
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
      below={series.length > 1 && panels.series ? <SeriesContainer engine={engine} of={series} /> : null}
      procedures={<ProceduresContainer engine={engine} host={host} />}
      over={asked === null ? null : <WherefromContainer engine={engine} />}
    />
  );
}

function NoticesContainer() {
  const notices = useWorkbench((workbench) => workbench.notices);
  const actions = useWorkbench((workbench) => workbench.actions);
  return <Notices notices={notices} onDismiss={actions.dismissNotices} />;
}

function StatusContainer() {
  const state = useWorkbench(
    useShallow(({ importing, evaluating, evaluationProgress, captures, files }) => ({
      importing,
      evaluating,
      evaluationProgress,
      captures,
      files,
    })),
  );
  const actions = useWorkbench((workbench) => workbench.actions);
  return (
    <StatusLine state={state} onCancelImport={actions.cancelImport} onCancelEvaluation={actions.cancelEvaluation} />
  );
}
