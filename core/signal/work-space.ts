/** A longer record is given its own memory, and hands it back. */
const longestKept = 1 << 20;

/**
 * Memory that one record after another is worked on in. What it hands out holds whatever the last user left there and is
 * good until the next call: no result may be, or look into, a part of it.
 */
export class WorkSpace {
  private values = new Float64Array(0);

  take(length: number): Float64Array {
    if (length > longestKept) return new Float64Array(length);
    if (length > this.values.buffer.byteLength / 8) this.values = new Float64Array(length);
    else if (length !== this.values.length) this.values = new Float64Array(this.values.buffer, 0, length);
    return this.values;
  }
}
