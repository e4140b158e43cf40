import type { SortBy } from '../captures/filter-and-sort.ts';
import type { RowOrder } from '../procedures/reading-rows.ts';
import { belowLimits, initialPanels, type Panels, widthLimits } from '../shell/panels.ts';
import { oneOf } from './settings.ts';

/** How the person left the page: its columns, and the orders of its lists. Found again at the next start, whatever the review. */
export interface Layout {
  readonly panels: Panels;
  readonly captureOrder: SortBy;
  /** `null`: as they were read. */
  readonly readingOrder: RowOrder | null;
  /** What stands below the trace, where there is more than the series. */
  readonly picture: Picture;
}

export type Picture = 'series' | 'depth' | 'section' | 'plan';

export const initialLayout: Layout = {
  panels: initialPanels,
  captureOrder: 'name',
  readingOrder: null,
  picture: 'series',
};

/** A layout as it was kept; what is damaged, unknown or not there is as it was at first. */
export function layoutFrom(value: unknown): Layout {
  const kept = record(value);
  const panels = record(kept.panels);
  const open = record(panels.open);
  const widths = record(panels.widths);
  const order = record(kept.readingOrder);
  const { panels: first } = initialLayout;
  return {
    panels: {
      open: {
        captures: flag(open.captures, first.open.captures),
        procedures: flag(open.procedures, first.open.procedures),
      },
      only: oneOf(panels.only, ['captures', 'procedures', null], first.only),
      series: flag(panels.series, first.series),
      widths: {
        captures: within(widths.captures, widthLimits.captures, first.widths.captures),
        procedures: within(widths.procedures, widthLimits.procedures, first.widths.procedures),
      },
      belowShare: within(panels.belowShare, belowLimits, first.belowShare),
    },
    captureOrder: oneOf(kept.captureOrder, ['name', 'time', 'position'], initialLayout.captureOrder),
    readingOrder:
      typeof order.column === 'string'
        ? { column: order.column as RowOrder['column'], falling: flag(order.falling, false) }
        : null,
    picture: oneOf(kept.picture, ['series', 'depth', 'section', 'plan'], initialLayout.picture),
  };
}

function record(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
}

function flag(value: unknown, otherwise: boolean): boolean {
  return typeof value === 'boolean' ? value : otherwise;
}

function within(
  value: unknown,
  { least, most }: { readonly least: number; readonly most: number },
  otherwise: number,
): number {
  return typeof value === 'number' && value >= least && value <= most ? value : otherwise;
}
