/** The pieces of a line whose end was not read yet. */
export class UnfinishedLine {
  private pieces: Uint8Array[] = [];
  private held = 0;

  get length(): number {
    return this.held;
  }

  /** Keeps a copy. */
  add(bytes: Uint8Array): void {
    this.pieces.push(bytes.slice());
    this.held += bytes.length;
  }

  /** The whole line with its end, and nothing held any more. */
  take(end: Uint8Array): Uint8Array {
    const whole = new Uint8Array(this.held + end.length);
    let at = 0;
    for (const piece of this.pieces) {
      whole.set(piece, at);
      at += piece.length;
    }
    whole.set(end, at);
    this.pieces = [];
    this.held = 0;
    return whole;
  }
}
