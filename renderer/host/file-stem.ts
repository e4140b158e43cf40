/** `Frame 12, butt weld` is no name for a file everywhere: letters, digits and hyphens are. */
export function fileStem(title: string): string {
  const stem = title
    .replace(/\.(json|ascan-review)$/i, '')
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '')
    .slice(0, 60);
  return stem === '' ? 'review' : stem;
}
