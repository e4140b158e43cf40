import { contextBridge, type IpcRendererEvent, ipcRenderer, webUtils } from 'electron';
import { callNames, channelOf, type EventName, eventNames, fileCall } from './bridge.ts';

const carried = callNames.map((name) => [
  name,
  (...called: unknown[]) => ipcRenderer.invoke(channelOf(name), ...called),
]);

// The page gets these functions and no more of Electron; the event object, which holds the sender, stays here.
contextBridge.exposeInMainWorld('workbench', {
  ...Object.fromEntries(carried),
  // A path is read from a file that the person dropped, goes to the host, and is never shown to the page.
  [fileCall]: (file: Parameters<typeof webUtils.getPathForFile>[0]) =>
    ipcRenderer.invoke(channelOf(fileCall), webUtils.getPathForFile(file)),
  on(name: EventName, listener: (told: unknown) => void) {
    if (!eventNames.includes(name)) throw new Error(`There is no event "${String(name)}".`);
    const pass = (_event: IpcRendererEvent, told: unknown): void => listener(told);
    ipcRenderer.on(channelOf(name), pass);
    return () => ipcRenderer.removeListener(channelOf(name), pass);
  },
});
