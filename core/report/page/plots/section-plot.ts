import type { DrawnPoint } from '../../../drawing/drawn-plane.ts';
import type { Bounds, DrawnSection } from '../../../drawing/section-drawing.ts';
import { figures, figureWords } from '../../../origin/figure.ts';
import { type FigureStyle, toShown, unitSign } from '../../../units/figure-style.ts';
import { html, type Markup } from '../markup.ts';
import { at, signed } from './frame.ts';
import { ticksOver } from './ticks.ts';

/** What a mark of the drawing is called on it; one without a name is a small dot, as for the many readings of a scan. */
export type MarkNames = ReadonlyMap<string, string>;

const width = 680;
const room = { left: 52, right: 12, top: 14, bottom: 42 } as const;
/** A section that is high for its width is drawn smaller, so that it does not fill the page. */
const mostHeight = 270;

interface Drawing {
  readonly bounds: Bounds;
  readonly perMm: number;
  readonly x: (point: DrawnPoint) => number;
  readonly y: (point: DrawnPoint) => number;
}

/**
 * The part's section as markup, to scale: surfaces, weld, the beam with its skips, what lies in it with its ellipse (k = 2). Forms tell what is what without colour;
 * what lies outside the bounds is left away.
 */
export function sectionPlot(
  drawn: DrawnSection,
  bounds: Bounds,
  names: MarkNames,
  words: { readonly title: string; readonly description: string },
  style: FigureStyle,
): Markup {
  const drawing = drawingOf(bounds);
  const { x, y } = drawing;
  const height = at(room.top + room.bottom + drawing.perMm * (bounds.to.yMm - bounds.from.yMm));
  const { beam, probe, weld, expected, marks } = drawn;
  const shownMarks = marks.filter(({ at: place }) => holds(bounds, place));
  return html`<figure><svg viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${words.title}. ${words.description}">
<title>${words.title}</title>
${weld !== null && html`<path class="weld" d="${closed(weld, drawing)}"/>\n`}${beam?.spread.map((leg) => html`<path class="spread" d="${closed(leg, drawing)}"/>\n`) ?? null}${[
  drawn.scannedSurface,
  drawn.farSurface,
].map((surface) => html`<path class="surface" d="${line(within(surface, bounds), drawing)}"/>\n`)}${
  beam !== null && html`<path class="line" d="${line(beam.axis, drawing)}"/>\n`
}${probe !== null && holds(bounds, probe.index) && probeMark(probe, drawing)}${expected
  .filter(({ at: place }) => holds(bounds, place))
  .map(({ at: place }) => {
    const [left, top] = [x(place), y(place)];
    return html`<path class="corner" d="M${at(left - 4)} ${at(top)}L${at(left)} ${at(top - 4)}L${at(left + 4)} ${at(top)}L${at(left)} ${at(top + 4)}Z"/>\n`;
  })}${shownMarks.map((mark) => {
  const isNamed = names.has(mark.id);
  return html`${mark.ellipse !== null && isNamed && html`<path class="ellipse" d="${closed(mark.ellipse, drawing)}"/>\n`}<circle class="${isNamed ? 'mark-full' : 'mark-open'}" cx="${at(x(mark.at))}" cy="${at(y(mark.at))}" r="${isNamed ? '2.6' : '1.8'}"/>\n`;
})}${placedNames(shownMarks, names, drawing)}${rulers(drawn, drawing, style)}</svg><figcaption>${words.title}. ${words.description}</figcaption></figure>
`;
}

function drawingOf({ from, to }: Bounds): Drawing {
  const [wide, high] = [to.xMm - from.xMm, to.yMm - from.yMm];
  const inner = width - room.left - room.right;
  const perMm = Math.min(inner / wide, mostHeight / high);
  // A drawing that is narrower than the page stands in its middle.
  const left = room.left + (inner - perMm * wide) / 2;
  return {
    bounds: { from, to },
    perMm,
    x: ({ xMm }) => left + perMm * (xMm - from.xMm),
    y: ({ yMm }) => room.top + perMm * (yMm - from.yMm),
  };
}

function holds({ from, to }: Bounds, { xMm, yMm }: DrawnPoint): boolean {
  return xMm >= from.xMm && xMm <= to.xMm && yMm >= from.yMm && yMm <= to.yMm;
}

/** A surface as far as the drawing goes. A plate's is one straight line; a pipe's has points finer than can be seen. */
function within(surface: readonly DrawnPoint[], bounds: Bounds): readonly DrawnPoint[] {
  if (surface.length === 2)
    return surface.map(({ xMm, yMm }) => ({
      xMm: Math.min(bounds.to.xMm, Math.max(bounds.from.xMm, xMm)),
      yMm,
    }));
  return surface.filter((point) => holds(bounds, point));
}

function line(points: readonly DrawnPoint[], { x, y }: Drawing): string {
  return points.map((point, i) => `${i === 0 ? 'M' : 'L'}${at(x(point))} ${at(y(point))}`).join('');
}

const closed = (points: readonly DrawnPoint[], drawing: Drawing) => `${line(points, drawing)}Z`;

/** The index point as a triangle that points to it, and the front of the wedge as a stroke; nothing more of the probe is known. */
function probeMark({ index, front }: NonNullable<DrawnSection['probe']>, { x, y }: Drawing): Markup {
  const [left, top] = [x(index), y(index)];
  return html`<path class="mark-full" d="M${at(left)} ${at(top)}L${at(left - 5)} ${at(top - 9)}H${at(left + 5)}Z"/>
${front !== null && html`<path class="bar" d="M${at(left)} ${at(top - 9)}L${at(x(front))} ${at(y(front) - 9)}V${at(y(front))}"/>\n`}`;
}

const nameHeight = 12;

/** Names beside their marks; one that would lie over another is moved down, with a line back to its mark. */
function placedNames(marks: DrawnSection['marks'], names: MarkNames, { x, y }: Drawing): readonly Markup[] {
  const taken: { x: number; y: number }[] = [];
  return marks.flatMap((mark) => {
    const name = names.get(mark.id);
    if (name === undefined) return [];
    const left = x(mark.at) + 8;
    let top = y(mark.at) - 7;
    const isTaken = () => taken.some((other) => Math.abs(other.x - left) < 14 && Math.abs(other.y - top) < nameHeight);
    while (isTaken()) top += nameHeight;
    taken.push({ x: left, y: top });
    const isMoved = top !== y(mark.at) - 7;
    return [
      html`${isMoved && html`<path class="bar" d="M${at(x(mark.at))} ${at(y(mark.at))}L${at(left - 1)} ${at(top - 4)}"/>`}<text class="mark-name" x="${at(left)}" y="${at(top)}">${name}</text>\n`,
    ];
  });
}

/** A plate has its scale along the surface and its depths at the side; a pipe, which is drawn round, a length to scale. */
function rulers(drawn: DrawnSection, { bounds, perMm, x, y }: Drawing, style: FigureStyle): Markup {
  const { from, to } = bounds;
  const bottom = y({ xMm: 0, yMm: to.yMm }) + 6;
  const unit = unitSign('length', style);
  const shown = (mm: number) => toShown(mm, 'length', style);
  const perShown = 1 / shown(1);
  if (drawn.shape.kind === 'pipe') {
    const { at: ticks, decimals } = ticksOver(0, shown((to.xMm - from.xMm) / 4), 2);
    const length = ticks[1];
    const [left, right] = [x(from), x(from) + length * perShown * perMm];
    return html`<path class="bar" d="M${at(left)} ${at(bottom)}V${at(bottom + 5)}H${at(right)}V${at(bottom)}"/><text class="tick" x="${at((left + right) / 2)}" y="${at(bottom + 18)}" text-anchor="middle">${signed(length, decimals)} ${unit}</text>\n`;
  }
  const { at: ticks, decimals } = ticksOver(shown(from.xMm), shown(to.xMm), 8);
  const inside = ticks.filter((value) => value * perShown >= from.xMm && value * perShown <= to.xMm);
  const title = drawn.origin === 'weld-middle' ? 'across, from the weld’s middle' : 'from the index point';
  return html`<path class="axis" d="M${at(x(from))} ${at(bottom)}H${at(x(to))}"/>
${inside.map((value) => {
  const place = at(x({ xMm: value * perShown, yMm: 0 }));
  return html`<path class="axis" d="M${place} ${at(bottom)}v5"/><text class="tick" x="${place}" y="${at(bottom + 17)}" text-anchor="middle">${signed(value, decimals)}</text>\n`;
})}<text class="axis-title" x="${at((x(from) + x(to)) / 2)}" y="${at(bottom + 31)}" text-anchor="middle">${title} (${unit})</text>
${[0, drawn.shape.thicknessMm].map((depth) => html`<text class="tick" x="${at(x(from) - 5)}" y="${at(y({ xMm: 0, yMm: depth }) + 4)}" text-anchor="end">${figureWords(figures.statedMm(depth, style), style)}</text>\n`)}`;
}
