import type { ReactNode } from 'react';
import { IndicationContainer } from '../../part/IndicationContainer.tsx';
import { LocationContainer } from '../../part/LocationContainer.tsx';
import { PartContainer } from '../../part/PartContainer.tsx';
import { PlanContainer } from '../../section/PlanContainer.tsx';
import { SectionContainer } from '../../section/SectionContainer.tsx';
import { WorkbenchContext } from '../../state/workbench.ts';
import type { State } from '../../state/workbench-state.ts';
import type { PartDesk } from '../data/part-desk.ts';
import type { Frame, Scene, Section } from '../scene.ts';

const inch = { units: 'inch', decimalMark: ',' } as const;
const atRoot = 'plate-weld/first-leg.csv#capture_14_pct';

type Scenes = (id: string, title: string, state: Partial<State>) => Scene;

function scenesOf(desk: PartDesk, frame: Frame, content: ReactNode): Scenes {
  return (id, title, state) => ({
    id,
    title,
    frame,
    content: <WorkbenchContext value={desk.with({ selected: atRoot, ...state })}>{content}</WorkbenchContext>,
  });
}

export const sectionSection: Section = {
  id: 'section',
  title: 'Section and plan',
  scenes({ part: desk }): readonly Scene[] {
    const section = scenesOf(desk, 'centre', <SectionContainer head={null} />);
    const plan = scenesOf(desk, 'centre', <PlanContainer head={null} />);
    return [
      section('reading', 'a reading at the root', {}),
      section('indication', 'an indication on the second leg', { indication: 'side wall' }),
      section('unplaced', 'where the probe stood is not known', desk.unplaced),
      section('pipe', 'a pipe, from outside', desk.pipe),
      section('nothing', 'no part', desk.nothing),
      section('wrong', 'a part that nothing may be drawn from', desk.broken),
      section('uncalibrated', 'no calibration', desk.uncalibrated),
      section('many', 'very many', desk.many),
      section('inch', 'inch and comma', { style: inch, indication: 'side wall' }),
      plan('plan', 'indications along the weld', { indication: 'side wall' }),
      plan('plan-many', 'very many along the weld', desk.many),
      plan('plan-unplaced', 'their place across is not known', desk.unplaced),
      plan('plan-nothing', 'no scan', desk.nothing),
      plan('plan-outside', 'nothing of the scan can be placed', desk.outside),
      plan('plan-inch', 'along the weld, inch and comma', { style: inch }),
    ];
  },
};

export const partSection: Section = {
  id: 'part',
  title: 'Part and probe',
  scenes({ part: desk }): readonly Scene[] {
    const scene = scenesOf(desk, 'side', <PartContainer />);
    return [
      scene('nothing', 'nothing described', desk.nothing),
      scene('weld', 'a weld in a plate', {}),
      scene('pipe', 'a pipe', desk.pipe),
      scene('wrong', 'an angle beyond the critical one, an outline that crosses itself', desk.broken),
      scene('inch', 'inch and comma', { style: inch }),
    ];
  },
};

export const locationSection: Section = {
  id: 'location',
  title: 'Location',
  scenes({ part: desk }): readonly Scene[] {
    const scene = scenesOf(desk, 'side', <LocationContainer host={desk.host} />);
    return [
      scene('nothing', 'no part', desk.nothing),
      scene('weld', 'geometry to be confirmed, a damping test', {}),
      scene('uncalibrated', 'no calibration', desk.uncalibrated),
      scene('unplaced', 'where the probe stood is not known', desk.unplaced),
      scene('wrong', 'a part with problems', desk.broken),
      scene('inch', 'inch and comma', { style: inch }),
    ];
  },
};

export const indicationSection: Section = {
  id: 'indications',
  title: 'Indications',
  scenes({ part: desk }): readonly Scene[] {
    const scene = scenesOf(desk, 'side', <IndicationContainer host={desk.host} />);
    return [
      scene('nothing', 'no scan', desk.nothing),
      scene('rated', 'one chosen, with its rating', { indication: 'side wall' }),
      scene('geometry', 'one taken for geometry, its ends outside the scan', { indication: 'cap edge' }),
      scene('unreferenced', 'proposals, unreferenced: no rating', {
        ...desk.proposed,
        indication: desk.proposed.evaluation.scan?.indications[0]?.name ?? null,
      }),
      scene('loading', 'being looked for', { evaluation: null, evaluating: true }),
      scene('uncalibrated', 'no calibration', desk.uncalibrated),
      scene('outside', 'outside the recorded range', desk.outside),
      scene('many', 'very many', desk.many),
      scene('inch', 'inch and comma', { style: inch, indication: 'root' }),
    ];
  },
};
