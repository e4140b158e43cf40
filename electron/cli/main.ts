import { Command, CommanderError } from 'commander';
import { problem } from '../../core/outcome.ts';
import { caution, give, report } from './answer.ts';
import { addDistanceCommands, addDriftCommand } from './distance-commands.ts';
import { addEvidenceCommands } from './evidence-commands.ts';
import { writeFailures } from './failures.ts';
import { endWithoutThreads, Interrupted } from './interrupt.ts';
import { type LargeJobOptions, writtenAs } from './large-job.ts';
import { addLinearityCommands } from './linearity-commands.ts';
import { addLocateCommand, addProbeCheckCommand } from './location-commands.ts';
import { addProbeCommands } from './probe-commands.ts';
import { Refusal } from './refusal.ts';
import { addScanCommands } from './scan-commands.ts';
import { addSensitivityCommands } from './sensitivity-commands.ts';
import type { Answering, Loading } from './shared-options.ts';
import { watchOutputs } from './standard-output.ts';
import { giveStream } from './streamed-answer.ts';
import { printable, printableLines } from './table.ts';
import { refuseToOverwrite, refuseToOverwriteInputs } from './write-output.ts';

let status = 0;

watchOutputs();

/** Loads a command, runs it and remembers its exit status: of the program only what was asked for is read. */
const answering: Answering = <A extends unknown[]>(load: Loading<A>) => {
  return async (...args: A) => {
    const run = await load();
    const options: LargeJobOptions = args.find((arg) => typeof arg === 'object' && !Array.isArray(arg)) ?? {};
    const { failures, replace = false } = options;
    if (failures !== undefined) refuseToOverwrite(failures, replace);
    const words = args.flat().filter((word) => typeof word === 'string');
    refuseToOverwriteInputs(words, { ...options });
    const answer = await run(...args);
    const given =
      'additions' in answer ? await giveStream(answer, writtenAs(options)) : await give(answer, options.json === true);
    status = given.status;
    if (failures !== undefined) await writeFailures(failures, given.problems, replace);
  };
};

const program = new Command('cli')
  .description(
    'Distance calibration, readings that say whether to trust them, and drift checks, from saved ultrasonic A-scans.',
  )
  .addHelpText('after', `\n${caution}`)
  .showHelpAfterError('(add --help for what can be given)')
  .configureHelp({ showGlobalOptions: true })
  // An argument that is not understood is said again, and may be the name of any file.
  .configureOutput({
    writeErr: (words) => process.stderr.write(printableLines(words)),
    outputError: (words, write) =>
      write(
        `${words
          .trimEnd()
          .split(/\n(?=\(Did you mean )/)
          .map(printable)
          .join('\n')}\n`,
      ),
  })
  .exitOverride();

addDistanceCommands(program, answering);
addLocateCommand(program, answering);
addDriftCommand(program, answering);
addSensitivityCommands(program, answering);
addScanCommands(program, answering);
addProbeCommands(program, answering);
addProbeCheckCommand(program, answering);
addLinearityCommands(program, answering);
addEvidenceCommands(program, answering);

program
  .command('blocks')
  .description('the reference blocks that calibrate --block knows')
  .action(async () => (await import('./commands/blocks.ts')).blocks());

try {
  await program.parseAsync();
} catch (error) {
  status = 2;
  if (error instanceof Refusal) report(error.problems);
  else if (error instanceof Interrupted) {
    status = error.status;
    endWithoutThreads(error);
    process.stderr.write(`${printable(error.sentence)}\n`);
  } else if (error instanceof CommanderError) {
    if (error.exitCode === 0) status = 0;
  } else
    report([
      problem(
        'failure',
        { file: 'cli' },
        `the program failed (${error instanceof Error ? error.stack : error}); this is our mistake`,
      ),
    ]);
}
process.exitCode = status;
