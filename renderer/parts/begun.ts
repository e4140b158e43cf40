/** What the core says in the middle of a line, as a sentence of its own; a name at its beginning stays as it is. */
export function begun(sentence: string): string {
  const [first = ''] = sentence.split(' ', 1);
  const isName = /[/.#"“]/.test(first);
  const words = isName ? sentence : `${sentence.charAt(0).toUpperCase()}${sentence.slice(1)}`;
  return /[.!?]$/.test(words) ? words : `${words}.`;
}
