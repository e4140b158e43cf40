import { AxisCheck } from '../capture/uniform-axis.ts';
import type { Shape } from './amplitudes.ts';
import type { RowSink } from './body-format.ts';
import type { ColumnPlan } from './columns.ts';
import type { RowBlock } from './numeric-rows.ts';

/** One column that grows block by block; made whole once, at the end. */
class GrowingColumn {
  private segments: Float64Array[] = [];
  private length = 0;
  /** Room for all of a long column, once its length can be told; else it is gathered in segments and copied at the end. */
  private room: Float64Array | null = null;
  /** Lowest, highest, sum: in a typed array, since number fields that begin as integers keep changing the object's shape. */
  private readonly tally = Float64Array.of(Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0);

  append(values: Float64Array, offset: number, stride: number, count: number, rowsExpected: number | null): void {
    if (this.room === null && this.length >= longColumn && rowsExpected !== null) this.makeRoom(rowsExpected);
    const hasRoom = this.room !== null && this.length + count <= this.room.length && this.segments.length === 0;
    const segment =
      hasRoom && this.room !== null ? this.room.subarray(this.length, this.length + count) : new Float64Array(count);
    gather(values, offset, stride, segment);
    tallyUp(segment, this.tally);
    if (!hasRoom) this.segments.push(segment);
    this.length += count;
  }

  private makeRoom(rowsExpected: number): void {
    this.room = new Float64Array(Math.ceil(rowsExpected * 1.01));
    if (this.room.length >= this.length) joinInto(this.room, 0, this.segments);
    this.segments = [];
  }

  get shape(): Shape {
    const [lowest, highest, sum] = this.tally;
    return { lowest, highest, mean: sum / this.length };
  }

  /**
   * The column whole. It can be had only once: the segments are let go one by one. A long one is a view of a room that may be
   * a little longer.
   */
  whole(): Float64Array {
    const { segments, room } = this;
    if (room !== null && segments.length === 0) return room.subarray(0, this.length);
    if (room === null && segments.length === 1) return segments[0];
    const whole = new Float64Array(this.length);
    const inRoom = this.length - segments.reduce((sum, segment) => sum + segment.length, 0);
    if (room !== null) whole.set(room.subarray(0, inRoom));
    joinInto(whole, inRoom, segments);
    return whole;
  }
}

/** Rows from which on a column is long: shorter ones are copied faster than their length is told. */
const longColumn = 262_144;

function joinInto(whole: Float64Array, from: number, segments: Float64Array[]): void {
  let at = from;
  for (let i = 0; i < segments.length; i++) {
    whole.set(segments[i], at);
    at += segments[i].length;
    segments[i] = nothing;
  }
}

const nothing = new Float64Array(0);

// The loops stand in functions of their own: compiled code that is entered in mid-loop must not touch objects behind it.

function gather(values: Float64Array, offset: number, stride: number, segment: Float64Array): void {
  for (let i = 0, at = offset; i < segment.length; i++, at += stride) segment[i] = values[at];
}

/** Lowest, highest and sum so far, and those of a segment. */
function tallyUp(segment: Float64Array, tally: Float64Array): void {
  let lowest = tally[0];
  let highest = tally[1];
  let sum = tally[2];
  for (let i = 0; i < segment.length; i++) {
    const value = segment[i];
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
    sum += value;
  }
  tally[0] = lowest;
  tally[1] = highest;
  tally[2] = sum;
}

/** The rows of one capture: all of a file's, or in the long form those with one capture id. */
export class RowGroup {
  /** `null` where the file has no capture ids. */
  readonly id: string | null;
  readonly axis: AxisCheck | null;
  /** The stamps themselves, kept only where they may have to be resampled. */
  readonly stamps: GrowingColumn | null;
  readonly traces: readonly GrowingColumn[];
  rows = 0;
  /** Where runs of rows begin: in this group, and in the file. */
  private readonly runStarts: number[] = [];
  private readonly fileRows: number[] = [];
  private nextFileRow = -1;
  private readonly plan: ColumnPlan;

  constructor(plan: ColumnPlan, id: string | null, keepsStamps: boolean) {
    this.plan = plan;
    this.id = id;
    this.axis = plan.axis === null ? null : new AxisCheck();
    this.stamps = plan.axis !== null && keepsStamps ? new GrowingColumn() : null;
    this.traces = plan.traces.map(() => new GrowingColumn());
  }

  append(
    block: RowBlock,
    fields: number,
    from: number,
    count: number,
    fileRow: number,
    rowsExpected: number | null,
  ): void {
    const { plan, traces } = this;
    const offset = from * fields;
    if (plan.axis !== null) {
      this.axis?.push(block.values, offset + plan.axis.field, fields, count);
      this.stamps?.append(block.values, offset + plan.axis.field, fields, count, rowsExpected);
    }
    for (let i = 0; i < traces.length; i++)
      traces[i].append(block.values, offset + plan.traces[i].field, fields, count, rowsExpected);
    if (fileRow !== this.nextFileRow) {
      this.runStarts.push(this.rows);
      this.fileRows.push(fileRow);
    }
    this.rows += count;
    this.nextFileRow = fileRow + count;
  }

  /** The row in the file of a row of this group. */
  fileRowOf(row: number): number {
    let run = this.runStarts.length - 1;
    while (run > 0 && this.runStarts[run] > row) run--;
    return this.fileRows[run] + row - this.runStarts[run];
  }
}

/** So many captures are read of one file: each takes its own memory, however few samples it has. */
export const mostCaptures = 100_000;

/** Text labels are given numbers from this downward, which no counted capture id has. */
const firstLabelCode = -(2 ** 50);

/** A capture id that is told from all others by its value as a number; any other is kept as the text it is. */
export function isPlainId(id: number): boolean {
  return Number.isInteger(id) && Math.abs(id) < -firstLabelCode;
}

/** Takes blocks of rows apart into the columns of each capture. */
export class RowGroups implements RowSink {
  readonly groups: RowGroup[] = [];
  private readonly plan: ColumnPlan;
  private readonly fields: number;
  private readonly keepsStamps: boolean;
  private readonly groupById = new Map<number, RowGroup>();
  private readonly labels: string[] = [];
  private readonly codes = new Map<string, number>();
  private fileRow = 0;
  fullAtRow: number | null = null;

  constructor(plan: ColumnPlan, fields: number, keepsStamps: boolean) {
    this.plan = plan;
    this.fields = fields;
    this.keepsStamps = keepsStamps;
    if (plan.idField === null) this.groups.push(new RowGroup(plan, null, keepsStamps));
  }

  take(block: RowBlock, rowsExpected: number | null): void {
    const { plan, fields } = this;
    if (plan.idField === null) {
      this.groups[0].append(block, fields, 0, block.rows, this.fileRow, rowsExpected);
    } else {
      for (let from = 0; from < block.rows && this.fullAtRow === null; ) {
        const id = block.values[from * fields + plan.idField];
        let to = from + 1;
        while (to < block.rows && block.values[to * fields + plan.idField] === id) to++;
        if (this.groups.length === mostCaptures && !this.groupById.has(id)) {
          this.fullAtRow = this.fileRow + from;
          break;
        }
        this.groupOf(id).append(block, fields, from, to - from, this.fileRow + from, null);
        from = to;
      }
    }
    this.fileRow += block.rows;
  }

  labelCode(text: string): number {
    const known = this.codes.get(text);
    if (known !== undefined) return known;
    const code = firstLabelCode - this.labels.length;
    this.codes.set(text, code);
    this.labels.push(text);
    return code;
  }

  private groupOf(id: number): RowGroup {
    let group = this.groupById.get(id);
    if (group === undefined) {
      const name = id <= firstLabelCode ? this.labels[firstLabelCode - id] : String(id);
      group = new RowGroup(this.plan, name, this.keepsStamps);
      this.groupById.set(id, group);
      this.groups.push(group);
    }
    return group;
  }
}
