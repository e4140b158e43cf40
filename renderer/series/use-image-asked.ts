import { useEffect, useMemo, useRef } from 'react';
import type { PlotArea } from './Axis.tsx';
import { type PictureColumns, type Places, pictureColumns } from './places.ts';
import type { ImageAsked } from './series-image.ts';

const noColumns: PictureColumns = { captures: [], columnOf: new Int32Array(1).fill(-1), each: false };

/** More rows than this cannot be told apart. */
const mostRows = 800;

/** The columns of the picture at this size, and the image that they need, which is told whenever it is another. */
export function useImageAsked(places: Places, area: PlotArea | null, onImage: (asked: ImageAsked) => void) {
  const pixelRatio = window.devicePixelRatio;
  const width = area === null ? null : Math.round(area.width * pixelRatio);
  const rows = area === null ? 0 : Math.min(mostRows, Math.round(area.height * pixelRatio));
  const columns = useMemo(() => (width === null ? null : pictureColumns(places, width)), [places, width]);
  const kept = useRef<ImageAsked | null>(null);
  const asked = useMemo(() => {
    if (columns === null) return null;
    const before = kept.current;
    const same = before !== null && before.places === places && before.rows === rows;
    // With a column for each capture a wider window needs no other image.
    if (same && (columns.each ? before.each : before.captures === columns.captures)) return before;
    kept.current = { ...columns, places, rows };
    return kept.current;
  }, [places, columns, rows]);
  const tell = useRef(onImage);
  tell.current = onImage;
  useEffect(() => {
    if (asked !== null) tell.current(asked);
  }, [asked]);
  return { columns: columns ?? noColumns, asked };
}
