import type { FigureAsked } from '../../../core/origin.ts';
import { WorkbenchContext } from '../../state/workbench.ts';
import type { State } from '../../state/workbench-state.ts';
import { WherefromContainer } from '../../wherefrom/WherefromContainer.tsx';
import { WherefromPanel, type WherefromPanelProps } from '../../wherefrom/WherefromPanel.tsx';
import type { Desk } from '../data/desk.ts';
import { captureIn, cutOffCapture, flankCapture, peakCapture, silentCapture } from '../data/scenario.ts';
import type { Scene, Section } from '../scene.ts';

function asking(desk: Desk, asked: FigureAsked, state: Partial<State> = {}) {
  return (
    <WorkbenchContext value={desk.with({ asked, ...state })}>
      <WherefromContainer engine={desk.engine} />
    </WorkbenchContext>
  );
}

const nothing = () => {};
const gone: WherefromPanelProps = {
  origin: null,
  trail: [],
  onBack: nothing,
  onAsk: nothing,
  onClose: nothing,
  onShow: null,
  trace: null,
  isStale: false,
};

/** Where a figure comes from. */
export const wherefrom: Section = {
  id: 'wherefrom',
  title: 'Where from?',
  scenes(desk): readonly Scene[] {
    const scene = (id: string, title: string, asked: FigureAsked, state: Partial<State> = {}): Scene => ({
      id,
      title,
      frame: 'side',
      content: asking(desk, asked, state),
    });
    const reading = (captureId: string, figure: (FigureAsked & { kind: 'reading' })['figure']): FigureAsked => ({
      kind: 'reading',
      captureId,
      gate: 'hole',
      figure,
    });
    const lastCheck = captureIn('checks/check-7.csv');
    return [
      scene('depth', 'A depth without a beam', reading(peakCapture, 'depth')),
      scene('sound-path', 'A sound path', reading(peakCapture, 'sound-path')),
      scene('saturated', 'An amplitude with a doubt', reading(cutOffCapture, 'amplitude')),
      scene('off-peak', 'Below the peak', reading(flankCapture, 'below-peak')),
      scene('no-echo', 'What could not be read', reading(silentCapture, 'sound-path')),
      scene('velocity', 'The velocity', { kind: 'calibration', figure: 'velocity' }),
      scene('point', 'The residual of a point', { kind: 'calibration-point', distanceMm: 40, figure: 'residual' }),
      scene('drift', 'A distance error', {
        kind: 'drift',
        captureId: lastCheck,
        distanceMm: 60,
        figure: 'distance-error',
      }),
      scene('verdict', 'A verdict', { kind: 'drift', captureId: lastCheck, distanceMm: null, figure: 'verdict' }),
      scene('stale', 'While it is worked out anew; inch, comma', reading(peakCapture, 'sound-path'), {
        evaluating: true,
        style: { units: 'inch', decimalMark: ',' },
      }),
      { id: 'gone', title: 'No longer there', frame: 'side', content: <WherefromPanel {...gone} /> },
      {
        id: 'trail',
        title: 'A long way here',
        frame: 'side',
        content: (
          <WherefromPanel
            {...gone}
            trail={[
              { title: 'Depth of hole in plate/scan-09.csv', value: '34.99 ± 0.06 mm' },
              { title: 'Sound path of hole in plate/scan-09.csv', value: '34.99 ± 0.06 mm' },
              { title: 'Velocity of the distance calibration', value: '5920.1 ± 2.2 m/s' },
              { title: 'Time of the reflector at 60 mm', value: '20.870 µs' },
              { title: 'Time of the reflector at 40 mm', value: '14.113 µs' },
            ]}
          />
        ),
      },
    ];
  },
};
