import type { CaptureId } from '../capture/capture.ts';
import { plain, signedDb } from './height-reading.ts';
import { sameLevelDb } from './signals.ts';

/** What a person's step table states: the gain itself, its change since the first row, or the loss of an attenuator outside the instrument. */
export interface StatedSteps {
  readonly states: 'gain' | 'change' | 'attenuator';
  /** `null`: nothing that can be used. */
  readonly rows: readonly { readonly capture: string; readonly db: number | null }[];
}

/** A capture as far as a step table speaks of it. */
export interface SteppedCapture {
  readonly captureId: CaptureId;
  readonly file: string;
  readonly gainDb: number | null;
}

/** What is wrong with a row of a step table (counted from 0): the captures that it names then have no known level. */
export interface StepFault {
  readonly row: number;
  readonly code: 'step-without-capture' | 'step-twice' | 'step-contradicts-capture';
  readonly sentence: string;
}

/** Captures in the order of the table, each with its level on one scale; those that it does not name follow without one. */
export interface Levels {
  readonly order: readonly number[];
  readonly levelsDb: readonly (number | null)[];
  readonly faults: readonly StepFault[];
}

/**
 * Lays a step table over the captures. More of the level draws the echo higher: a gain and a change as they stand, an attenuator's loss with its sign turned. A row that contradicts
 * what the capture itself says of its gain is believed as little as the capture: neither is used. An attenuator stands outside the instrument, whose
 * gain says nothing of it.
 */
export function levelsByTable({ states, rows }: StatedSteps, captures: readonly SteppedCapture[]): Levels {
  const faults: StepFault[] = [];
  const levelsDb: (number | null)[] = captures.map(() => null);
  const rowOf = new Map<number, number>();
  rows.forEach(({ capture }, row) => {
    const named = captures.flatMap((candidate, i) => (isNamed(capture, candidate) ? [i] : []));
    if (named.length === 0)
      faults.push({
        row,
        code: 'step-without-capture',
        sentence: `no capture that was given is "${capture}"; give it, or take the row out`,
      });
    for (const i of named) {
      const earlier = rowOf.get(i);
      if (earlier === undefined) rowOf.set(i, row);
      else
        faults.push({
          row,
          code: 'step-twice',
          sentence: `"${captures[i].captureId}" stands in the step table twice; keep one of the rows`,
        });
    }
  });
  const reference = [...rowOf].find(([i, row]) => captures[i].gainDb !== null && rows[row].db !== null);
  for (const [i, row] of rowOf) {
    const { db } = rows[row];
    if (db === null || faults.some((fault) => fault.row === row || rows[fault.row].capture === rows[row].capture))
      continue;
    const contradiction = contradictionOf(
      states,
      db,
      captures[i],
      reference && { db: rows[reference[1]].db, gainDb: captures[reference[0]].gainDb },
    );
    if (contradiction === null) levelsDb[i] = states === 'attenuator' ? -db : db;
    else faults.push({ row, code: 'step-contradicts-capture', sentence: contradiction });
  }
  const named = [...rowOf].sort(([, a], [, b]) => a - b).map(([i]) => i);
  const others = captures.map((_, i) => i).filter((i) => !rowOf.has(i));
  return { order: [...named, ...others], levelsDb, faults: faults.sort((a, b) => a.row - b.row) };
}

function isNamed(reference: string, { captureId, file }: SteppedCapture): boolean {
  return reference === captureId || reference === file;
}

function contradictionOf(
  states: StatedSteps['states'],
  db: number,
  { captureId, gainDb }: SteppedCapture,
  reference: { readonly db: number | null; readonly gainDb: number | null } | undefined,
): string | null {
  if (states === 'attenuator' || gainDb === null) return null;
  if (states === 'gain') {
    if (Math.abs(db - gainDb) < sameLevelDb) return null;
    return `the step table says ${plain(db)} dB of gain, and the capture "${captureId}" says ${plain(gainDb)} dB; find out which is right, and correct the other`;
  }
  if (reference === undefined || reference.db === null || reference.gainDb === null) return null;
  const stated = db - reference.db;
  const shown = gainDb - reference.gainDb;
  if (Math.abs(stated - shown) < sameLevelDb) return null;
  return `the step table says a change of ${signedDb(stated)}, and by what the captures say of their gain it is ${signedDb(shown)} ("${captureId}"); find out which is right, or, if an attenuator outside the instrument was stepped, call the column attenuator_db`;
}
