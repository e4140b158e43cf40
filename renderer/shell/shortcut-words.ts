const words: Readonly<Record<string, string>> = {
  ArrowUp: '↑',
  ArrowDown: '↓',
  ArrowLeft: '←',
  ArrowRight: '→',
};

/** `$mod+Shift+z` as it is written on the keys: `Ctrl+Shift+Z`, on a Mac `⇧⌘Z`. */
export function shortcutWords(shortcut: string, isMac: boolean): string {
  const keys = shortcut.split('+').map((key) => words[key] ?? key.replace(/^(Digit|Key)/, ''));
  const shown = keys.map((key) => (key.length === 1 ? key.toUpperCase() : key));
  if (!isMac) return shown.join('+').replace('$mod', 'Ctrl');
  const signs: Readonly<Record<string, string>> = { $mod: '⌘', Shift: '⇧', Alt: '⌥' };
  // Apple's order: Option, Shift, Command.
  const order = ['Alt', 'Shift', '$mod'];
  const modifiers = order.filter((modifier) => keys.includes(modifier)).map((modifier) => signs[modifier]);
  return [...modifiers, ...shown.filter((key) => !order.includes(key))].join('');
}

export const isMac = typeof navigator !== 'undefined' && /^(Mac|iP)/.test(navigator.platform);
