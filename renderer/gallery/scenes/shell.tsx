import { problem } from '../../../core/outcome.ts';
import type { Draft, Recent } from '../../host/host.ts';
import { FirstPage, type FirstPageProps } from '../../shell/FirstPage.tsx';
import { Head } from '../../shell/Head.tsx';
import { Notices } from '../../shell/Notices.tsx';
import { StatusLine } from '../../shell/StatusLine.tsx';
import type { OpenedSource, State } from '../../state/workbench-state.ts';
import type { Desk } from '../data/desk.ts';
import type { Scene, Section } from '../scene.ts';
import { filesOfAllStates } from './states.ts';

const nothing = () => {};

function head(desk: Desk, state: Partial<State>, compact = false) {
  return (
    <Head
      state={{ ...desk.state, unsaved: false, ...state }}
      compact={compact}
      hasOwnMenu={false}
      onTitle={nothing}
      onRun={nothing}
    />
  );
}

const longTitle =
  'Pressure vessel 7, circumferential weld 3 of 14, second examination after repair, night shift, from the cap side and from the root side';

function status(desk: Desk, state: Partial<State>) {
  return <StatusLine state={{ ...desk.state, ...state }} onCancelImport={nothing} onCancelEvaluation={nothing} />;
}

const ways: FirstPageProps = {
  recent: [],
  drafts: [],
  onOpenCaptures: nothing,
  onOpenFolder: nothing,
  onOpenReview: nothing,
  onOpenSample: nothing,
  onOpenInstrument: nothing,
  onOpenProbes: nothing,
  onOpenRecent: nothing,
  onRecover: nothing,
  onForgetDraft: nothing,
};

const recent: readonly Recent[] = [
  { id: 'a', name: 'plate-9.json', at: '2026-03-02T16:05:00Z' },
  { id: 'b', name: `${longTitle.replaceAll(' ', '-')}.json`, at: '2026-02-27T09:30:00Z' },
  ...Array.from({ length: 8 }, (_, i) => ({
    id: `c${i}`,
    name: `frame-${i + 1}.json`,
    at: `2026-02-${String(20 - i)}T12:00:00Z`,
  })),
];
const draft = (id: string, name: string | null): Draft => ({
  id,
  at: '2026-03-02T16:40:12Z',
  name,
  place: null,
  version: null,
  text: '{}',
  source: async () => null,
});

/** What surrounds the panels. */
export const shell: Section = {
  id: 'shell',
  title: 'Shell',
  scenes: (desk): readonly Scene[] => [
    {
      id: 'head-new',
      title: 'Head: nothing opened',
      frame: 'wide',
      content: head(desk, {
        review: { ...desk.state.review, title: '', sources: [] },
        name: null,
        captures: new Map(),
        selected: null,
      }),
    },
    { id: 'head-saved', title: 'Head: saved', frame: 'wide', content: head(desk, { name: 'plate-9.json' }) },
    {
      id: 'head-unsaved',
      title: 'Head: unsaved, with what can be undone, a long title',
      frame: 'wide',
      content: head(desk, {
        name: 'pressure-vessel-7-circumferential-weld-3.json',
        unsaved: true,
        undoName: 'move gate ‘hole’',
        redoName: 'add gate ‘back wall’',
        review: { ...desk.state.review, title: longTitle },
      }),
    },
    { id: 'head-saving', title: 'Head: saving', frame: 'wide', content: head(desk, { name: 'a.json', saving: true }) },
    {
      id: 'head-compact',
      title: 'Head: little room',
      frame: 'wide',
      content: head(desk, { name: 'plate-9.json', unsaved: true }, true),
    },
    { id: 'status-empty', title: 'Status: nothing', frame: 'wide', content: status(desk, { files: new Map() }) },
    { id: 'status-ready', title: 'Status: all ready', frame: 'wide', content: status(desk, {}) },
    {
      id: 'status-importing',
      title: 'Status: files are read, some ask or are wrong',
      frame: 'wide',
      content: status(desk, {
        importing: { what: 'Reading files', done: 312, total: 1000 },
        files: filesOfAllStates(desk.state),
      }),
    },
    {
      id: 'status-evaluating',
      title: 'Status: evaluating',
      frame: 'wide',
      content: status(desk, { evaluating: true, evaluationProgress: { done: 4112, total: 5000 } }),
    },
    {
      id: 'status-evaluating-unknown',
      title: 'Status: evaluating, not known how far',
      frame: 'wide',
      content: status(desk, { evaluating: true, evaluationProgress: null, files: onlyFirst(desk.state.files) }),
    },
    {
      id: 'notices',
      title: 'Notices: one of the program, one at its place, a long one',
      frame: 'wide',
      content: (
        <Notices
          notices={[
            problem(
              'not-kept',
              { file: 'workbench' },
              'The draft could not be kept: the disk is full. Save the review.',
            ),
            problem('not-a-review', { file: 'notes.json', line: 1 }, 'this is not a review: its "format" is missing'),
            problem(
              'gone',
              { file: `${longTitle.replaceAll(' ', '_')}.csv` },
              'the file is no longer there; locate it, or take it out of the review',
            ),
          ]}
          onDismiss={nothing}
        />
      ),
    },
    { id: 'first-page', title: 'First page: the first time', frame: 'page', content: <FirstPage {...ways} /> },
    {
      id: 'first-page-recent',
      title: 'First page: with recent reviews, one with a long name',
      frame: 'page',
      content: <FirstPage {...ways} recent={recent} />,
    },
    {
      id: 'first-page-drafts',
      title: 'First page: after a crash',
      frame: 'page',
      content: (
        <FirstPage
          {...ways}
          recent={recent.slice(0, 2)}
          drafts={[draft('1', 'plate-9.json'), draft('2', null), draft('3', longTitle)]}
        />
      ),
    },
  ],
};

function onlyFirst(files: ReadonlyMap<string, OpenedSource>): ReadonlyMap<string, OpenedSource> {
  return new Map([...files].slice(0, 1));
}
