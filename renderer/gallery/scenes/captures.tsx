import { useState } from 'react';
import { CaptureList, type CaptureListProps } from '../../captures/CaptureList.tsx';
import { captureRows, flagsByCapture } from '../../captures/capture-row.ts';
import { Button } from '../../parts/Button.tsx';
import type { State } from '../../state/workbench-state.ts';
import type { Desk } from '../data/desk.ts';
import { cutOffCapture, peakCapture } from '../data/scenario.ts';
import type { Scene, Section } from '../scene.ts';
import { filesOfAllStates, manyFiles } from './states.ts';

function List(props: Partial<CaptureListProps> & Pick<CaptureListProps, 'rows'>) {
  const [selected, setSelected] = useState(props.selected ?? null);
  const [overlaid, setOverlaid] = useState(props.overlaid ?? []);
  const [sort, setSort] = useState(props.sort ?? 'name');
  return (
    <CaptureList
      onConcern={() => {}}
      style={{ units: 'metric', decimalMark: '.' }}
      reading={null}
      {...props}
      selected={selected}
      onSelect={setSelected}
      overlaid={overlaid}
      onOverlay={setOverlaid}
      sort={sort}
      onSort={setSort}
    />
  );
}

/** The list of captures. */
export const captures: Section = {
  id: 'captures',
  title: 'Captures',
  scenes(desk): readonly Scene[] {
    const rowsOf = (files: State['files']) => captureRows(files.values(), flagsByCapture(desk.state.evaluation));
    const all = rowsOf(desk.state.files);
    return [
      {
        id: 'none',
        title: 'Nothing yet',
        frame: 'list',
        content: <List rows={[]} actions={<Button>Open captures …</Button>} />,
      },
      {
        id: 'loading',
        title: 'The first files are being read',
        frame: 'list',
        content: <List rows={[]} reading={{ done: 0, total: 1000 }} />,
      },
      {
        id: 'few',
        title: 'With flags; one shown',
        frame: 'list',
        content: <List rows={all} selected={cutOffCapture} />,
      },
      {
        id: 'overlaid',
        title: 'Several over the trace',
        frame: 'list',
        content: (
          <List rows={all} selected={peakCapture} overlaid={all.slice(3, 7).map(({ id }) => id)} sort="position" />
        ),
      },
      {
        id: 'wrong',
        title: 'Asking, broken, missing, changed',
        frame: 'list',
        content: <List rows={rowsOf(filesOfAllStates(desk.state)).slice(0, 8)} />,
      },
      {
        id: 'cancelled',
        title: 'Reading went on to a part',
        frame: 'list',
        content: <List rows={all.slice(0, 9)} reading={{ done: 9, total: 25 }} />,
      },
      { id: 'unmatched', title: 'Nothing matches', frame: 'list', content: <List rows={all} filter="casting 12" /> },
      { id: 'filtered', title: 'Filtered', frame: 'list', content: <List rows={all} filter="off-peak plate" /> },
      { id: 'long', title: 'Long names, inch', frame: 'list', content: <List rows={longNames(desk)} style={inch} /> },
      {
        id: 'many',
        title: '5,000, in order of position',
        frame: 'list',
        content: <List rows={rowsOf(manyFiles(desk.state, 5000))} sort="position" />,
      },
    ];
  },
};

const inch = { units: 'inch', decimalMark: ',' } as const;

function longNames({ state }: Desk) {
  return captureRows(state.files.values(), new Map()).map((row, i) => ({
    ...row,
    name: `examination of the second longitudinal seam/from the inside/${row.name.replace('.csv', '')}-again-after-grinding-${i}.csv#channel-${i}`,
  }));
}
