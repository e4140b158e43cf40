import { type IpcMainInvokeEvent, ipcMain } from 'electron';
import * as v from 'valibot';
import { type Bridge, type CallName, callNames, calls, channelOf } from './bridge.ts';
import { isOwnPage } from './page-address.ts';

/** Answers every call of the bridge's table, for the workbench's own page and with arguments that fit the table; refuses all else. */
export function answerCalls(bridge: Bridge): void {
  for (const name of callNames) {
    ipcMain.handle(channelOf(name), (event: IpcMainInvokeEvent, ...called: unknown[]) => {
      if (!isFromOwnPage(event)) throw new Error(`"${name}" was called by a page that is not the workbench.`);
      return answer(bridge, name, called);
    });
  }
}

function answer<Name extends CallName>(bridge: Bridge, name: Name, called: readonly unknown[]): Promise<unknown> {
  const checked = v.safeParse(calls[name].arguments, called);
  if (!checked.success) {
    throw new Error(`"${name}" was called with something else than it takes: ${v.summarize(checked.issues)}`);
  }
  const carryOut = bridge[name] as (...checkedArguments: readonly unknown[]) => Promise<unknown>;
  return carryOut(...checked.output);
}

/** Only the page itself: not a frame inside it, and not a frame that is already gone. */
function isFromOwnPage(event: IpcMainInvokeEvent): boolean {
  const frame = event.senderFrame;
  return frame !== null && frame === event.sender.mainFrame && isOwnPage(frame.url);
}
