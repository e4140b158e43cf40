import type { Engine } from '../../engine/engine.ts';
import { PeakCurve, type PeakCurveProps } from '../../series/PeakCurve.tsx';
import { SeriesContainer } from '../../series/SeriesContainer.tsx';
import { SeriesPicture } from '../../series/SeriesPicture.tsx';
import { seriesCaptures } from '../../series/series-captures.ts';
import { WorkbenchContext } from '../../state/workbench.ts';
import type { State } from '../../state/workbench-state.ts';
import { limitsOfAll, wholeOf } from '../../trace/viewport.ts';
import { type Desk, silentEngine, stoppedEngine } from '../data/desk.ts';
import { cutOffCapture, flankCapture, peakCapture } from '../data/scenario.ts';
import type { Scene, Section } from '../scene.ts';
import { withoutCalibration } from './trace.tsx';

const nothing = () => {};

function shown(desk: Desk, state: Partial<State>, engine: Engine = desk.engine) {
  const store = desk.with({ selected: peakCapture, ...state });
  return (
    <WorkbenchContext value={store}>
      <SeriesContainer engine={engine} of={seriesCaptures(store.getState())} />
    </WorkbenchContext>
  );
}

/** The captures of a series as a picture, and height against position. */
export const series: Section = {
  id: 'series',
  title: 'Series',
  scenes(desk): readonly Scene[] {
    const pair = (id: string, title: string, state: Partial<State>, engine?: Engine): Scene => ({
      id,
      title,
      frame: 'centre',
      content: shown(desk, state, engine),
    });
    const { captures, review, evaluation, style } = desk.state;
    const limits = limitsOfAll([...captures.values()].slice(0, 1));
    const readings = (evaluation?.readings?.readings ?? []).filter(({ gate }) => gate === 'hole');
    const curve: PeakCurveProps = {
      gate: 'hole',
      curve: null,
      readings,
      nameOf: (id) => id,
      doubts: [],
      selected: null,
      onSelect: nothing,
      style,
    };
    return [
      pair('whole', 'One chosen, the whole record', {}),
      pair('loading', 'The picture is not there yet', {}, silentEngine),
      pair('wrong', 'The picture cannot be made', {}, stoppedEngine),
      pair('zoomed', 'A part of the record; a reading off the peak chosen', {
        view: { fromUs: 10, toUs: 18 },
        selected: flankCapture,
      }),
      pair('saturated', 'A reading with a cut-off crest chosen', { selected: cutOffCapture }),
      pair('back-wall', 'Another gate followed', { selectedGate: 'back wall' }),
      pair('no-calibration', 'No calibration: plain time', withoutCalibration(desk.state)),
      pair('not-read', 'Nothing was read: no gates', {
        review: { ...review, readings: { ...review.readings!, gates: [] } },
        evaluation: evaluation === null ? null : { ...evaluation, readings: null },
      }),
      pair('two', 'Two captures only', {
        review: { ...review, readings: { ...review.readings!, captures: [peakCapture, cutOffCapture] } },
      }),
      pair('inch', 'Inch and decimal comma', { style: { units: 'inch', decimalMark: ',' } }),
      {
        id: 'picture-none',
        title: 'No series yet',
        frame: 'picture',
        content: (
          <SeriesPicture
            ofOneReflector
            captures={[]}
            image={null}
            onImage={nothing}
            problems={[]}
            readings={[]}
            peak={null}
            gates={[]}
            selectedGate={null}
            calibration={null}
            view={wholeOf(limits)}
            limits={limits}
            onView={nothing}
            selected={null}
            onSelect={nothing}
            style={style}
          />
        ),
      },
      { id: 'curve-none', title: 'No curve yet', frame: 'picture', content: <PeakCurve {...curve} readings={[]} /> },
      {
        id: 'curve-low',
        title: 'A doubtful curve in little room',
        frame: 'picture',
        content: (
          <PeakCurve
            {...curve}
            curve={evaluation?.readings?.series.find(({ gate }) => gate === 'back wall')?.curve ?? null}
            gate="back wall"
            selected={peakCapture}
            doubts={evaluation?.readings?.series.find(({ gate }) => gate === 'back wall')?.doubts ?? []}
          />
        ),
      },
      {
        id: 'curve-doubts',
        title: 'Why there is no curve',
        frame: 'picture',
        content: (
          <PeakCurve
            {...curve}
            gate="second leg, far side of the weld"
            doubts={[
              'The captures have no positions, so that nothing can be held against the place of the probe.',
              'Three captures were taken with another gain than the rest.',
            ]}
          />
        ),
      },
    ];
  },
};
