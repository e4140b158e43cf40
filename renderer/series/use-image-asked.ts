import { useEffect, useMemo, useRef } from 'react';
import type { PlotArea } from './Axis.tsx';
import { type Places, pictureColumns } from './places.ts';
import type { ImageAsked } from './series-image.ts';

/** More rows than this cannot be told apart. */
const mostRows = 800;

/** The columns of the picture at this size, and the image that they need, which is told whenever it is another. */
export function useImageAsked(places: Places, area: PlotArea | null, onImage: (asked: ImageAsked) => void) {
  const pixelRatio = window.devicePixelRatio;
  const width = area === null ? null : Math.round(area.width * pixelRatio);
  const rows = area === null ? 0 : Math.min(mostRows, Math.round(area.height * pixelRatio));
  const columns = useMemo(() => (width === null ? null : pictureColumns(places, width)), [places, width]);
  // With a column for each capture a wider window needs no other image.
  const each = columns !== null && columns.captures.length === places.placed.length;
  const kept = useRef<ImageAsked | null>(null);
  const asked = useMemo(() => {
    if (columns === null) return null;
    const before = kept.current;
    const same = before !== null && before.places === places && before.rows === rows;
    if (same && (each ? before.captures.length === places.placed.length : before.captures === columns.captures))
      return before;
    kept.current = { places, captures: columns.captures, rows };
    return kept.current;
  }, [places, columns, each, rows]);
  const tell = useRef(onImage);
  tell.current = onImage;
  useEffect(() => {
    if (asked !== null) tell.current(asked);
  }, [asked]);
  return { columnOf: columns?.columnOf ?? new Int32Array(1).fill(-1), asked };
}
