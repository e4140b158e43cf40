import { type Problem, problem } from '../../core/outcome.ts';

/** An error of the host or the worker as a problem: its own words are the sentence. */
export function problemOf(error: unknown): Problem {
  const sentence = error instanceof Error ? error.message : String(error);
  return problem('not-done', { file: 'workbench' }, sentence);
}

/** Something that a person should know and that stops nothing. */
export function note(code: string, file: string, sentence: string): Problem {
  return problem(code, { file }, sentence);
}
