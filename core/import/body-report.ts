import { mostProblems, type Problem, problem } from '../outcome.ts';

/** What is wrong with a body, up to a number of problems, and what is doubtful about it, each kind once. */
export class BodyReport {
  readonly problems: Problem[] = [];
  readonly warnings: Problem[] = [];
  private readonly warned = new Set<string>();
  private readonly file: string;

  constructor(file: string) {
    this.file = file;
  }

  /** @returns whether there are so many problems that reading is to stop */
  add(code: string, line: number, column: number | null, sentence: string): boolean {
    if (this.problems.length >= mostProblems) return true;
    this.problems.push(problem(code, { file: this.file, line, column }, sentence));
    if (this.problems.length !== mostProblems - 1) return false;
    this.problems.push(
      problem(
        'more-problems',
        { file: this.file, line, column: null },
        `After ${mostProblems - 1} problems reading stopped here; there may be more. Mend these first.`,
      ),
    );
    return true;
  }

  warnOnce(code: string, line: number, sentence: string): void {
    if (this.warned.has(code)) return;
    this.warned.add(code);
    this.warnings.push(problem(code, { file: this.file, line, column: null }, sentence));
  }
}
