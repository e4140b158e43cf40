import type { Command } from 'commander';
import { type Answering, json, replace } from './shared-options.ts';

/** `evaluate`, `report`, `package` and `verify`: what follows from a saved review, and what is kept of it. */
export function addEvidenceCommands(program: Command, answering: Answering): void {
  program
    .command('evaluate <review>')
    .description('everything that follows from a saved review')
    .option(...json)
    .action(answering(async () => (await import('./commands/evaluate.ts')).evaluateReview));

  program
    .command('report <review>')
    .description('the report of a saved review as one page, to be read, printed and signed')
    .option(...json)
    .option('--out <folder>', 'where report.html is written')
    .option(...replace)
    .action(answering(async () => (await import('./commands/report.ts')).report));

  program
    .command('package <review>')
    .description('captures, review, results and report in one ZIP file that can be verified years later')
    .option(...json)
    .option('--out <file>', 'the ZIP file to be written')
    .option(...replace)
    .action(answering(async () => (await import('./commands/package.ts')).packageReview));

  program
    .command('verify <package>')
    .description('every hash and every result of a package worked out anew, and where they differ')
    .option(...json)
    .action(answering(async () => (await import('./commands/verify.ts')).verify));
}
