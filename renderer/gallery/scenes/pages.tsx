import { App } from '../../App.tsx';
import type { State } from '../../state/workbench-state.ts';
import type { Desk } from '../data/desk.ts';
import { cutOffCapture, lateCheck, peakCapture } from '../data/scenario.ts';
import type { Scene, Section } from '../scene.ts';

function page(desk: Desk, state: Partial<State>) {
  return (
    <App
      host={desk.host}
      engine={desk.engine}
      workbench={desk.with({ selected: peakCapture, name: 'plate-9.json', unsaved: false, ...state })}
    />
  );
}

/** The page whole, each alone in the window. */
export const pages: Section = {
  id: 'pages',
  title: 'Pages',
  scenes(desk): readonly Scene[] {
    const { review } = desk.state;
    const scene = (id: string, title: string, state: Partial<State>): Scene => ({
      id,
      title,
      frame: 'window',
      content: page(desk, state),
    });
    return [
      scene('first', 'The first page', {
        review: { ...review, title: '', sources: [] },
        files: new Map(),
        captures: new Map(),
        name: null,
        selected: null,
        evaluation: null,
      }),
      scene('import', 'Import', { procedure: 'import' }),
      scene('calibration', 'Calibration', { procedure: 'calibration' }),
      scene('readings', 'Readings', { procedure: 'readings', selectedGate: 'hole' }),
      scene('drift', 'Drift', { procedure: 'drift', selected: lateCheck }),
      scene('asked', 'A figure is asked', {
        procedure: 'readings',
        selected: cutOffCapture,
        asked: { kind: 'reading', captureId: cutOffCapture, gate: 'hole', figure: 'depth' },
      }),
      scene('evaluating', 'Evaluating, nothing yet', {
        procedure: 'readings',
        evaluation: null,
        evaluating: true,
        evaluationProgress: { done: 3, total: 25 },
      }),
    ];
  },
};
