import type { ReactNode } from 'react';
import type { Engine } from '../../engine/engine.ts';
import { IndicationContainer } from '../../part/IndicationContainer.tsx';
import { LocationContainer } from '../../part/LocationContainer.tsx';
import { PartContainer } from '../../part/PartContainer.tsx';
import { DepthContainer } from '../../section/DepthContainer.tsx';
import { type DepthLook, firstLook } from '../../section/DepthPicture.tsx';
import { PlanContainer } from '../../section/PlanContainer.tsx';
import { SectionContainer } from '../../section/SectionContainer.tsx';
import { seriesCaptures } from '../../series/series-captures.ts';
import { WorkbenchContext, type WorkbenchStore } from '../../state/workbench.ts';
import type { State } from '../../state/workbench-state.ts';
import { silentEngine, stoppedEngine } from '../data/desk.ts';
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

export const depthSection: Section = {
  id: 'depth',
  title: 'True depth',
  scenes({ part: desk }): readonly Scene[] {
    const scene = (
      id: string,
      title: string,
      state: Partial<State>,
      { look = {}, engine = desk.engine, frame = 'centre' }: Shown = {},
    ): Scene => {
      const store = desk.with({ selected: atRoot, ...state });
      return framed(id, title, frame, store, engine, look);
    };
    const away = (id: string, title: string, state: Partial<State>, look: Partial<DepthLook> = {}): Scene =>
      framed(id, title, 'centre', desk.away.with(state), desk.away.engine, look);
    const { review } = desk.weld;
    const { part, scan, readings } = review;
    const unpositioned = new Map(
      [...desk.state.captures].map(([id, facts]) => [id, { ...facts, positionMm: null, acrossMm: null }]),
    );
    return [
      scene('along', 'over the position along the weld, an indication chosen', { indication: 'side wall' }),
      scene('along-db', 'in dB, the second leg alone', {}, { look: { scale: 'decibel', leg: 2 } }),
      scene(
        'across',
        'across the weld: two places of the probe, and nothing measured between',
        {},
        { look: { across: 'reflecting-point' } },
      ),
      away('away', 'a scan away from the weld, by the reflecting point', {}),
      away('away-db', 'the same in dB', {}, { scale: 'decibel' }),
      away('away-position', 'the same by the position of the probe', {}, { across: 'position' }),
      scene('low', 'in little room', { indication: 'root' }, { frame: 'picture' }),
      scene('loading', 'not there yet', {}, { engine: silentEngine }),
      scene('wrong', 'the picture cannot be made', {}, { engine: stoppedEngine }),
      scene('unplaced', 'where the probe stood is not known', desk.unplaced),
      scene('pipe', 'a pipe, from outside', desk.pipe),
      scene('uncalibrated', 'no calibration', desk.uncalibrated),
      scene('no-angle', 'no angle', { review: { ...review, part: null, readings: { ...readings!, beam: null } } }),
      scene('no-thickness', 'no thickness', {
        review: { ...review, part: null, readings: { ...readings!, beam: { angleDeg: 60, thicknessMm: null } } },
      }),
      scene('no-positions', 'no positions', { captures: unpositioned }),
      scene('broken', 'a part that nothing may be drawn from', desk.broken),
      scene('nothing', 'no capture of a scan', { review: { ...review, part, scan: { ...scan!, captures: [] } } }),
      scene('inch', 'inch and comma', { style: inch, indication: 'root' }),
    ];
  },
};

interface Shown {
  readonly look?: Partial<DepthLook>;
  readonly engine?: Engine;
  readonly frame?: Frame;
}

function framed(
  id: string,
  title: string,
  frame: Frame,
  store: WorkbenchStore,
  engine: Engine,
  look: Partial<DepthLook>,
): Scene {
  return {
    id,
    title,
    frame,
    content: (
      <WorkbenchContext value={store}>
        <DepthContainer
          engine={engine}
          of={seriesCaptures(store.getState())}
          head={null}
          look={{ ...firstLook, ...look }}
        />
      </WorkbenchContext>
    ),
  };
}

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
