import { type ReactNode, useState } from 'react';
import { compareCalibrations } from '../../../core/calibration/compare.ts';
import { problem } from '../../../core/outcome.ts';
import { captureLookup } from '../../../core/report/document.ts';
import { CalibrationContainer } from '../../procedures/CalibrationContainer.tsx';
import { CalibrationSteps, type CalibrationStepsProps } from '../../procedures/CalibrationSteps.tsx';
import { nothingDecided } from '../../procedures/calibration-decision.ts';
import { captureChoices } from '../../procedures/capture-choices.ts';
import { DriftContainer } from '../../procedures/DriftContainer.tsx';
import { DriftSteps, type DriftStepsProps } from '../../procedures/DriftSteps.tsx';
import { nothingToCheck } from '../../procedures/drift-decision.ts';
import { ImportContainer } from '../../procedures/ImportContainer.tsx';
import { ReadingsContainer } from '../../procedures/ReadingsContainer.tsx';
import { ReadingsTable, type ReadingsTableProps } from '../../procedures/ReadingsTable.tsx';
import { allRows } from '../../procedures/reading-rows.ts';
import { type ProcedureNotes, ProcedureTabs } from '../../shell/ProcedureTabs.tsx';
import { WorkbenchContext } from '../../state/workbench.ts';
import type { State } from '../../state/workbench-state.ts';
import type { Desk } from '../data/desk.ts';
import { cutOffCapture, lateCheck } from '../data/scenario.ts';
import type { Scene, Section } from '../scene.ts';
import { filesOfAllStates, manyFiles } from './states.ts';

const nothing = () => {};
const inch = { units: 'inch', decimalMark: ',' } as const;

/** The procedures, each as a column of steps; what shows them in turn stands with the first. */
export const importSection: Section = {
  id: 'import',
  title: 'Import',
  scenes: (desk) => [...tabs(), ...importing(desk)],
};
export const calibrationSection: Section = { id: 'calibration', title: 'Calibration', scenes: calibration };
export const readingsSection: Section = { id: 'readings', title: 'Readings', scenes: readings };
export const driftSection: Section = { id: 'drift', title: 'Drift', scenes: drift };

function Shown({
  desk,
  state,
  children,
}: {
  readonly desk: Desk;
  readonly state: Partial<State>;
  readonly children: ReactNode;
}) {
  return <WorkbenchContext value={desk.with(state)}>{children}</WorkbenchContext>;
}

function tabs(): readonly Scene[] {
  const tabsWith = (notes: ProcedureNotes) => (
    <ProcedureTabs chosen="readings" onChoose={nothing} notes={notes}>
      {() => <p>What the procedure holds.</p>}
    </ProcedureTabs>
  );
  return [
    {
      id: 'tabs',
      title: 'Tabs without doubts',
      frame: 'side',
      content: tabsWith({}),
    },
    {
      id: 'tabs-doubts',
      title: 'Tabs with doubts, very many',
      frame: 'side',
      content: tabsWith({
        import: 12,
        calibration: 1,
        readings: 4812,
        drift: 37,
        gain: 14,
        sensitivity: 3,
        verdicts: 140,
      }),
    },
  ];
}

function importing(desk: Desk): readonly Scene[] {
  const scene = (id: string, title: string, state: Partial<State>): Scene => ({
    id,
    title,
    frame: 'side',
    content: (
      <Shown desk={desk} state={state}>
        <ImportContainer engine={desk.engine} host={desk.host} />
      </Shown>
    ),
  });
  return [
    scene('none', 'nothing yet', { files: new Map() }),
    scene('loading', 'files are being read', {
      files: new Map([...desk.state.files].slice(0, 3)),
      importing: { what: 'Reading files', done: 3, total: 1000 },
    }),
    scene('ready', 'all understood', {}),
    scene('wrong', 'asked, broken, missing, changed', { files: filesOfAllStates(desk.state) }),
    scene('many', '1,000 files', { files: manyFiles(desk.state, 1000) }),
  ];
}

function calibration(desk: Desk): readonly Scene[] {
  const { review, evaluation, style, captures } = desk.state;
  const decided = review.calibration?.kind === 'fit' ? review.calibration : nothingDecided;
  const inForce = evaluation?.calibration?.calibration ?? null;
  const base: CalibrationStepsProps = {
    choices: captureChoices(captures.values()),
    decision: decided,
    onDecision: nothing,
    result: null,
    isFitting: false,
    inForce: null,
    difference: null,
    isChanged: true,
    onAccept: nothing,
    onDiscard: nothing,
    problems: [],
    onSavedCalibration: nothing,
    onAsk: nothing,
    asked: null,
    onShowEcho: nothing,
    style,
  };
  const scene = (id: string, title: string, props: Partial<CalibrationStepsProps>): Scene => ({
    id,
    title,
    frame: 'side',
    content: <CalibrationSteps {...base} {...props} />,
  });
  const { exact, mistaken, silent } = desk.fits;
  return [
    scene('none', 'nothing decided', { decision: nothingDecided, isChanged: false }),
    scene('no-captures', 'no captures yet', { choices: [], decision: nothingDecided, isChanged: false }),
    scene('loading', 'the first fit is awaited', { isFitting: true }),
    {
      id: 'in-force',
      title: 'in force',
      frame: 'side',
      content: (
        <Shown desk={desk} state={{}}>
          <CalibrationContainer engine={desk.engine} />
        </Shown>
      ),
    },
    scene('changed', 'changed, against the one in force', {
      ...exact,
      inForce: { calibration: inForce, given: null },
      difference:
        inForce === null || exact.result.calibration === null
          ? null
          : compareCalibrations(inForce, exact.result.calibration, [100]),
    }),
    scene('mistaken', 'two distances mistaken for each other', mistaken),
    scene('wrong', 'no echo where it was looked for', silent),
    scene('file-wrong', 'a saved calibration that cannot be read', {
      ...mistaken,
      problems: [
        problem(
          'not-json',
          { file: 'calibration-of-yesterday.json', line: 3, column: 12 },
          'this is not JSON; save it again',
        ),
      ],
    }),
    scene('inch', 'inch and comma', {
      ...exact,
      style: inch,
    }),
  ];
}

function readings(desk: Desk): readonly Scene[] {
  const { review, evaluation, style } = desk.state;
  const scene = (id: string, title: string, state: Partial<State>): Scene => ({
    id,
    title,
    frame: 'side',
    content: (
      <Shown desk={desk} state={state}>
        <ReadingsContainer host={desk.host} />
      </Shown>
    ),
  });
  const all = evaluation?.readings?.readings ?? [];
  const table: TableProps = { readings: all, captures: captureLookup(evaluation?.captures ?? []), style };
  const tableScene = (id: string, title: string, props: Partial<TableProps>): Scene => ({
    id: `table-${id}`,
    title: `Table: ${title}`,
    frame: 'column',
    content: <Table {...table} {...props} />,
  });
  return [
    scene('none', 'nothing decided', { review: { ...review, readings: null }, evaluation: null }),
    scene('loading', 'evaluating for the first time', { evaluation: null, evaluating: true }),
    scene('read', 'read', { selected: cutOffCapture, selectedGate: 'hole' }),
    scene('inch', 'inch and comma', { style: inch }),
    tableScene('none', 'no readings', { readings: [] }),
    tableScene('unmatched', 'nothing matches', { filter: { words: 'casting', doubt: null } }),
    tableScene('doubtful', 'with a doubt only, highest first', {
      filter: { words: '', doubt: 'any' },
      order: { column: 'amplitude', falling: true },
    }),
    tableScene('many', '10,000 readings', { readings: Array.from({ length: 10_000 }, (_, i) => all[i % all.length]!) }),
  ];
}

type TableProps = Pick<ReadingsTableProps, 'readings' | 'captures' | 'style'> &
  Partial<Pick<ReadingsTableProps, 'order' | 'filter'>>;

function Table(props: TableProps) {
  const [order, setOrder] = useState(props.order ?? null);
  const [filter, setFilter] = useState(props.filter ?? allRows);
  return (
    <ReadingsTable
      {...props}
      order={order}
      onOrder={setOrder}
      filter={filter}
      onFilter={setFilter}
      selected={cutOffCapture}
      onSelect={nothing}
      asked={null}
      onAsk={nothing}
      onCopy={async () => true}
      onSave={nothing}
    />
  );
}

function drift(desk: Desk): readonly Scene[] {
  const { review, evaluation, style, captures } = desk.state;
  const inForce = evaluation?.calibration?.calibration ?? null;
  const base: DriftStepsProps = {
    choices: captureChoices(captures.values()),
    decision: review.drift ?? nothingToCheck,
    onDecision: nothing,
    calibration: inForce,
    result: evaluation?.drift ?? null,
    overTime: evaluation?.driftOverTime ?? null,
    problems: [],
    isEvaluating: false,
    ruleProblems: [],
    onRuleFile: nothing,
    onAsk: nothing,
    asked: null,
    selected: null,
    onSelect: nothing,
    style,
  };
  const scene = (id: string, title: string, props: Partial<DriftStepsProps>): Scene => ({
    id,
    title,
    frame: 'side',
    content: <DriftSteps {...base} {...props} {...(props.result === null ? { overTime: null } : {})} />,
  });
  return [
    scene('none', 'nothing decided', { decision: nothingToCheck, result: null }),
    scene('no-calibration', 'no calibration', {
      calibration: null,
      result: null,
      problems: [
        problem(
          'drift-without-calibration',
          { file: 'drift' },
          'drift needs a calibration to hold the checks against; calibrate first',
        ),
      ],
    }),
    scene('loading', 'evaluating', { result: null, isEvaluating: true }),
    {
      id: 'checked',
      title: 'checked',
      frame: 'side',
      content: (
        <Shown desk={desk} state={{ selected: lateCheck }}>
          <DriftContainer />
        </Shown>
      ),
    },
    scene('no-rule', 'without a rule', desk.withoutRule),
    scene('rule-wrong', 'a rule that cannot be read; inch and comma', {
      style: inch,
      ruleProblems: [
        problem(
          'rule-schema',
          { file: 'own-rule.json', line: 4, column: 3 },
          '"limits" is missing; add the limits of the rule',
        ),
      ],
    }),
    scene('one', 'a single check', {
      decision: { ...base.decision, captures: ['checks/check-1.csv'] },
      result:
        base.result === null ? null : { ...base.result, checks: base.result.checks.slice(0, 1), firstFailing: null },
    }),
    scene('many', 'twenty checks', {
      result:
        base.result === null
          ? null
          : {
              ...base.result,
              checks: Array.from({ length: 20 }, (_, i) => base.result!.checks[i % 7]!).map((check, i) => ({
                ...check,
                captureId: `${check.captureId} ${i}`,
              })),
            },
    }),
  ];
}
