import type { Procedure } from '../state/workbench-state.ts';

export type ProcedureGroup = 'distance' | 'part' | 'instrument' | 'amplitude' | 'probes' | 'record';

/** The procedures in their groups, in the order in which they stand on the page. */
export const procedureGroups: readonly {
  readonly id: ProcedureGroup;
  readonly title: string;
  readonly procedures: readonly Procedure[];
}[] = [
  { id: 'distance', title: 'Distance', procedures: ['import', 'calibration', 'readings', 'drift'] },
  { id: 'instrument', title: 'Instrument', procedures: ['time-base', 'screen-height', 'gain'] },
  { id: 'amplitude', title: 'Amplitude', procedures: ['sensitivity'] },
  { id: 'part', title: 'Part', procedures: ['part', 'location', 'indications'] },
  { id: 'probes', title: 'Probes', procedures: ['probes', 'comparison', 'material'] },
  { id: 'record', title: 'Record', procedures: ['verdicts', 'report'] },
];

export const procedureNames: Readonly<Record<Procedure, string>> = {
  import: 'Import',
  calibration: 'Calibration',
  readings: 'Readings',
  drift: 'Drift',
  'time-base': 'Time base',
  'screen-height': 'Screen height',
  gain: 'Gain',
  sensitivity: 'Sensitivity',
  part: 'Part and probe',
  location: 'Location',
  indications: 'Indications',
  probes: 'Probes',
  comparison: 'Comparison',
  material: 'Material',
  verdicts: 'Verdicts',
  report: 'Report',
};

export function groupOf(procedure: Procedure): ProcedureGroup {
  return procedureGroups.find(({ procedures }) => procedures.includes(procedure))?.id ?? 'distance';
}
