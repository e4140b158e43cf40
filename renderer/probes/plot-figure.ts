/** A plot as it is meant, before it has a size or colours: drawn on the page, and saved for paper, from this alone. */
export interface PlotFigure {
  /** Read out in place of the picture; never drawn. */
  readonly words: string;
  readonly panels: readonly Panel[];
  /** Panels side by side before the next row begins. */
  readonly across: number;
}

export interface Panel {
  /** Above the plot, where several panels must be told apart. */
  readonly title: string | null;
  readonly x: AxisSpan;
  readonly y: AxisSpan;
  readonly lines: readonly PlotLine[];
  /** Areas between two lines, below the lines. */
  readonly bands: readonly PlotBand[];
  /** Straight lines across at heights that mean something. */
  readonly levels: readonly { readonly at: number; readonly label: string }[];
  readonly image: PlotImage | null;
}

/** An axis with its unit in its name: `time (µs)`. */
export interface AxisSpan {
  readonly label: string;
  readonly from: number;
  readonly to: number;
}

export interface PlotLine {
  /** `null` for one that needs no name: its axis says what it is. */
  readonly name: string | null;
  /** Which of the line styles; the same probe has the same one in every picture. */
  readonly style: number;
  /** `thin`: a line that goes with another, such as its noise. */
  readonly weight: 'full' | 'thin';
  /** In order of x; NaN breaks the line. */
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
}

export interface PlotBand {
  readonly name: string | null;
  readonly style: number;
  readonly x: ArrayLike<number>;
  readonly low: ArrayLike<number>;
  readonly high: ArrayLike<number>;
}

/** Levels in dB, column after column, the lowest row first. */
export interface PlotImage {
  readonly levelsDb: Float32Array;
  readonly columns: number;
  readonly rows: number;
  readonly floorDb: number;
  /** Outer edges of the cells. */
  readonly x: readonly [from: number, to: number];
  readonly y: readonly [from: number, to: number];
}

/** Evenly spaced places: where the samples of a line stand. */
export function places(start: number, step: number, count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => start + i * step);
}
