import type { ReactNode } from 'react';
import { verdictSummary } from '../../../core/check/verdict-summary.ts';
import { problem } from '../../../core/outcome.ts';
import { LinearityContainer } from '../../audit/LinearityContainers.tsx';
import { ReportContainer } from '../../audit/ReportContainer.tsx';
import { ReportSteps, type ReportStepsProps } from '../../audit/ReportSteps.tsx';
import { SensitivityContainer } from '../../audit/SensitivityContainer.tsx';
import { VerdictsContainer } from '../../audit/VerdictsContainer.tsx';
import { VerdictsView } from '../../audit/VerdictsView.tsx';
import { allVerdicts } from '../../audit/verdict-filter.ts';
import { WorkbenchContext } from '../../state/workbench.ts';
import type { State } from '../../state/workbench-state.ts';
import type { AuditDesk } from '../data/audit-desk.ts';
import type { Scene, Section } from '../scene.ts';

const nothing = () => {};
const inch = { units: 'inch', decimalMark: ',' } as const;

function Shown({
  desk,
  state,
  children,
}: {
  readonly desk: AuditDesk;
  readonly state: Partial<State>;
  readonly children: ReactNode;
}) {
  return <WorkbenchContext value={desk.with(state)}>{children}</WorkbenchContext>;
}

type Scenes = (id: string, title: string, state: Partial<State>) => Scene;

function scenesOf(desk: AuditDesk, content: ReactNode): Scenes {
  return (id, title, state) => ({
    id,
    title,
    frame: 'side',
    content: (
      <Shown desk={desk} state={state}>
        {content}
      </Shown>
    ),
  });
}

/** Nothing was begun, begun and not there yet, sound, with faults, without a rule, inch and comma. */
function ofCheck(desk: AuditDesk, content: ReactNode): readonly Scene[] {
  const scene = scenesOf(desk, content);
  return [
    scene('none', 'nothing begun', desk.nothing),
    scene('no-captures', 'no captures yet', { ...desk.nothing, captures: new Map() }),
    scene('loading', 'evaluating for the first time', { evaluation: null, evaluating: true }),
    scene('sound', 'all passes', {}),
    scene('strict', 'failing, missing, contradicted', desk.strict),
    scene('no-rule', 'without a rule', desk.unruled),
    scene('inch', 'inch and comma', { style: inch }),
  ];
}

export const timeBaseSection: Section = {
  id: 'time-base',
  title: 'Time base',
  scenes: ({ audit }) => [
    ...ofCheck(audit, <LinearityContainer part="timeBase" />),
    scenesOf(audit, <LinearityContainer part="timeBase" />)('wrong', 'too few echoes', audit.few),
  ],
};

export const screenHeightSection: Section = {
  id: 'screen-height',
  title: 'Screen height',
  scenes: ({ audit }) => ofCheck(audit, <LinearityContainer part="screenHeight" />),
};

export const gainSection: Section = {
  id: 'gain',
  title: 'Gain',
  scenes: ({ audit }) => ofCheck(audit, <LinearityContainer part="gain" />),
};

export const sensitivitySection: Section = {
  id: 'sensitivity',
  title: 'Sensitivity',
  scenes({ audit }) {
    const scene = scenesOf(audit, <SensitivityContainer />);
    return [
      scene('none', 'nothing begun', audit.nothing),
      scene('loading', 'evaluating for the first time', { evaluation: null, evaluating: true }),
      scene('curve', 'curve, attenuation, readings', {}),
      scene('plain', 'no levels, no probe, no law', audit.unruled),
      scene('few', 'one reflector, no readings', audit.few),
      scene('inch', 'inch and comma', { style: inch }),
    ];
  },
};

export const verdictsSection: Section = {
  id: 'verdicts',
  title: 'Verdicts',
  scenes({ audit }) {
    const scene = scenesOf(audit, <VerdictsContainer host={audit.host} />);
    const { review, evaluation } = audit.strict;
    const summary = verdictSummary(review, evaluation, audit.state.style);
    const many = Array.from({ length: 60 }, () => summary.verdicts).flat();
    return [
      scene('none', 'no rule was chosen', audit.unruled),
      scene('loading', 'evaluating for the first time', { evaluation: null, evaluationOf: null, evaluating: true }),
      scene('sound', 'all pass', {}),
      scene('strict', 'fail, inconclusive, not assessed', audit.strict),
      scene('inch', 'inch and comma', { ...audit.strict, style: inch }),
      {
        id: 'unmatched',
        title: 'nothing matches',
        frame: 'side',
        content: (
          <VerdictsView
            summary={summary}
            isEvaluating={false}
            asked={null}
            onAsk={nothing}
            onCopy={async () => true}
            onSave={nothing}
            style={audit.state.style}
            filter={{ ...allVerdicts, words: 'casting' }}
          />
        ),
      },
      {
        id: 'many',
        title: 'thousands',
        frame: 'column',
        content: (
          <VerdictsView
            summary={{ ...summary, verdicts: many, counts: { ...summary.counts, pass: 48_120, fail: 3604 } }}
            isEvaluating
            asked={null}
            onAsk={nothing}
            onCopy={async () => true}
            onSave={nothing}
            style={audit.state.style}
          />
        ),
      },
    ];
  },
};

export const reportSection: Section = {
  id: 'report',
  title: 'Report',
  scenes({ audit }) {
    const scene = scenesOf(audit, <ReportContainer host={audit.host} />);
    const none = { state: 'none' } as const;
    const base: ReportStepsProps = {
      record: audit.state.review.record,
      onRecord: nothing,
      notes: '',
      onNotes: nothing,
      summary: null,
      isEvaluating: false,
      hasCaptures: true,
      report: none,
      paper: 'A4',
      onPaper: nothing,
      onPreview: nothing,
      onSaveReport: nothing,
      onPrint: nothing,
      packing: none,
      onPackage: nothing,
      verifying: none,
      onVerify: nothing,
      onCancel: nothing,
    };
    const steps = (id: string, title: string, props: Partial<ReportStepsProps>): Scene => ({
      id,
      title,
      frame: 'side',
      content: <ReportSteps {...base} {...props} />,
    });
    const sha256 = '0956863fa62c1c6f2d66ab76981dc2384c4c8177432f51ba8b9fe58f1e0005e4';
    const verified = {
      file: 'yearly-check-evidence.zip',
      madeBy: 'A-scan workbench 0.1.0',
      files: 76,
      compared: 30,
      bytes: 304_767,
      sha256,
      same: true,
      differences: [],
      reportLeftOut: null,
      problems: [],
    };
    const missing = problem(
      'source-missing',
      { file: 'sound/time-base.csv' },
      'the file cannot be read, and a package without it would be no evidence; restore it',
    );
    return [
      scene('filled', 'filled in, nothing made yet', {}),
      scene('empty', 'nothing filled in', audit.nothing),
      steps('no-captures', 'no captures', { hasCaptures: false, record: [] }),
      steps('working', 'packing and verifying', {
        report: { state: 'working', progress: null },
        packing: { state: 'working', progress: { done: 12, total: 43 } },
        verifying: { state: 'working', progress: null },
      }),
      steps('done', 'saved and verified', {
        packing: { state: 'done', result: { content: new Blob(['x'.repeat(304_767)]), sha256, files: 76 } },
        verifying: { state: 'done', result: verified },
      }),
      steps('wrong', 'what cannot be made, and a package that is not what it was', {
        report: { state: 'wrong', problems: [missing] },
        packing: { state: 'wrong', problems: [missing] },
        verifying: {
          state: 'done',
          result: {
            ...verified,
            same: false,
            problems: [
              problem(
                'other-hash',
                { file: 'review/sound/time-base.csv' },
                `the file’s SHA-256 is ${sha256}, and ${'f'.repeat(64)} is stated: it is not what was packed`,
              ),
            ],
            differences: [
              { file: 'results/linearity.csv', row: 4, figure: 'deviation_percent', packed: '0.0021', anew: '-0.0021' },
              { file: 'report.html', row: 412, figure: null, packed: '<td>pass</td>', anew: '<td>fail</td>' },
            ],
            reportLeftOut:
              'the report was made by version 0.0.9 and this is version 0.1.0, which may set it otherwise: its SHA-256 was verified, and it was not made again',
          },
        },
      }),
    ];
  },
};
