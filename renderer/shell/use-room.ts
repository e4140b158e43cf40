import { useSyncExternalStore } from 'react';

/**
 * How much room there is, in CSS pixels, so that a zoomed page counts as a small one.
 * `wide`: captures, trace and procedures beside one another; `middle`: the trace and one of the two; `narrow`: one at a time.
 */
export type Room = 'wide' | 'middle' | 'narrow';

const wide = '(min-width: 1200px)';
const middle = '(min-width: 820px)';

export function useRoom(): Room {
  return useSyncExternalStore(subscribe, room);
}

function room(): Room {
  if (window.matchMedia(wide).matches) return 'wide';
  return window.matchMedia(middle).matches ? 'middle' : 'narrow';
}

function subscribe(changed: () => void): () => void {
  const queries = [wide, middle].map((query) => window.matchMedia(query));
  for (const query of queries) query.addEventListener('change', changed);
  return () => {
    for (const query of queries) query.removeEventListener('change', changed);
  };
}
