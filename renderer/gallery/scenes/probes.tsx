import type { ReactNode } from 'react';
import { PicturesOfProbes, type ShownPicture } from '../../probes/PicturesOfProbes.tsx';
import { ProbesProcedures } from '../../probes/ProbesProcedures.tsx';
import { WorkbenchContext } from '../../state/workbench.ts';
import type { State } from '../../state/workbench-state.ts';
import { silentEngine, stoppedEngine } from '../data/desk.ts';
import type { ProbesDesk } from '../data/probes-desk.ts';
import type { Scene, Section } from '../scene.ts';

const inch = { units: 'inch', decimalMark: ',' } as const;
const loading = { evaluation: null, evaluationOf: null, evaluating: true } as const;

type Scenes = (id: string, title: string, state: Partial<State>) => Scene;

function scenesOf(desk: ProbesDesk, frame: Scene['frame'], content: ReactNode): Scenes {
  return (id, title, state) => ({
    id,
    title,
    frame,
    content: <WorkbenchContext value={desk.with(state)}>{content}</WorkbenchContext>,
  });
}

export const probesSection: Section = {
  id: 'probes',
  title: 'Probes',
  scenes({ probes: desk }) {
    const scene = scenesOf(desk, 'side', <ProbesProcedures procedure="probes" />);
    return [
      scene('none', 'nothing begun', desk.nothing),
      scene('no-captures', 'no captures yet', { ...desk.nothing, captures: new Map() }),
      scene('loading', 'evaluating for the first time', loading),
      scene('three', 'three probes, one out of tolerance', {}),
      scene('one', 'one probe, one capture', desk.one),
      scene('plain', 'nothing stated, no rule', desk.plain),
      scene('cut', 'nothing measurable', desk.cut),
      scene('many', 'fifty probes', desk.many),
      scene('inch', 'inch and comma', { style: inch }),
    ];
  },
};

export const comparisonSection: Section = {
  id: 'comparison',
  title: 'Comparison of probes',
  scenes({ probes: desk }) {
    const scene = scenesOf(desk, 'side', <ProbesProcedures procedure="comparison" />);
    return [
      scene('none', 'nothing begun', desk.nothing),
      scene('one', 'one probe alone', desk.one),
      scene('plain', 'no reference', desk.plain),
      scene('three', 'against the first', {}),
      scene('cut', 'nothing measurable', desk.cut),
      scene('many', 'fifty probes', desk.many),
      scene('inch', 'inch and comma', { style: inch }),
    ];
  },
};

export const materialSection: Section = {
  id: 'material',
  title: 'Material',
  scenes({ probes: desk }) {
    const scene = scenesOf(desk, 'side', <ProbesProcedures procedure="material" />);
    return [
      scene('none', 'nothing begun', desk.nothing),
      scene('loading', 'evaluating for the first time', loading),
      scene('three', 'three echoes in six captures', {}),
      scene('one', 'one capture, thickness exact', desk.one),
      scene('cut', 'the first echo cut', desk.cut),
      scene('inch', 'inch and comma', { style: inch }),
    ];
  },
};

export const probePicturesSection: Section = {
  id: 'probe-pictures',
  title: 'Pictures of probes',
  scenes({ probes: desk }) {
    const pictured = (first: ShownPicture, engine = desk.engine) =>
      scenesOf(
        desk,
        'picture',
        <PicturesOfProbes procedure="comparison" first={first} engine={engine} host={desk.host} />,
      );
    const ofMaterial = scenesOf(
      desk,
      'picture',
      <PicturesOfProbes procedure="material" engine={desk.engine} host={desk.host} />,
    );
    return [
      pictured('table')('none', 'nothing begun', desk.nothing),
      pictured('table')('table', 'the table', {}),
      pictured('table')('table-one', 'the table of one probe', desk.one),
      pictured('table')('table-cut', 'nothing measurable', desk.cut),
      pictured('table')('table-many', 'the table of fifty', desk.many),
      pictured('table')('table-inch', 'inch and comma', { style: inch }),
      pictured('time')('time', 'echoes over one another', {}),
      pictured('time')('time-plain', 'without a reference, at their own heights', desk.plain),
      pictured('time')('time-many', 'eight of fifty', desk.many),
      pictured('time')('time-cut', 'nothing to draw', desk.cut),
      pictured('spectrum')('spectra', 'spectra over one another', {}),
      pictured('spectrum')('spectra-plain', 'without a reference, at one gain', desk.plain),
      pictured('difference')('difference', 'difference from the reference', {}),
      pictured('difference')('difference-plain', 'no reference to differ from', desk.plain),
      pictured('many')('one-by-one', 'each by itself', {}),
      pictured('many')('one-by-one-many', 'forty of fifty', desk.many),
      pictured('time-frequency')('time-frequency', 'one echo over time and frequency', {}),
      pictured('time-frequency', silentEngine)('time-frequency-loading', 'not there yet', {}),
      pictured('time-frequency', stoppedEngine)('time-frequency-wrong', 'the worker stopped', {}),
      ofMaterial('attenuation', 'attenuation over frequency', {}),
      ofMaterial('attenuation-none', 'no material yet', desk.nothing),
      ofMaterial('attenuation-inch', 'inch and comma', { style: inch }),
    ];
  },
};
