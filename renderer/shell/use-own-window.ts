import { useEffect, useRef } from 'react';
import { visibleText } from '../../core/visible-text.ts';
import type { Host, MenuToShow } from '../host/host.ts';
import { type CommandState, commandState, isEnabled, isShown, labelOf, menus } from '../state/command.ts';
import { commands } from '../state/commands.ts';
import { problemOf } from '../state/notices.ts';
import type { WorkbenchStore } from '../state/workbench.ts';
import type { PageShell } from './use-shell.ts';

/** The window about the page: its title and, where it is one of our own, its menu, the review it was opened for, and how it closes. */
export function useOwnWindow({ ownWindow }: Host, workbench: WorkbenchStore, shell: PageShell): void {
  const latest = useRef(shell);
  latest.current = shell;

  useEffect(() => {
    const name = (): void => {
      document.title = windowTitle(workbench.getState());
    };
    name();
    return workbench.subscribe(name);
  }, [workbench]);

  useEffect(() => {
    if (ownWindow === undefined) return;
    let shown = '';
    const show = (): void => {
      const told = menusToShow(commandState(workbench.getState()));
      const text = JSON.stringify(told);
      if (text !== shown) ownWindow.showMenu(told);
      shown = text;
    };
    show();
    const stops = [
      workbench.subscribe(show),
      ownWindow.onCommand((id) => {
        const command = commands.find((one) => one.id === id);
        if (command !== undefined) latest.current.run(command);
      }),
      ownWindow.onCloseAsked(() => latest.current.leave(() => ownWindow.close())),
    ];
    ownWindow.reviewGiven().then(
      (found) => {
        if (found !== null) void workbench.getState().actions.openReview(found);
      },
      (error: unknown) => workbench.setState({ notices: [problemOf(error)] }),
    );
    return () => {
      for (const stop of stops) stop();
    };
  }, [ownWindow, workbench]);
}

/** `Plate weld – A-scan workbench`, with a mark in words while it is not saved. */
export function windowTitle({ review, name, unsaved }: Pick<CommandState, 'review' | 'name' | 'unsaved'>): string {
  const title = review.title || name;
  const parts = [unsaved ? 'Unsaved' : null, title || null, 'A-scan workbench'].filter((part) => part !== null);
  return visibleText(parts.join(' – '));
}

/** The list of commands as a window's menu shows it. */
export function menusToShow(state: CommandState): readonly MenuToShow[] {
  return menus.map((label) => ({
    label,
    items: commands
      .filter((command) => command.menu === label && isShown(command, state))
      .map((command, i) => ({
        id: command.id,
        label: visibleText(labelOf(command, state)),
        shortcut: command.shortcuts?.[0] ?? null,
        enabled: isEnabled(command, state),
        apart: i > 0 && command.apart === true,
      })),
  }));
}
