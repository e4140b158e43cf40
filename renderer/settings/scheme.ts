export type Theme = 'system' | 'light' | 'dark';

/** Sets the page's scheme from what the person chose, and follows the system where that is the choice; the answer stops the following. */
export function followScheme(theme: Theme): () => void {
  const system = window.matchMedia('(prefers-color-scheme: dark)');
  const set = (): void => {
    document.documentElement.dataset.scheme =
      theme === 'dark' || (theme === 'system' && system.matches) ? 'dark' : 'light';
  };
  set();
  system.addEventListener('change', set);
  return () => system.removeEventListener('change', set);
}
