/** What a key does to the place in a row of `count` things: one on, one back, a page, or to an end; `null` for any other key. */
export function placeAfterKey(
  key: string,
  place: number | null,
  count: number,
  keys: { readonly back: string; readonly on: string; readonly page: number },
): number | null {
  if (count === 0) return null;
  const clamped = (wanted: number) => Math.min(count - 1, Math.max(0, wanted));
  switch (key) {
    case keys.on:
      return clamped(place === null ? 0 : place + 1);
    case keys.back:
      return clamped(place === null ? count - 1 : place - 1);
    case 'PageDown':
      return clamped((place ?? 0) + keys.page);
    case 'PageUp':
      return clamped((place ?? 0) - keys.page);
    case 'Home':
      return 0;
    case 'End':
      return count - 1;
    default:
      return null;
  }
}
