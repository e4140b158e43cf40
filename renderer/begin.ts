// Before the components' own styles, which have the last word.
import './theme.css';

// The core's worker comes up while the page's own, much larger part is still on its way.
const worker = new Worker(new URL('./engine/engine.worker.ts', import.meta.url), { type: 'module', name: 'core' });
void import('./main.tsx').then(({ showPage }) => showPage(worker));
