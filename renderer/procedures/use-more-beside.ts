import { type RefObject, useEffect, useState } from 'react';

/** Whether more of what scrolls stands beyond its right edge: what is cut off there is not to be taken for whole. */
export function useMoreBeside(scroller: RefObject<HTMLElement | null>): boolean {
  const [isMore, setMore] = useState(false);
  useEffect(() => {
    const element = scroller.current;
    if (element === null) return;
    const look = () => setMore(element.scrollLeft + element.clientWidth < element.scrollWidth - 1);
    const sized = new ResizeObserver(look);
    sized.observe(element);
    for (const child of element.children) sized.observe(child);
    element.addEventListener('scroll', look, { passive: true });
    return () => {
      sized.disconnect();
      element.removeEventListener('scroll', look);
    };
  }, [scroller]);
  return isMore;
}
