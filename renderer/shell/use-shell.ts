import { useCallback, useMemo, useRef, useState } from 'react';
import type { HostFile } from '../host/host.ts';
import { type Command, carryOut, type Doing, type Shell } from '../state/command.ts';
import { problemOf } from '../state/notices.ts';
import type { WorkbenchStore } from '../state/workbench.ts';
import { opened, type Panels, toggled } from './panels.ts';
import type { Room } from './use-room.ts';

export type ShellDialog = Parameters<Shell['show']>[0];

export interface PageShell extends Shell {
  readonly dialog: ShellDialog | null;
  closeDialog(): void;
  /** What waits for the answer whether unsaved work is to be saved; `null`: nothing. */
  readonly leaving: (() => void) | null;
  /** The answer: what waits goes on, after a save that was made or without one; or nothing goes on. */
  answerLeaving(answer: 'save' | 'discard' | 'stay'): void;
  run(command: Command): void;
  doing(): Doing;
  /** Takes files in that are yet to come. */
  takeIn(files: Promise<readonly HostFile[]>): void;
}

/** The page around the workbench: which dialog is open, which panels are, and the question before unsaved work is left. */
export function useShell(
  workbench: WorkbenchStore,
  room: Room,
  setPanels: (change: (panels: Panels) => Panels) => void,
): PageShell {
  const [dialog, setDialog] = useState<ShellDialog | null>(null);
  const [leaving, setLeaving] = useState<{ readonly goOn: () => void } | null>(null);
  const latestRoom = useRef(room);
  latestRoom.current = room;

  const shell = useMemo(
    (): Shell => ({
      show: setDialog,
      toggle: (panel) =>
        setPanels((panels) =>
          panel === 'series' ? { ...panels, series: !panels.series } : toggled(panels, panel, latestRoom.current),
        ),
      openProcedures: () => setPanels((panels) => opened(panels, 'procedures', latestRoom.current)),
      leave(goOn) {
        if (workbench.getState().unsaved) setLeaving({ goOn });
        else goOn();
      },
    }),
    [workbench, setPanels],
  );
  const doing = useCallback((): Doing => ({ workbench: workbench.getState(), shell }), [workbench, shell]);

  return useMemo(
    () => ({
      ...shell,
      dialog,
      closeDialog: () => setDialog(null),
      leaving: leaving?.goOn ?? null,
      answerLeaving(answer) {
        setLeaving(null);
        if (leaving === null || answer === 'stay') return;
        if (answer === 'discard') leaving.goOn();
        else
          void workbench
            .getState()
            .actions.save()
            .then((wasSaved) => wasSaved && leaving.goOn());
      },
      doing,
      run(command) {
        setDialog(null);
        carryOut(command, doing());
      },
      takeIn(files) {
        files.then(
          (taken) => workbench.getState().actions.addFiles(taken),
          (error: unknown) => workbench.setState({ notices: [problemOf(error)] }),
        );
      },
    }),
    [shell, dialog, leaving, doing, workbench],
  );
}
