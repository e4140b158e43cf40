import { type Problem, problem } from '../../core/outcome.ts';

/** What ends a command with exit status 2: the input or the arguments cannot be used, and nothing has been printed. */
export class Refusal extends Error {
  constructor(readonly problems: readonly Problem[]) {
    super('refused');
  }
}

/** Refuses an argument, naming it as the place. */
export function refuseArgument(name: string, sentence: string): never {
  throw new Refusal([problem('argument', { file: name }, sentence)]);
}
