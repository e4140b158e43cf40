/** On which line of the file each row stands: kept only where rows do not simply follow each other. */
export class RowLines {
  private lineOfNextRow = -1;
  private readonly breakRows: number[] = [];
  private readonly breakLines: number[] = [];

  /** The next `count` rows, from `row` on, stand on successive lines from `line` on. */
  note(row: number, line: number, count: number): void {
    if (line !== this.lineOfNextRow) {
      this.breakRows.push(row);
      this.breakLines.push(line);
    }
    this.lineOfNextRow = line + count;
  }

  /** The line of a row, both in the file's order. */
  of(row: number): number {
    let low = 0;
    let high = this.breakRows.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.breakRows[middle] <= row) low = middle;
      else high = middle - 1;
    }
    return this.breakLines[low] + row - this.breakRows[low];
  }
}
