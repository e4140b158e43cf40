import { styleHash } from '../core/report/page/style.ts';

/**
 * What the page may load, whichever host serves it: its own files and nothing else; no inline script, no other host, no frame around it.
 * Sent as a header, since `frame-ancestors` has no effect in a `<meta>` element (Content Security Policy Level 3, section 6.4.2).
 */
export const contentPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "worker-src 'self'",
  // A report that is shown to be printed inherits this policy: its one style is known by its hash.
  `style-src 'self' '${styleHash}'`,
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** What a page that is printed may do, over and above its own policy: show itself in the report's one style, and nothing else, whatever its text says. */
export const printPolicy = [
  "default-src 'none'",
  `style-src '${styleHash}'`,
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  'sandbox',
].join('; ');

/** The headers of every answer, from the desktop window's own scheme and from the loopback server alike. */
export const pageHeaders = {
  'Content-Security-Policy': contentPolicy,
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cache-Control': 'no-store',
} as const;
