import { useCallback, useEffect } from 'react';
import { I18nProvider } from 'react-aria-components';
import { useStore } from 'zustand';
import { useShallow } from 'zustand/react/shallow';
import styles from './App.module.css';
import type { Engine } from './engine/engine.ts';
import type { Host } from './host/host.ts';
import { followScheme } from './settings/scheme.ts';
import { DropEverywhere } from './shell/DropEverywhere.tsx';
import { FirstPageContainer, isBlank } from './shell/FirstPageContainer.tsx';
import { Head } from './shell/Head.tsx';
import { laterPart } from './shell/later-part.ts';
import { Notices } from './shell/Notices.tsx';
import type { Panels } from './shell/panels.ts';
import { StatusLine } from './shell/StatusLine.tsx';
import { useConcerns } from './shell/use-concerns.ts';
import { useOwnWindow } from './shell/use-own-window.ts';
import { useRoom } from './shell/use-room.ts';
import { useShell } from './shell/use-shell.ts';
import { useShortcuts } from './shell/use-shortcuts.ts';
import { commandState } from './state/command.ts';
import { useWorkbench, WorkbenchContext, type WorkbenchStore } from './state/workbench.ts';

type ReviewPart = typeof import('./ReviewPage.tsx');

/** What is not on the first page comes when that one is there. */
const reviewPart = laterPart((): Promise<ReviewPart> => import('./ReviewPage.tsx'));
const dialogsPart = laterPart(() => import('./shell/DialogsContainer.tsx'));

interface AppProps {
  readonly host: Host;
  readonly engine: Engine;
  readonly workbench: WorkbenchStore;
}

/** The page's regions; no logic. The page's words are English, whatever language the browser speaks. */
export function App(props: AppProps) {
  const theme = useStore(props.workbench, (workbench) => workbench.theme);
  useEffect(() => followScheme(theme), [theme]);
  useEffect(() => void reviewPart.load(), []);
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
  const panels = useWorkbench(({ layout }) => layout.panels);
  const actions = useWorkbench((all) => all.actions);
  const setPanels = useCallback(
    (change: (panels: Panels) => Panels) =>
      actions.setLayout((layout) => ({ ...layout, panels: change(layout.panels) })),
    [actions],
  );
  const shell = useShell(workbench, room, setPanels);
  const { run, doing } = shell;
  useShortcuts(doing);
  useOwnWindow(host, workbench, shell);
  useConcerns(shell);

  const state = useWorkbench(useShallow(commandState));
  const asks = useWorkbench(({ given, conflict }) => given !== null || conflict !== null);
  const dialogs = dialogsPart.usePart(asks || shell.dialog !== null || shell.leaving !== null);
  const blank = useWorkbench(isBlank);
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
        <Review
          engine={engine}
          host={host}
          room={room}
          panels={panels}
          onPanels={(next) => setPanels(() => next)}
          shell={shell}
        />
      )}
      <div>
        <NoticesContainer />
        <StatusContainer />
      </div>
      {dialogs !== null && <dialogs.DialogsContainer host={host} shell={shell} state={state} />}
      <DropEverywhere onDrop={onDrop} />
    </div>
  );
}

function Review(props: Parameters<ReviewPart['ReviewPage']>[0]) {
  const part = reviewPart.usePart(true);
  return part === null ? <main className={styles.first} /> : <part.ReviewPage {...props} />;
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
