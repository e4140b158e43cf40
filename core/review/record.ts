import * as v from 'valibot';
import { name, text } from './decision-parts.ts';

/** What the report says beside the results, by the name of the field; a field that is not here stands empty in the report, for a pen. */
export const recordSchema = v.array(v.strictObject({ field: name, value: text }));

export type ReviewRecord = v.InferOutput<typeof recordSchema>;

/** Who asks for a field. None of the texts could be opened: the lists are in our own words and from memory, 'common practice' where no text is meant. */
export type RecordSource = 'ASME V T-492' | 'ISO 17640' | 'AWS D1.1' | 'common practice';

export interface RecordField {
  /** As it stands in a review's `record`. */
  readonly field: string;
  readonly label: string;
  readonly sources: readonly RecordSource[];
}

export interface RecordGroup {
  readonly id: string;
  readonly title: string;
  readonly fields: readonly RecordField[];
}

const asme = 'ASME V T-492' as const;
const iso = 'ISO 17640' as const;
const aws = 'AWS D1.1' as const;
const practice = 'common practice' as const;

const asked = (field: string, label: string, ...sources: readonly RecordSource[]): RecordField => ({
  field,
  label,
  sources,
});

/**
 * The fields of a calibration and examination record, in groups as the report prints them.
 * Sources: ASME BPVC Section V, Article 4, T-490 (T-492); ISO 17640, clause on the test report; AWS D1.1, its report forms; all from memory, to be held against
 * the edition in force; common practice for the rest.
 */
export const recordGroups: readonly RecordGroup[] = [
  {
    id: 'identification',
    title: 'Identification',
    fields: [
      asked('report-number', 'Report number', practice),
      asked('customer', 'Customer, project', aws),
      asked('place', 'Place', iso),
      asked('date', 'Date of examination', asme, iso, aws),
      asked('object', 'Object, part or assembly', iso),
      asked('drawing', 'Drawing and revision', practice),
      asked('weld', 'Weld or volume, and its location', asme, aws),
      asked('joint', 'Joint and preparation', aws),
      asked('material', 'Material and heat treatment', iso),
      asked('thickness', 'Thickness', iso, aws),
      asked('welding-process', 'Welding process', iso, aws),
      asked('extent', 'Extent examined', iso),
    ],
  },
  {
    id: 'procedure',
    title: 'Procedure and acceptance',
    fields: [
      asked('procedure', 'Procedure and revision', asme, iso),
      asked('standard', 'Standard or code, with edition', iso, aws),
      asked('testing-level', 'Testing level or technique', iso),
      asked('acceptance', 'Acceptance criteria', iso, aws),
      asked('deviations', 'Deviations from the procedure', iso),
      asked('personnel-change', 'Changes of operator, with time', practice),
    ],
  },
  {
    id: 'equipment',
    title: 'Equipment',
    fields: [
      asked('instrument', 'Instrument: maker, type', asme, iso),
      asked('instrument-serial', 'Instrument: serial number', asme, iso, aws),
      asked('instrument-due', 'Instrument: next check due', aws),
      asked('probe', 'Probe: maker, type', asme, iso),
      asked('probe-serial', 'Probe: serial number', asme, iso),
      asked('probe-frequency-size', 'Probe: frequency, element size', asme, iso),
      asked('beam-angle', 'Beam angle, as measured', asme, iso, aws),
      asked('index-point', 'Index point, as measured', practice),
      asked('cable', 'Cable: type and length', asme),
      asked('couplant', 'Couplant', asme, iso),
      asked('special-equipment', 'Wedges, shoes, scanners, recorders', asme),
      asked('instrument-software', 'Instrument software and revision', asme),
    ],
  },
  {
    id: 'calibration',
    title: 'Calibration blocks and settings',
    fields: [
      asked('block', 'Calibration block', asme, iso),
      asked('block-certificate', 'Block: serial, certificate', practice),
      asked('reference-block', 'Reference block for sensitivity', iso),
      asked('simulator', 'Simulator and its correlation', asme),
      asked('reference-gain', 'Reference level gain', asme, iso, aws),
      asked('damping-reject', 'Damping and reject, where used', asme),
      asked('pulse', 'Pulse and receiver settings', practice),
      asked('range', 'Range of the time base', iso),
      asked('temperature-block', 'Temperature of the block', asme),
      asked('temperature-part', 'Temperature of the part', asme, iso),
    ],
  },
  {
    id: 'examination',
    title: 'Examination',
    fields: [
      asked('surfaces', 'Surfaces examined', asme, aws),
      asked('surface-condition', 'Condition of the surfaces', asme, iso),
      asked('restricted', 'Areas restricted or not reached', asme),
      asked('indications', 'Indications recorded, or areas cleared', asme, iso, aws),
      asked('evaluation', 'Evaluation', iso, aws),
      asked('remarks', 'Remarks', aws),
    ],
  },
];

/** Who signs. For each of them the report has a place for name, level, date and signature. */
export const signatories = [
  { id: 'examiner', title: 'Examined by' },
  { id: 'auditor', title: 'Calibration checked by' },
  { id: 'reviewer', title: 'Reviewed by' },
  { id: 'customer-witness', title: 'Witnessed for the customer or inspector' },
] as const;

export const signatureFields = [
  { id: 'name', label: 'Name' },
  { id: 'level', label: 'Level, certificate' },
  { id: 'date', label: 'Date' },
] as const;

/** As it stands in a review's `record`: `examiner-name`. */
export function signatureField(signatory: string, field: string): string {
  return `${signatory}-${field}`;
}

const known: ReadonlySet<string> = new Set([
  ...recordGroups.flatMap((group) => group.fields.map(({ field }) => field)),
  ...signatories.flatMap(({ id }) => signatureFields.map((field) => signatureField(id, field.id))),
]);

/** What the record says of a field; several entries under one name stand one below the other; empty where there is none. */
export function recorded(record: ReviewRecord, field: string): string {
  return record
    .filter((entry) => entry.field === field)
    .map(({ value }) => value)
    .join('\n');
}

/** Entries under names of the person's own, which the report prints as they are. */
export function ownEntries(record: ReviewRecord): ReviewRecord {
  return record.filter(({ field }) => !known.has(field));
}
