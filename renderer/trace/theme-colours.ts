/** Of the scheme in force: to ask the page makes it work out all its styles, amid a frame. */
let known: { readonly scheme: string | undefined; readonly values: Map<string, string> } = {
  scheme: undefined,
  values: new Map(),
};

/** A custom property of the theme, for what is painted on a canvas. */
export function themeColour(property: string): string {
  const root = document.documentElement;
  const { scheme } = root.dataset;
  if (known.scheme !== scheme) known = { scheme, values: new Map() };
  let value = known.values.get(property);
  if (value === undefined) {
    value = getComputedStyle(root).getPropertyValue(property).trim();
    known.values.set(property, value);
  }
  return value;
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
