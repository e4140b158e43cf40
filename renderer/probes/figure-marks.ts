import { formatNumber, type NumberStyle } from '../../core/units/format-quantity.ts';
import { inWords } from '../audit/figure-words.ts';
import { roundTicks } from '../series/ticks.ts';
import type { AxisSpan, Panel, PlotFigure } from './plot-figure.ts';

/** What a mark is drawn in; what colour that is depends on where it is drawn. */
export type Ink = 'ink' | 'soft' | 'grid' | 'axis' | `line-${0 | 1 | 2 | 3 | 4}`;

export type Mark =
  | {
      readonly kind: 'line';
      readonly points: readonly (readonly [number, number])[];
      readonly ink: Ink;
      readonly width: number;
      /** Lengths of dashes and gaps in turn; none: unbroken. */
      readonly dash: readonly number[];
    }
  | { readonly kind: 'area'; readonly points: readonly (readonly [number, number])[]; readonly ink: Ink }
  | {
      readonly kind: 'text';
      readonly text: string;
      readonly x: number;
      readonly y: number;
      readonly anchor: 'start' | 'middle' | 'end';
      readonly size: number;
      readonly ink: Ink;
      /** Turned to be read from below. */
      readonly upright: boolean;
      readonly bold: boolean;
    }
  /** The image of the panel with this number, and the strip of its shades. */
  | {
      readonly kind: 'image' | 'shades';
      readonly panel: number;
      readonly x: number;
      readonly y: number;
      readonly width: number;
      readonly height: number;
    };

/** Sizes in one unit: CSS pixels on the page, points on paper. */
export interface Look {
  readonly width: number;
  readonly height: number;
  readonly font: number;
  readonly line: number;
  readonly thin: number;
}

/** Five colours that differ in lightness too, and five kinds of dashes: 25 lines can be told apart, in grey as well. */
const dashes = [[], [5, 2], [1.5, 1.5], [7, 2, 1.5, 2], [3, 1.5]] as const;
export function lineStyle(style: number): { readonly ink: Ink; readonly dash: readonly number[] } {
  const colour = (style % 5) as 0 | 1 | 2 | 3 | 4;
  return { ink: `line-${colour}`, dash: dashes[(colour + Math.floor(style / 5)) % dashes.length]! };
}

interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Everything that is drawn of a figure, in the order in which it is drawn. */
export function figureMarks(figure: PlotFigure, look: Look, style: NumberStyle): readonly Mark[] {
  const { panels, across } = figure;
  const legend = legendMarks(panels, look);
  const down = Math.max(1, Math.ceil(panels.length / across));
  const [wide, high] = [look.width / across, (look.height - legend.height) / down];
  return [
    ...legend.marks,
    ...panels.flatMap((panel, i) =>
      panelMarks(
        panel,
        i,
        {
          left: (i % across) * wide,
          top: legend.height + Math.floor(i / across) * high,
          right: ((i % across) + 1) * wide,
          bottom: legend.height + (Math.floor(i / across) + 1) * high,
        },
        look,
        style,
      ),
    ),
  ];
}

/** What the names of the lines take of a figure's height at this width. */
export function legendHeight({ panels }: PlotFigure, look: Look): number {
  return legendMarks(panels, look).height;
}

/** A letter's width as a share of its size, about. */
const letter = 0.54;

/** The names of lines and bands once each, above the plots, as many in a row as have room. */
function legendMarks(
  panels: readonly Panel[],
  look: Look,
): { readonly marks: readonly Mark[]; readonly height: number } {
  const named = new Map<string, { readonly style: number; readonly isBand: boolean }>();
  for (const { lines, bands } of panels) {
    for (const { name, style } of lines)
      if (name !== null && !named.has(name)) named.set(name, { style, isBand: false });
    for (const { name, style } of bands)
      if (name !== null && !named.has(name)) named.set(name, { style, isBand: true });
  }
  if (named.size === 0) return { marks: [], height: 0 };
  const { font } = look;
  const sample = 2.4 * font;
  const row = 1.5 * font;
  let [x, y] = [0.5 * font, row * 0.75];
  const marks: Mark[] = [];
  for (const [name, { style, isBand }] of named) {
    const width = sample + 0.5 * font + name.length * letter * font + 1.2 * font;
    if (x + width > look.width && x > font) {
      x = 0.5 * font;
      y += row;
    }
    const { ink, dash } = lineStyle(style);
    marks.push(
      isBand
        ? { kind: 'area', ink, points: rectangle(x, y - 0.3 * font, sample, 0.6 * font) }
        : {
            kind: 'line',
            ink,
            width: look.line,
            dash: dash.map((part) => part * look.line),
            points: [
              [x, y],
              [x + sample, y],
            ],
          },
      words(name, x + sample + 0.5 * font, y + 0.35 * font, 'start', look, 'ink'),
    );
    x += width;
  }
  return { marks, height: y + 0.75 * row };
}

function panelMarks(panel: Panel, index: number, outer: Box, look: Look, style: NumberStyle): readonly Mark[] {
  const { font } = look;
  const isImage = panel.image !== null;
  const inner: Box = {
    left: outer.left + 4.6 * font,
    top: outer.top + (panel.title === null ? 0.7 : 1.9) * font,
    right: outer.right - (isImage ? 6 : 1.2) * font,
    bottom: outer.bottom - 3.5 * font,
  };
  const { x, y } = panel;
  const [wide, high] = [inner.right - inner.left, inner.bottom - inner.top];
  if (wide < 2 * font || high < 2 * font) return [];
  const atX = (value: number) => inner.left + (wide * (value - x.from)) / (x.to - x.from);
  const atY = (value: number) => inner.bottom - (high * (value - y.from)) / (y.to - y.from);
  const line = (points: readonly (readonly [number, number])[], ink: Ink, width: number): Mark => ({
    kind: 'line',
    points,
    ink,
    width,
    dash: [],
  });
  const acrossTicks = ticks(x, wide, (label) => (label.length + 2) * letter * font, style);
  const downTicks = ticks(y, high, () => 2 * font, style);
  return [
    ...(isImage ? [{ kind: 'image' as const, panel: index, ...imageBox(panel, atX, atY) }] : []),
    ...(isImage ? [] : acrossTicks).map(({ value }) =>
      line(
        [
          [atX(value), inner.top],
          [atX(value), inner.bottom],
        ],
        'grid',
        look.thin,
      ),
    ),
    ...(isImage ? [] : downTicks).map(({ value }) =>
      line(
        [
          [inner.left, atY(value)],
          [inner.right, atY(value)],
        ],
        'grid',
        look.thin,
      ),
    ),
    ...panel.bands.map(
      (band): Mark => ({
        kind: 'area',
        ink: lineStyle(band.style).ink,
        points: [
          ...Array.from(
            { length: band.x.length },
            (_, i) => [atX(band.x[i]!), held(atY(band.high[i]!), inner)] as const,
          ),
          ...Array.from({ length: band.x.length }, (_, i) => band.x.length - 1 - i).map(
            (i) => [atX(band.x[i]!), held(atY(band.low[i]!), inner)] as const,
          ),
        ],
      }),
    ),
    ...panel.levels.flatMap(({ at, label }): Mark[] => [
      {
        ...line(
          [
            [inner.left, atY(at)],
            [inner.right, atY(at)],
          ],
          'soft',
          look.thin,
        ),
        dash: [4 * look.line, 3 * look.line],
      } as Mark,
      words(label, inner.right - 0.3 * font, atY(at) - 0.3 * font, 'end', look, 'soft'),
    ]),
    ...panel.lines.flatMap(({ x: xs, y: ys, style: lineOf, weight }): Mark[] => {
      const { ink, dash } = lineStyle(lineOf);
      const width = weight === 'full' ? look.line : look.thin;
      return runs(xs, ys, panel, atX, atY).map((points) => ({
        kind: 'line',
        points,
        ink,
        width,
        dash: dash.map((part) => part * look.line),
      }));
    }),
    line(
      [
        [inner.left, inner.top],
        [inner.left, inner.bottom],
        [inner.right, inner.bottom],
      ],
      'axis',
      look.thin,
    ),
    ...acrossTicks.flatMap(({ value, label }): Mark[] => [
      line(
        [
          [atX(value), inner.bottom],
          [atX(value), inner.bottom + 0.3 * font],
        ],
        'axis',
        look.thin,
      ),
      words(inWords(label), atX(value), inner.bottom + 1.35 * font, 'middle', look, 'soft'),
    ]),
    ...downTicks.flatMap(({ value, label }): Mark[] => [
      line(
        [
          [inner.left, atY(value)],
          [inner.left - 0.3 * font, atY(value)],
        ],
        'axis',
        look.thin,
      ),
      words(inWords(label), inner.left - 0.55 * font, atY(value) + 0.35 * font, 'end', look, 'soft'),
    ]),
    words(
      fitting(x.label, wide, font),
      (inner.left + inner.right) / 2,
      inner.bottom + 2.8 * font,
      'middle',
      look,
      'ink',
    ),
    {
      ...words(
        fitting(y.label, high, font),
        outer.left + 1.2 * font,
        (inner.top + inner.bottom) / 2,
        'middle',
        look,
        'ink',
      ),
      upright: true,
    },
    ...(panel.title === null
      ? []
      : [
          {
            ...words(fitting(panel.title, wide, font), inner.left, outer.top + 1.3 * font, 'start', look, 'ink'),
            bold: true,
          },
        ]),
    ...(panel.image === null ? [] : shadeMarks(panel.image.floorDb, index, inner, look, style)),
  ];
}

/** The strip of shades with its levels, to the right of an image. */
function shadeMarks(floorDb: number, panel: number, inner: Box, look: Look, style: NumberStyle): readonly Mark[] {
  const { font } = look;
  const x = inner.right + 1.2 * font;
  const high = inner.bottom - inner.top;
  return [
    { kind: 'shades', panel, x, y: inner.top, width: 0.9 * font, height: high },
    ...[0, 0.25, 0.5, 0.75, 1].map((share): Mark => {
      const text = inWords(formatNumber(floorDb * (1 - share), 0, style));
      const label = share === 0 ? `≤ ${text}` : share === 1 ? `${text} dB` : text;
      return words(label, x + 1.3 * font, inner.bottom - share * high + 0.35 * font, 'start', look, 'soft');
    }),
  ];
}

function imageBox(panel: Panel, atX: (value: number) => number, atY: (value: number) => number) {
  const { x, y } = panel.image!;
  return { x: atX(x[0]), y: atY(y[1]), width: atX(x[1]) - atX(x[0]), height: atY(y[0]) - atY(y[1]) };
}

function ticks({ from, to }: AxisSpan, length: number, room: (label: string) => number, style: NumberStyle) {
  return roundTicks(from, to, length, room, style);
}

/** The line within the axes, in pieces where it has gaps or leaves the plot: nothing is drawn where it is not. */
function runs(
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  { x: across, y: down }: Pick<Panel, 'x' | 'y'>,
  atX: (value: number) => number,
  atY: (value: number) => number,
): (readonly [number, number])[][] {
  const found: (readonly [number, number])[][] = [];
  let run: (readonly [number, number])[] = [];
  for (let i = 0; i < xs.length; i++) {
    const [x, y] = [xs[i]!, ys[i]!];
    if (x >= across.from && x <= across.to && y >= down.from && y <= down.to) run.push([atX(x), atY(y)]);
    else if (run.length > 0) {
      found.push(run);
      run = [];
    }
  }
  if (run.length > 0) found.push(run);
  return found;
}

function held(y: number, { top, bottom }: Box): number {
  return Math.min(bottom, Math.max(top, y));
}

function words(text: string, x: number, y: number, anchor: 'start' | 'middle' | 'end', { font }: Look, ink: Ink) {
  return { kind: 'text' as const, text, x, y, anchor, size: font, ink, upright: false, bold: false };
}

/** A name that is longer than its room ends in an ellipsis. */
function fitting(text: string, room: number, font: number): string {
  const most = Math.max(3, Math.floor(room / (letter * font)));
  return text.length <= most ? text : `${text.slice(0, most - 1)}…`;
}

function rectangle(x: number, y: number, width: number, height: number): readonly (readonly [number, number])[] {
  return [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
}
