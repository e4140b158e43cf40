/** How one of several traces is told from the others: by its colour and by the pattern of its line. */
export interface TraceMark {
  /** A custom property of the theme. */
  readonly colour: string;
  /** Lengths in CSS pixels of full and faint strokes in turn; empty for a full line. */
  readonly pattern: readonly number[];
  /** The pattern in a word, for those who hear the legend. */
  readonly line: string;
}

const marks: readonly TraceMark[] = [
  { colour: '--trace', pattern: [], line: 'full line' },
  { colour: '--overlay-1', pattern: [9, 5], line: 'dashed line' },
  { colour: '--overlay-2', pattern: [2, 4], line: 'dotted line' },
  { colour: '--overlay-3', pattern: [12, 4, 2, 4], line: 'dash-dotted line' },
  { colour: '--overlay-4', pattern: [18, 8], line: 'long-dashed line' },
];

/** The mark of the trace at a place in the list; the first has the plain one, the others take turns. */
export function markOf(index: number): TraceMark {
  return index === 0 ? marks[0]! : marks[1 + ((index - 1) % (marks.length - 1))]!;
}
