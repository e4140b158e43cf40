import { type IpcMainInvokeEvent, ipcMain, type WebContents } from 'electron';
import * as v from 'valibot';
import { type CallName, type Carried, callNames, calls, channelOf, type EventName, type Told } from './bridge.ts';
import { isOwnPage } from './page-address.ts';

/**
 * Answers every call of the bridge's table, for the workbench's own page and with arguments that fit the table; refuses all else.
 * `callerOf` gives what the host knows of the window that calls; `null` refuses it.
 */
export function answerCalls<Caller>(carried: Carried<Caller>, callerOf: (sender: WebContents) => Caller | null): void {
  for (const name of callNames) {
    ipcMain.handle(channelOf(name), (event: IpcMainInvokeEvent, ...called: unknown[]) => {
      const caller = isFromOwnPage(event) ? callerOf(event.sender) : null;
      if (caller === null) throw new Error(`"${name}" was called by a page that is not the workbench.`);
      return answer(carried, caller, name, called);
    });
  }
}

function answer<Caller, Name extends CallName>(
  carried: Carried<Caller>,
  caller: Caller,
  name: Name,
  called: readonly unknown[],
): Promise<unknown> {
  const checked = v.safeParse(calls[name].arguments, called);
  if (!checked.success) {
    throw new Error(`"${name}" was called with something else than it takes: ${v.summarize(checked.issues)}`);
  }
  const carryOut = carried[name] as (caller: Caller, ...checkedArguments: readonly unknown[]) => Promise<unknown>;
  return carryOut(caller, ...checked.output);
}

/** Tells the page an event of the bridge's table. */
export function tell<Name extends EventName>(page: WebContents, name: Name, told: Told<Name>): void {
  if (!page.isDestroyed()) page.send(channelOf(name), told);
}

/** Only the page itself: not a frame inside it, and not a frame that is already gone. */
function isFromOwnPage(event: IpcMainInvokeEvent): boolean {
  const frame = event.senderFrame;
  return frame !== null && frame === event.sender.mainFrame && isOwnPage(frame.url);
}
