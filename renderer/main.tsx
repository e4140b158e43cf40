// Before the components' own styles, which have the last word.
import './theme.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import { startEngine } from './engine/engine.ts';
import { browserHost } from './host/browser-host.ts';
import { desktopHost } from './host/desktop-host.ts';
import { createWorkbench } from './state/workbench.ts';

const host = window.workbench === undefined ? browserHost : desktopHost(window.workbench);
const engine = startEngine();
const workbench = createWorkbench(host, engine);
const root = document.getElementById('root');
if (root !== null) {
  createRoot(root).render(
    <StrictMode>
      <App host={host} engine={engine} workbench={workbench} />
    </StrictMode>,
  );
}
