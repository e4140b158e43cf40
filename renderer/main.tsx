import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import { engineOver, type Line } from './engine/engine.ts';
import { browserHost } from './host/browser-host.ts';
import { desktopHost } from './host/desktop-host.ts';
import { createWorkbench } from './state/workbench.ts';

/** The workbench over the core at the other end of the line. */
export function showPage(line: Line): void {
  const host = window.workbench === undefined ? browserHost : desktopHost(window.workbench);
  const engine = engineOver(line);
  const workbench = createWorkbench(host, engine);
  const root = document.getElementById('root');
  if (root === null) return;
  createRoot(root).render(
    <StrictMode>
      <App host={host} engine={engine} workbench={workbench} />
    </StrictMode>,
  );
}
