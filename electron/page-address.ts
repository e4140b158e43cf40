export const scheme = 'workbench';
export const pageAddress = `${scheme}://app/`;

/**
 * True for the page's own addresses. Scheme and host are compared, never `origin`, which is "null" for a scheme of one's own in Node,
 * and never a prefix, which `workbench://app.elsewhere/` and `workbench://app@elsewhere/` would share.
 */
export function isOwnPage(address: string): boolean {
  if (!URL.canParse(address)) return false;
  const { protocol, host, username, password } = new URL(address);
  return protocol === `${scheme}:` && host === 'app' && username === '' && password === '';
}
