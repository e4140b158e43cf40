const words = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

/** `2 Mar 2026, 06:05` in the person's own time; the text itself where it is no instant. */
export function instantWords(at: string): string {
  const instant = new Date(at);
  return Number.isNaN(instant.getTime()) ? at : words.format(instant);
}
