import { defaultOffPeakDb } from '../gate/off-peak.ts';
import { unreachable } from '../invariant.ts';
import { failure, type Outcome, problem, success } from '../outcome.ts';
import type { Facts, ReadingDecision, Review, SourceFile } from './review.ts';

type Gate = ReadingDecision['gates'][number];

/**
 * Every change a person can make to a review, as a value: it can be applied, undone by its inverse, named in words, and kept in a history.
 * How an edit enters the history (now, merged with the one before, never) is for the history to say.
 */
export type Edit =
  | { readonly kind: 'set-title'; readonly title: string }
  | { readonly kind: 'set-notes'; readonly notes: string }
  | { readonly kind: 'add-source'; readonly source: SourceFile; readonly at: number | null }
  | { readonly kind: 'change-source'; readonly file: string; readonly source: SourceFile }
  | { readonly kind: 'remove-source'; readonly file: string }
  /** Several files at once, each at its place in the list (`null`: at the end); places are those after all were added. */
  | { readonly kind: 'add-sources'; readonly sources: readonly SourceFile[]; readonly at: readonly number[] | null }
  | { readonly kind: 'remove-sources'; readonly files: readonly string[] }
  | { readonly kind: 'set-facts'; readonly file: string; readonly facts: readonly Facts[] }
  | { readonly kind: 'set-manifests'; readonly manifests: Review['manifests'] }
  | { readonly kind: 'set-conditioning'; readonly conditioning: Review['conditioning'] }
  | { readonly kind: 'set-echoes'; readonly echoes: Review['echoes'] }
  | { readonly kind: 'set-calibration'; readonly calibration: Review['calibration'] }
  | { readonly kind: 'set-readings'; readonly readings: Review['readings'] }
  | { readonly kind: 'add-gate'; readonly gate: Gate; readonly at: number | null }
  | { readonly kind: 'change-gate'; readonly name: string; readonly gate: Gate }
  | { readonly kind: 'remove-gate'; readonly name: string }
  | { readonly kind: 'set-drift'; readonly drift: Review['drift'] }
  | { readonly kind: 'set-linearity'; readonly linearity: Review['linearity'] }
  | { readonly kind: 'set-sensitivity'; readonly sensitivity: Review['sensitivity'] }
  | { readonly kind: 'set-part'; readonly part: Review['part'] }
  | { readonly kind: 'set-scan'; readonly scan: Review['scan'] }
  | { readonly kind: 'set-probes'; readonly probes: Review['probes'] }
  | { readonly kind: 'set-material'; readonly material: Review['material'] }
  | { readonly kind: 'set-record'; readonly record: Review['record'] }
  /** Changes that a person makes as one, with the words for them. */
  | { readonly kind: 'several'; readonly name: string; readonly edits: readonly Edit[] };

/** The review after an edit, and the edit that takes it back. */
export interface Edited {
  readonly review: Review;
  readonly inverse: Edit;
}

/** Applies one edit. The review given is not altered. Problems: a source or gate that is not there, or that is there already. */
export function apply(review: Review, edit: Edit): Outcome<Edited> {
  switch (edit.kind) {
    case 'set-title':
      return success({ review: { ...review, title: edit.title }, inverse: { kind: 'set-title', title: review.title } });
    case 'set-notes':
      return success({ review: { ...review, notes: edit.notes }, inverse: { kind: 'set-notes', notes: review.notes } });
    case 'set-manifests':
      return success({
        review: { ...review, manifests: edit.manifests },
        inverse: { kind: 'set-manifests', manifests: review.manifests },
      });
    case 'set-conditioning':
      return success({
        review: { ...review, conditioning: edit.conditioning },
        inverse: { kind: 'set-conditioning', conditioning: review.conditioning },
      });
    case 'set-echoes':
      return success({
        review: { ...review, echoes: edit.echoes },
        inverse: { kind: 'set-echoes', echoes: review.echoes },
      });
    case 'set-calibration':
      return success({
        review: { ...review, calibration: edit.calibration },
        inverse: { kind: 'set-calibration', calibration: review.calibration },
      });
    case 'set-readings':
      return success({
        review: { ...review, readings: edit.readings },
        inverse: { kind: 'set-readings', readings: review.readings },
      });
    case 'set-drift':
      return success({ review: { ...review, drift: edit.drift }, inverse: { kind: 'set-drift', drift: review.drift } });
    case 'set-linearity':
      return success({
        review: { ...review, linearity: edit.linearity },
        inverse: { kind: 'set-linearity', linearity: review.linearity },
      });
    case 'set-sensitivity':
      return success({
        review: { ...review, sensitivity: edit.sensitivity },
        inverse: { kind: 'set-sensitivity', sensitivity: review.sensitivity },
      });
    case 'set-part':
      return success({ review: { ...review, part: edit.part }, inverse: { kind: 'set-part', part: review.part } });
    case 'set-scan':
      return success({ review: { ...review, scan: edit.scan }, inverse: { kind: 'set-scan', scan: review.scan } });
    case 'set-probes':
      return success({
        review: { ...review, probes: edit.probes },
        inverse: { kind: 'set-probes', probes: review.probes },
      });
    case 'set-material':
      return success({
        review: { ...review, material: edit.material },
        inverse: { kind: 'set-material', material: review.material },
      });
    case 'set-record':
      return success({
        review: { ...review, record: edit.record },
        inverse: { kind: 'set-record', record: review.record },
      });
    case 'several':
      return applyInOrder(review, edit);
    case 'add-sources':
      return addSources(review, edit);
    case 'remove-sources':
      return removeSources(review, edit);
    case 'add-source':
    case 'change-source':
    case 'remove-source':
    case 'set-facts':
      return editSource(review, edit);
    case 'add-gate':
    case 'change-gate':
    case 'remove-gate':
      return editGate(review, edit);
    default:
      return unreachable(edit);
  }
}

type EditOf<Kind extends Edit['kind']> = Extract<Edit, { kind: Kind }>;

/** All of them or none. */
function applyInOrder(review: Review, { name, edits }: EditOf<'several'>): Outcome<Edited> {
  let current = review;
  const inverses: Edit[] = [];
  for (const edit of edits) {
    const edited = apply(current, edit);
    if (!edited.ok) return edited;
    current = edited.value.review;
    inverses.unshift(edited.value.inverse);
  }
  return success({ review: current, inverse: { kind: 'several', name, edits: inverses } });
}

function addSources(review: Review, { sources: added, at }: EditOf<'add-sources'>): Outcome<Edited> {
  const names = new Set(review.sources.map((source) => source.file));
  for (const { file } of added) {
    if (names.has(file)) return failure(problem('source-twice', { file }, 'this file is in the review already'));
    names.add(file);
  }
  const inverse: Edit = { kind: 'remove-sources', files: added.map((source) => source.file) };
  if (at === null) return success({ review: { ...review, sources: [...review.sources, ...added] }, inverse });
  const placed = new Map(at.map((place, i) => [place, added[i]]));
  const others = review.sources.values();
  const sources = Array.from(
    { length: review.sources.length + added.length },
    (_, place) => placed.get(place) ?? (others.next().value as SourceFile),
  );
  return success({ review: { ...review, sources }, inverse });
}

function removeSources(review: Review, { files }: EditOf<'remove-sources'>): Outcome<Edited> {
  const removed = new Set(files);
  const kept: SourceFile[] = [];
  const sources: SourceFile[] = [];
  const at: number[] = [];
  review.sources.forEach((source, place) => {
    if (!removed.delete(source.file)) {
      kept.push(source);
      return;
    }
    sources.push(source);
    at.push(place);
  });
  const [unknown] = removed;
  if (unknown !== undefined)
    return failure(problem('no-such-source', { file: unknown }, 'this file is not in the review'));
  return success({ review: { ...review, sources: kept }, inverse: { kind: 'add-sources', sources, at } });
}

type SourceEdit = Extract<Edit, { kind: 'add-source' | 'change-source' | 'remove-source' | 'set-facts' }>;

function editSource(review: Review, edit: SourceEdit): Outcome<Edited> {
  const { sources } = review;
  const withSources = (next: readonly SourceFile[], inverse: Edit) =>
    success({ review: { ...review, sources: [...next] }, inverse });
  const file = edit.kind === 'add-source' ? edit.source.file : edit.file;
  const index = sources.findIndex((source) => source.file === file);
  if (edit.kind === 'add-source') {
    if (index >= 0) return failure(problem('source-twice', { file }, 'this file is in the review already'));
    return withSources(inserted(sources, edit.source, edit.at), { kind: 'remove-source', file });
  }
  if (index < 0) return failure(problem('no-such-source', { file }, 'this file is not in the review'));
  const old = sources[index];
  switch (edit.kind) {
    case 'remove-source':
      return withSources(sources.toSpliced(index, 1), { kind: 'add-source', source: old, at: index });
    case 'set-facts':
      return withSources(sources.with(index, { ...old, facts: [...edit.facts] }), {
        kind: 'set-facts',
        file,
        facts: old.facts,
      });
    case 'change-source':
      return withSources(sources.with(index, edit.source), {
        kind: 'change-source',
        file: edit.source.file,
        source: old,
      });
    default:
      return unreachable(edit);
  }
}

const noReadings: ReadingDecision = {
  captures: [],
  gates: [],
  timing: 'peak',
  beam: null,
  uAngleDeg: null,
  series: { offPeakDb: defaultOffPeakDb },
};

type GateEdit = Extract<Edit, { kind: 'add-gate' | 'change-gate' | 'remove-gate' }>;

function editGate(review: Review, edit: GateEdit): Outcome<Edited> {
  const readings = review.readings ?? noReadings;
  const { gates } = readings;
  const withGates = (next: readonly Gate[], inverse: Edit) =>
    success({ review: { ...review, readings: { ...readings, gates: [...next] } }, inverse });
  const name = edit.kind === 'add-gate' ? edit.gate.name : edit.name;
  const index = gates.findIndex((gate) => gate.name === name);
  if (edit.kind === 'add-gate') {
    if (index >= 0)
      return failure(problem('gate-twice', { file: 'review' }, `there is a gate called "${name}" already`));
    if (review.readings === null) {
      const next = { ...readings, gates: [edit.gate] };
      return success({ review: { ...review, readings: next }, inverse: { kind: 'set-readings', readings: null } });
    }
    return withGates(inserted(gates, edit.gate, edit.at), { kind: 'remove-gate', name });
  }
  if (index < 0) return failure(problem('no-such-gate', { file: 'review' }, `there is no gate called "${name}"`));
  if (edit.kind === 'remove-gate')
    return withGates(gates.toSpliced(index, 1), { kind: 'add-gate', gate: gates[index], at: index });
  const taken = gates.some((gate, i) => i !== index && gate.name === edit.gate.name);
  if (taken)
    return failure(problem('gate-twice', { file: 'review' }, `there is a gate called "${edit.gate.name}" already`));
  return withGates(gates.with(index, edit.gate), { kind: 'change-gate', name: edit.gate.name, gate: gates[index] });
}

function inserted<T>(list: readonly T[], item: T, at: number | null): T[] {
  return list.toSpliced(at ?? list.length, 0, item);
}

/** The edit in plain words, as it stands after "Undo: ". */
export function nameOf(edit: Edit, before: Review): string {
  switch (edit.kind) {
    case 'set-title':
      return 'change title';
    case 'set-notes':
      return 'change notes';
    case 'set-manifests':
      return 'change manifests';
    case 'set-conditioning':
      return 'change conditioning';
    case 'set-echoes':
      return 'change echo list';
    case 'set-calibration':
      if (edit.calibration === null) return 'remove calibration';
      return before.calibration === null ? 'set calibration' : 'change calibration';
    case 'set-readings':
      return 'change readings';
    case 'set-drift':
      return edit.drift === null ? 'remove drift checks' : 'change drift checks';
    case 'set-linearity':
      return 'change linearity checks';
    case 'set-sensitivity':
      return edit.sensitivity === null ? 'remove sensitivity' : 'change sensitivity';
    case 'set-part':
      return edit.part === null ? 'remove part' : 'change part';
    case 'set-scan':
      return edit.scan === null ? 'remove scan' : 'change scan';
    case 'set-probes':
      return edit.probes === null ? 'remove probes' : 'change probes';
    case 'set-material':
      return edit.material === null ? 'remove material' : 'change material';
    case 'set-record':
      return 'change record';
    case 'add-source':
      return `add file '${edit.source.file}'`;
    case 'change-source':
      return edit.source.file === edit.file ? `change import of '${edit.file}'` : `locate file '${edit.file}'`;
    case 'remove-source':
      return `remove file '${edit.file}'`;
    case 'add-sources':
      return edit.sources.length === 1 ? `add file '${edit.sources[0].file}'` : `add ${edit.sources.length} files`;
    case 'remove-sources':
      return edit.files.length === 1 ? `remove file '${edit.files[0]}'` : `remove ${edit.files.length} files`;
    case 'several':
      return edit.name;
    case 'set-facts':
      return `change facts of '${edit.file}'`;
    case 'add-gate':
      return `add gate '${edit.gate.name}'`;
    case 'remove-gate':
      return `remove gate '${edit.name}'`;
    case 'change-gate':
      return gateChange(
        before.readings?.gates.find((gate) => gate.name === edit.name),
        edit.gate,
      );
    default:
      return unreachable(edit);
  }
}

function gateChange(old: Gate | undefined, next: Gate): string {
  if (old === undefined || old.name !== next.name) return `rename gate '${old?.name ?? ''}' to '${next.name}'`;
  if (JSON.stringify(old.span) === JSON.stringify(next.span)) return `change threshold of gate '${next.name}'`;
  const width = (gate: Gate): number =>
    gate.span.axis === 'time' ? gate.span.toUs - gate.span.fromUs : gate.span.toMm - gate.span.fromMm;
  const moved = old.span.axis === next.span.axis && Math.abs(width(old) - width(next)) < 1e-9;
  return moved ? `move gate '${next.name}'` : `stretch gate '${next.name}'`;
}
