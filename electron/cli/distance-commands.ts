import type { Command } from 'commander';
import { numberOption, quantityOption } from './arguments.ts';
import { addConditioningOptions, addImportOptions } from './options.ts';
import {
  type Answering,
  angleUncertainty,
  calibrationFile,
  failures,
  gates,
  heightThreshold,
  jobs,
  json,
  lines,
  list,
  mode,
  reflector,
  replace,
  resume,
  simpleAcceptance,
  timing,
  tolerance,
} from './shared-options.ts';

function addLargeJobOptions(command: Command): Command {
  return command
    .optionsGroup('Large jobs:')
    .option(...list)
    .option(...lines)
    .option(...resume)
    .option(...failures)
    .option(...replace);
}

/** `describe`, `echoes`, `calibrate` and `read`: from files to readings. */
export function addDistanceCommands(program: Command, answering: Answering): void {
  addLargeJobOptions(
    addImportOptions(
      program
        .command('describe [file...]')
        .description('what was understood of each file')
        .option(...json)
        .option(...jobs)
        .option('--save-recipe <file>', 'save what was understood of the first file, for the next file of its shape'),
    ),
  ).action(answering(async () => (await import('./commands/describe.ts')).describe));

  addLargeJobOptions(
    addConditioningOptions(
      addImportOptions(
        program
          .command('echoes [file...]')
          .description('the echoes found in each capture')
          .option(...json)
          .option(...jobs)
          .option('--from <time>', 'from when on, as in 20us', quantityOption('--from', 'time'))
          .option('--to <time>', 'until when', quantityOption('--to', 'time'))
          .option(
            '--above <percent>',
            'least height in % of full screen height (5)',
            numberOption('--above', 0.001, 1000),
          ),
      ),
    ),
  ).action(answering(async () => (await import('./commands/echoes.ts')).echoes));

  addConditioningOptions(
    addImportOptions(
      program
        .command('calibrate <file...>')
        .description('velocity and zero offset from known reflectors')
        .option(...json)
        .option(...jobs)
        .option(...reflector)
        .option('--block <name>', 'a published block in place of the reflectors (the command blocks lists them)')
        .option(
          '--threshold <percent>',
          'least height, and the crossing where that is timed (20)',
          numberOption('--threshold', 0.001, 100),
        )
        .option(...timing)
        .option(...tolerance)
        .option('--material <name>', 'material for the nominal velocity, with --mode')
        .option(...mode),
    ),
  ).action(answering(async () => (await import('./commands/calibrate.ts')).calibrate));

  addLargeJobOptions(
    addConditioningOptions(
      addImportOptions(
        program
          .command('read [file...]')
          .description('each gate in each capture, and which readings stand off the peak')
          .option(...json)
          .option(...jobs)
          .option(...calibrationFile)
          .option(...gates)
          .option(...timing)
          .option('--angle <degrees>', 'refracted angle of the beam', numberOption('--angle', 0, 89.999))
          .option(...angleUncertainty)
          .option('--thickness <length>', 'of the plate, as in 16mm', quantityOption('--thickness', 'length'))
          .option(
            '--off-peak <db>',
            'from how far below the peak a reading is flagged (1)',
            numberOption('--off-peak', 0.01, 60),
          )
          .option('--separate', 'the captures are of different reflectors: hold none against another')
          .option(
            '--echoes-above <percent>',
            'list the echoes above this height too',
            numberOption('--echoes-above', 0.001, 1000),
          ),
      ),
    ),
  ).action(answering(async () => (await import('./commands/read.ts')).read));
}

/** `drift`: checks held against the calibration. */
export function addDriftCommand(program: Command, answering: Answering): void {
  addLargeJobOptions(
    addConditioningOptions(
      addImportOptions(
        program
          .command('drift [file...]')
          .description('check captures against the calibration')
          .option(...json)
          .option(...jobs)
          .option(...calibrationFile)
          .option(...reflector)
          .option(
            '--amplitude <percent>',
            'height of the highest of these reflectors at calibration',
            numberOption('--amplitude', 0.001, 100),
          )
          .option(...heightThreshold)
          .option('--range <length>', 'the full sweep, as in 250mm', quantityOption('--range', 'length'))
          .option('--rule <name or file>', 'asme-v-t-466, iso-17640, or the path of a rule file of your own')
          .option(...simpleAcceptance),
      ),
    ),
  ).action(answering(async () => (await import('./commands/drift.ts')).drift));
}
