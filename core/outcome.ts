/** Where in the user's input something stands. Line and column count from 1; `null` where there is none. */
export interface Place {
  readonly file: string;
  readonly line: number | null;
  readonly column: number | null;
}

/** Something the user can cause and can mend: a stable code, its place, and a sentence that says what is wrong and what to do. */
export interface Problem {
  readonly code: string;
  readonly place: Place;
  readonly sentence: string;
}

/** So many problems are told at once; more would be read by nobody. */
export const mostProblems = 20;

/** A value with what was doubtful about it, or the problems that prevented it. */
export type Outcome<T> =
  | { readonly ok: true; readonly value: T; readonly warnings: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export function success<T>(value: T, warnings: readonly Problem[] = []): Outcome<T> {
  return { ok: true, value, warnings };
}

export function failure(...problems: readonly Problem[]): {
  readonly ok: false;
  readonly problems: readonly Problem[];
} {
  return { ok: false, problems };
}

export function problem(code: string, place: Partial<Place> & { readonly file: string }, sentence: string): Problem {
  return { code, place: { file: place.file, line: place.line ?? null, column: place.column ?? null }, sentence };
}

/** `FILE:LINE:COLUMN: sentence`, leaving out what is not known: the form that every door prints. */
export function problemLine(p: Problem): string {
  const { file, line, column } = p.place;
  const place = [file, line, line === null ? null : column].filter((part) => part !== null).join(':');
  return `${place}: ${p.sentence}`;
}
