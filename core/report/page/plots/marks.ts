import { coverageFactor, type VerdictOutcome } from '../../../check/verdict.ts';
import type { Quantity } from '../../../units/quantity.ts';
import { html, type Markup } from '../markup.ts';
import { at, type Scales } from './frame.ts';

/** The form of a point tells its verdict without colour: a full disc passes, a cross fails, a disc half full is inconclusive, a ring is not assessed or not judged. */
export type MarkKind = VerdictOutcome | 'plain' | 'open' | 'square';

const radius = 4;

export function mark(kind: MarkKind, x: number, y: number): Markup {
  switch (kind) {
    case 'fail': {
      const [left, right, top, bottom] = [x - radius, x + radius, y - radius, y + radius].map(at);
      return html`<path class="mark-fail" d="M${left} ${top}L${right} ${bottom}M${left} ${bottom}L${right} ${top}"/>
`;
    }
    case 'inconclusive':
      return html`<circle class="mark-open" cx="${at(x)}" cy="${at(y)}" r="${radius}"/><path class="mark-full" d="M${at(x - radius)} ${at(y)}A${radius} ${radius} 0 0 0 ${at(x + radius)} ${at(y)}Z"/>
`;
    case 'not-assessed':
    case 'open':
      return html`<circle class="mark-open" cx="${at(x)}" cy="${at(y)}" r="${radius}"/>
`;
    case 'square':
      return html`<rect class="mark-full" x="${at(x - 3.5)}" y="${at(y - 3.5)}" width="7" height="7"/>
`;
    default:
      return html`<circle class="mark-full" cx="${at(x)}" cy="${at(y)}" r="${radius}"/>
`;
  }
}

/** The expanded uncertainty (k = 2) as a bar on either side; nothing where it is not known. */
export function uncertaintyBar(x: number, quantity: Quantity, scales: Scales): Markup {
  const u = quantity.standardUncertainty;
  if (u === null || !(u > 0)) return html``;
  const [top, bottom] = [quantity.value + coverageFactor * u, quantity.value - coverageFactor * u].map((v) =>
    at(scales.y(v)),
  );
  const place = scales.x(x);
  const [left, right] = [at(place - 3), at(place + 3)];
  return html`<path class="bar" d="M${at(place)} ${top}V${bottom}M${left} ${top}H${right}M${left} ${bottom}H${right}"/>
`;
}

/** From where to where bars of these quantities reach. */
export function reachOf(quantities: readonly Quantity[]): { readonly from: number; readonly to: number } {
  const ends = quantities.flatMap(({ value, standardUncertainty }) => {
    const half = coverageFactor * (standardUncertainty ?? 0);
    return [value - half, value + half];
  });
  return { from: Math.min(0, ...ends), to: Math.max(0, ...ends) };
}

/** A line through points, broken where there is none. */
export function pathThrough(
  kind: 'line' | 'line-dashed' | 'line-dotted',
  points: readonly ({ readonly x: number; readonly y: number } | null)[],
  scales: Scales,
): Markup {
  let down = false;
  const d = points
    .map((point) => {
      if (point === null) {
        down = false;
        return '';
      }
      const move = down ? 'L' : 'M';
      down = true;
      return `${move}${at(scales.x(point.x))} ${at(scales.y(point.y))}`;
    })
    .join('');
  return d === ''
    ? html``
    : html`<path class="${kind}" d="${d}"/>
`;
}
