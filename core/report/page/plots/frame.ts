import { formatNumber } from '../../../units/format-quantity.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { type Ticks, ticksOver } from './ticks.ts';

/** An axis of a plot: what is along it, and from where to where it must reach. */
export interface PlotAxis {
  readonly title: string;
  readonly from: number;
  readonly to: number;
  /** Named places in place of figures, as for captures in order; each at 0, 1, 2 … */
  readonly names?: readonly string[];
}

/** A straight line across the plot, as for a limit: where it stands, and what it is. */
export interface PlotLevel {
  readonly at: number;
  readonly label: string;
  readonly kind: 'limit' | 'zero' | 'level';
}

export interface PlotInput {
  /** What the plot shows, for who cannot see it and for its caption. */
  readonly title: string;
  /** The same at more length, with the figures that matter. */
  readonly description: string;
  readonly x: PlotAxis;
  readonly y: PlotAxis;
  /** Greater values stand lower, as depths do. */
  readonly isDown?: boolean;
  readonly levels: readonly PlotLevel[];
  /** `half`: as wide as half of the page, with the description left to who cannot see it. */
  readonly size?: 'full' | 'half';
  /** Points and lines, on the scales given. */
  readonly marks: (scales: Scales) => readonly Shown[];
}

export interface Scales {
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  /** Where the lower axis stands. */
  readonly bottom: number;
}

const sizes = {
  full: { width: 680, height: 250, room: { left: 66, right: 92, top: 12, bottom: 44 }, xTicks: 6, yTicks: 5 },
  half: { width: 332, height: 178, room: { left: 50, right: 12, top: 12, bottom: 42 }, xTicks: 4, yTicks: 4 },
} as const;
/** So close to an end of the axis a tick's name would be cut off. */
const mostNames = 14;

/** To a tenth of a unit of the drawing: far below what can be seen, and the same digits everywhere. */
export function at(value: number): string {
  return formatNumber(value, 1);
}

/**
 * A plot as markup: axes with ticks and units, levels with their names, the points. Colours come from the page's style sheet by class; every line and mark can be told
 * from the others by its form alone. Source of the form: common practice of printed plots.
 */
export function plot({ title, description, x, y, isDown = false, levels, size = 'full', marks }: PlotInput): Markup {
  const { width, height, room, ...wanted } = sizes[size];
  const xTicks = x.names === undefined ? ticksOver(x.from, x.to, wanted.xTicks) : namedTicks(x.names);
  const yTicks = ticksOver(
    Math.min(y.from, ...levels.map((level) => level.at)),
    Math.max(y.to, ...levels.map((level) => level.at)),
    wanted.yTicks,
  );
  const right = width - room.right;
  const bottom = height - room.bottom;
  const scales: Scales = {
    x: (value) => room.left + ((value - xTicks.from) / (xTicks.to - xTicks.from)) * (right - room.left),
    y: (value) => {
      const up = ((value - yTicks.from) / (yTicks.to - yTicks.from)) * (bottom - room.top);
      return isDown ? room.top + up : bottom - up;
    },
    bottom,
  };
  const names = x.names;
  const everyName = names === undefined ? 1 : Math.ceil(names.length / mostNames);
  return html`<figure><svg viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${title}. ${description}">
<title>${title}</title>
${yTicks.at.map(
  (value) =>
    html`<line class="grid" x1="${room.left}" x2="${right}" y1="${at(scales.y(value))}" y2="${at(scales.y(value))}"/><text class="tick" x="${room.left - 8}" y="${at(scales.y(value) + 4)}" text-anchor="end">${signed(value, yTicks.decimals)}</text>
`,
)}${(names ?? xTicks.at).map((value, i) => {
  const place = scales.x(typeof value === 'number' ? value : i);
  const text = typeof value === 'number' ? signed(value, xTicks.decimals) : value;
  return html`<line class="axis" x1="${at(place)}" x2="${at(place)}" y1="${bottom}" y2="${bottom + 5}"/>${
    i % everyName === 0 &&
    html`<text class="tick" x="${at(place)}" y="${bottom + 18}" text-anchor="middle">${text}</text>`
  }
`;
})}<line class="axis" x1="${room.left}" x2="${right}" y1="${bottom}" y2="${bottom}"/><line class="axis" x1="${room.left}" x2="${room.left}" y1="${room.top}" y2="${bottom}"/>
<text class="axis-title" x="${at((room.left + right) / 2)}" y="${height - 6}" text-anchor="middle">${x.title}</text>
<text class="axis-title" x="${at(-(room.top + bottom) / 2)}" y="14" text-anchor="middle" transform="rotate(-90)">${y.title}</text>
${apart(levels, scales).map(
  ({ level, labelAt }) =>
    html`<line class="${level.kind}" x1="${room.left}" x2="${right}" y1="${at(scales.y(level.at))}" y2="${at(scales.y(level.at))}"/>${
      size === 'full'
        ? html`<text class="tick" x="${right + 6}" y="${at(labelAt)}">${level.label}</text>`
        : html`<text class="tick" x="${right - 2}" y="${at(scales.y(level.at) - 3)}" text-anchor="end">${level.label}</text>`
    }
`,
)}${marks(scales)}</svg><figcaption>${title}.${size === 'full' && ` ${description}`}</figcaption></figure>
`;
}

function namedTicks(names: readonly string[]): Ticks {
  return { from: -0.5, to: Math.max(names.length, 1) - 0.5, at: names.map((_, i) => i), decimals: 0 };
}

/** Figures with the true minus sign, as the trade writes them. */
export function signed(value: number, decimals: number): string {
  return formatNumber(value, decimals).replace('-', '−');
}

const labelHeight = 12;

/** Names of levels that stand close to one another are pushed apart, in their order. */
function apart(levels: readonly PlotLevel[], scales: Scales): { level: PlotLevel; labelAt: number }[] {
  let lowest = Number.POSITIVE_INFINITY;
  return [...levels]
    .sort((a, b) => scales.y(b.at) - scales.y(a.at))
    .map((level) => {
      const labelAt = Math.min(scales.y(level.at) + 4, lowest - labelHeight);
      lowest = labelAt;
      return { level, labelAt };
    });
}
