/** A custom property of the theme, for what is painted on a canvas. */
export function themeColour(property: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(property).trim();
}

/** Tells when the theme's colours, or the typeface, have become others, so that a canvas must be painted anew. */
export function onThemeChange(changed: () => void): () => void {
  const scheme = new MutationObserver(changed);
  scheme.observe(document.documentElement, { attributes: true, attributeFilter: ['data-scheme'] });
  document.fonts.addEventListener('loadingdone', changed);
  return () => {
    scheme.disconnect();
    document.fonts.removeEventListener('loadingdone', changed);
  };
}
