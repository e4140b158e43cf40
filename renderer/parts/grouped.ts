/** `24 000`: groups of three by a space that does not break, since comma and point are decimal marks to somebody. */
export function grouped(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, '\u00a0');
}
