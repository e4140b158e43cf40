import { readFileSync } from 'node:fs';
import { basename, dirname, join, normalize } from 'node:path';
import { readStepTable, type StepTableFile } from '../../core/linearity/read-step-table.ts';
import { type LinearityRule, readLinearityRule, rulesFor } from '../../core/linearity/rule.ts';
import type { StepFault } from '../../core/linearity/step-table.ts';
import { type Problem, problem } from '../../core/outcome.ts';
import type { StepTable, TimeBaseDecision } from '../../core/review/linearity-decision.ts';
import type { CaptureFacts } from '../../core/steps/examine.ts';
import { readText, usable } from './gather.ts';
import { Refusal, refuseArgument } from './refusal.ts';

/** A published rule of a check by its name, or the path of a rule file of one's own. */
export function linearityRuleFrom(words: string | undefined, check: LinearityRule['check']): TimeBaseDecision['rule'] {
  if (words === undefined) return null;
  const names = rulesFor(check).map(({ name }) => name);
  if (names.includes(words)) return { kind: 'published', name: words };
  if (!/[./\\]/.test(words) || /^[a-z0-9.-]+$/.test(words))
    refuseArgument(
      '--rule',
      `"${words}" is no published rule for this check (${names.join(', ')}) and not the path of a rule file, as in ./own-rule.json`,
    );
  return { kind: 'own', rule: usable(readLinearityRule(words, readText(words).text)).value };
}

/** A step table with its rows as references to the captures that were examined. */
export interface StepsGiven {
  readonly table: StepTable | null;
  readonly problems: readonly Problem[];
  /** A fault that was found among the captures, at its line and column. */
  readonly located: (fault: StepFault) => Problem;
}

/** Reads the step table, if there is one, and finds its captures: by the name as given, beside the table, or by a base name that only one of them has. */
export function stepsFrom(file: string | undefined, captures: readonly CaptureFacts[]): StepsGiven {
  if (file === undefined)
    return {
      table: null,
      problems: [],
      located: ({ code, sentence }) => problem(code, { file: 'step table' }, sentence),
    };
  const read = usable(readStepTable(file, bytesOf(file))).value;
  const rows = read.rows.map(({ capture, db }) => ({ capture: referenceTo(capture, file, captures), db }));
  return {
    table: { states: read.states, rows },
    problems: read.problems,
    located: (fault) => locatedFault(fault, file, read),
  };
}

function locatedFault({ row, code, sentence }: StepFault, file: string, read: StepTableFile): Problem {
  const { line, column } = read.rows[row];
  return problem(code, { file, line, column: code === 'step-contradicts-capture' ? column : 1 }, sentence);
}

function bytesOf(file: string): Uint8Array {
  try {
    return readFileSync(file);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new Refusal([problem('unreadable', { file }, `the step table cannot be read (${reason})`)]);
  }
}

function referenceTo(named: string, table: string, captures: readonly CaptureFacts[]): string {
  const [file, trace] = split(named, captures);
  const beside = normalize(join(dirname(table), file));
  const files = [...new Set(captures.map((capture) => capture.file))];
  const alike = files.filter((of) => basename(of) === basename(file));
  const found =
    files.find((of) => of === file) ??
    files.find((of) => normalize(of) === beside) ??
    (alike.length === 1 ? alike[0] : undefined);
  if (found === undefined) return named;
  const capture = captures.find((of) => of.file === found && of.trace === trace);
  return trace === null ? found : (capture?.captureId ?? named);
}

function split(named: string, captures: readonly CaptureFacts[]): [file: string, trace: string | null] {
  const hash = named.lastIndexOf('#');
  if (hash < 0 || captures.some(({ file }) => basename(file) === basename(named))) return [named, null];
  return [named.slice(0, hash), named.slice(hash + 1)];
}
