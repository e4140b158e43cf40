import { randomUUID } from 'node:crypto';

/**
 * The paths that the page may speak of, each by a token that says nothing. The page never learns a path and can name none:
 * what it asks for was chosen by the person in a dialog, stands among the recent reviews, or lies beside a review that was.
 */
export interface Tokens {
  /** The same path has the same token for as long as the program runs, as long as its file is in the same state where one is told. */
  tokenOf(path: string, state?: string): string;
  /** Throws for a token that was never given out. */
  pathOf(token: string): string;
}

export function tokens(): Tokens {
  const paths = new Map<string, string>();
  const known = new Map<string, string>();
  return {
    tokenOf(path, state = '') {
      // No path holds a NUL.
      const key = `${path}\0${state}`;
      const token = known.get(key) ?? randomUUID();
      known.set(key, token);
      paths.set(token, path);
      return token;
    },
    pathOf(token) {
      const path = paths.get(token);
      if (path === undefined) throw new Error('There is no file behind this token.');
      return path;
    },
  };
}
