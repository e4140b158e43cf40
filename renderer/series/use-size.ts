import { type RefObject, useEffect, useState } from 'react';

export interface Size {
  readonly width: number;
  readonly height: number;
}

/** The size of an element in CSS pixels, whole, and whenever it changes; `null` until it is known. */
export function useSize(element: RefObject<HTMLElement | null>): Size | null {
  const [size, setSize] = useState<Size | null>(null);
  useEffect(() => {
    const measured = element.current;
    if (measured === null) return;
    const measure = () => {
      const [width, height] = [Math.floor(measured.clientWidth), Math.floor(measured.clientHeight)];
      setSize((before) => (before?.width === width && before.height === height ? before : { width, height }));
    };
    const observer = new ResizeObserver(measure);
    observer.observe(measured);
    measure();
    return () => observer.disconnect();
  }, [element]);
  return size;
}
