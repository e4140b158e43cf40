import { contextBridge, ipcRenderer } from 'electron';
import { callNames, channelOf } from './bridge.ts';

// The page gets these functions and no more of Electron.
contextBridge.exposeInMainWorld(
  'workbench',
  Object.fromEntries(
    callNames.map((name) => [name, (...called: unknown[]) => ipcRenderer.invoke(channelOf(name), ...called)]),
  ),
);
