/** A figure in a line of words: the true minus sign before it, as the trade writes it, and its unit never on a line of its own. */
export function inWords(text: string): string {
  return text.replace(/(^|[\s(])-(?=\d)/g, '$1−').replace(/(\d) (?=[%°µa-zA-Z])/g, '$1\u00a0');
}
