import { useSyncExternalStore } from 'react';
import type { Scheme } from './colour-map.ts';

/** Light or dark as the page stands now: for what is painted, and so cannot follow the style sheet by itself. */
export function useScheme(): Scheme {
  return useSyncExternalStore(follow, () => (document.documentElement.dataset.scheme === 'dark' ? 'dark' : 'light'));
}

function follow(onChange: () => void): () => void {
  const observer = new MutationObserver(onChange);
  observer.observe(document.documentElement, { attributeFilter: ['data-scheme'] });
  return () => observer.disconnect();
}
