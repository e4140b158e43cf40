import type { Room } from './use-room.ts';

/** A column beside the trace. */
export type Panel = 'captures' | 'procedures';

/** Which panels a person has open, and how wide; kept from one room to another, so that a window made wide again is as it was. */
export interface Panels {
  readonly open: { readonly captures: boolean; readonly procedures: boolean };
  /** Where there is room for one only: which one; `null` for the trace alone. */
  readonly only: Panel | null;
  /** Whether the series is shown below the trace. */
  readonly series: boolean;
  readonly widths: { readonly captures: number; readonly procedures: number };
  /** Height of the pictures below the trace, as a share of the two. */
  readonly belowShare: number;
}

export const widthLimits = {
  captures: { least: 200, most: 480 },
  procedures: { least: 320, most: 640 },
} as const;

export const belowLimits = { least: 0.2, most: 0.7 } as const;

export const initialPanels: Panels = {
  open: { captures: true, procedures: true },
  only: null,
  series: true,
  widths: { captures: 260, procedures: 380 },
  belowShare: 0.4,
};

/** What is in sight in a room. */
export function inSight({ open, only }: Panels, room: Room): Readonly<Record<Panel | 'trace', boolean>> {
  if (room === 'wide') return { ...open, trace: true };
  return {
    captures: only === 'captures',
    procedures: only === 'procedures',
    trace: room === 'middle' || only === null,
  };
}

export function toggled(panels: Panels, panel: Panel, room: Room): Panels {
  if (room === 'wide') return { ...panels, open: { ...panels.open, [panel]: !panels.open[panel] } };
  return { ...panels, only: panels.only === panel ? null : panel };
}

export function opened(panels: Panels, panel: Panel, room: Room): Panels {
  return inSight(panels, room)[panel] ? panels : toggled(panels, panel, room);
}

export function withWidth(panels: Panels, panel: Panel, width: number): Panels {
  const { least, most } = widthLimits[panel];
  return { ...panels, widths: { ...panels.widths, [panel]: Math.round(clamp(width, least, most)) } };
}

export function withBelowShare(panels: Panels, share: number): Panels {
  return { ...panels, belowShare: clamp(share, belowLimits.least, belowLimits.most) };
}

function clamp(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}
