import type { Engine } from '../../engine/engine.ts';
import { WorkbenchContext } from '../../state/workbench.ts';
import type { State, Workbench } from '../../state/workbench-state.ts';
import { ConditioningPanel } from '../../trace/ConditioningPanel.tsx';
import { TraceContainer } from '../../trace/TraceContainer.tsx';
import { type Desk, silentEngine, stoppedEngine } from '../data/desk.ts';
import { cutOffCapture, peakCapture, silentCapture, stepCapture } from '../data/scenario.ts';
import type { Scene, Section } from '../scene.ts';

function shown(desk: Desk, state: Partial<State>, engine: Engine = desk.engine) {
  return (
    <WorkbenchContext value={desk.with({ selected: peakCapture, ...state })}>
      <TraceContainer engine={engine} />
    </WorkbenchContext>
  );
}

/** The trace, with all that stands on it. */
export const trace: Section = {
  id: 'trace',
  title: 'Trace',
  scenes(desk): readonly Scene[] {
    const { review, evaluation } = desk.state;
    const scene = (id: string, title: string, state: Partial<State>, engine?: Engine): Scene => ({
      id,
      title,
      frame: 'centre',
      content: shown(desk, state, engine),
    });
    return [
      scene('none', 'No capture is shown', { selected: null }),
      scene('loading', 'Not drawn yet', {}, silentEngine),
      scene('wrong', 'It cannot be drawn', {}, stoppedEngine),
      scene('whole', 'Whole, with gates, readings and echoes', {}),
      scene('block', 'The block, with its reflectors', { selected: stepCapture }),
      scene('zoomed', 'Zoomed to single samples; the crest between them', { view: { fromUs: 12.25, toUs: 12.6 } }),
      scene('rectified', 'Rectified, with the envelope', { traceMode: 'rectified', envelope: true }),
      scene('cursors', 'Two cursors', { cursors: { firstUs: 12.42, secondUs: 20.87 } }),
      scene('gate', 'A gate chosen, with its numbers', { selectedGate: 'hole' }),
      scene('drawing', 'The next drag makes a gate', { drawingGate: true }),
      scene('saturated', 'The crest is cut off', { selected: cutOffCapture, selectedGate: 'hole' }),
      scene('no-echo', 'Nothing in the gate', { selected: silentCapture, selectedGate: 'hole' }),
      scene('no-calibration', 'No calibration: plain time', withoutCalibration(desk.state)),
      scene('overlaid', 'Five laid over it', { overlaid: overlaid(desk) }),
      scene('highlight', 'Samples of a figure that was asked', {
        highlight: { captureId: peakCapture, range: { first: 600, last: 645 } },
      }),
      scene('out-of-sight', 'The gates lie beside the window', { view: { fromUs: 2, toUs: 9 } }),
      scene('many-gates', 'Many gates with long names', { review: manyGates(desk.state), selectedGate: null }),
      scene('inch', 'Inch and decimal comma', {
        style: { units: 'inch', decimalMark: ',' },
        selectedGate: 'back wall',
      }),
      {
        id: 'conditioning',
        title: 'Conditioning, with a band that cannot be',
        frame: 'centre',
        content: (
          <ConditioningPanel
            recipe={{ ...review.conditioning, bandPass: { lowMHz: 2, highMHz: 26, order: 4 } }}
            sampleRateMHz={50}
            style={desk.state.style}
            problems={['The band ends above half of the sampling rate, 25 MHz: lower it.']}
            onRecipe={() => {}}
            onClose={() => {}}
          />
        ),
      },
      scene('stale', 'The results are being worked out anew', {
        evaluating: true,
        evaluation: evaluation === null ? null : { ...evaluation, readings: null },
      }),
    ];
  },
};

function overlaid({ state }: Desk): readonly string[] {
  return [...state.captures.keys()].filter((id) => id.startsWith('plate/')).slice(2, 7);
}

/** As it would be had nobody calibrated: gates by time, no path. */
export function withoutCalibration({ review, evaluation }: Workbench): Partial<State> {
  return {
    review: { ...review, calibration: null },
    evaluation: evaluation === null ? null : { ...evaluation, calibration: null },
  };
}

function manyGates({ review }: Workbench): Workbench['review'] {
  const names = [
    'hole',
    'back wall',
    'near the surface',
    'between hole and back wall',
    'second leg, far side of the weld',
  ];
  const gates = names.map((name, i) => ({
    name,
    span: { axis: 'path' as const, fromMm: 8 + 11 * i, toMm: 24 + 11 * i },
    thresholdPercent: 15 + 6 * i,
  }));
  return { ...review, readings: { ...review.readings!, gates } };
}
