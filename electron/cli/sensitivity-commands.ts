import type { Command } from 'commander';
import { choiceOption, numberOption } from './arguments.ts';
import { addConditioningOptions, addImportOptions } from './options.ts';
import { levelOption } from './sensitivity-arguments.ts';
import {
  type Answering,
  calibrationFile,
  coupling,
  gainUncertainty,
  gates,
  heightThreshold,
  jobs,
  json,
  probe,
  reflector,
  tolerance,
  velocity,
} from './shared-options.ts';

/** `sensitivity` and `attenuation`: heights over distance. */
export function addSensitivityCommands(program: Command, answering: Answering): void {
  addConditioningOptions(
    addImportOptions(
      program
        .command('sensitivity <file...>')
        .description('a distance-amplitude curve from reference reflectors, and readings held against it')
        .option(...json)
        .option(...jobs)
        .option(...reflector)
        .option(
          '--kind <kind>',
          'what the reflectors are: side-drilled-hole, flat-bottomed-hole, back-wall or other',
          choiceOption('--kind', ['side-drilled-hole', 'flat-bottomed-hole', 'back-wall', 'other']),
        )
        .option(...heightThreshold)
        .option(...tolerance)
        .option(
          '--straight-in <unit>',
          'straight lines between the points in db or in percent (db)',
          choiceOption('--straight-in', ['db', 'percent']),
        )
        .option(
          '--reference <percent>',
          'height of the reference level in % of full screen height (80)',
          numberOption('--reference', 0.001, 100),
        )
        .option(
          '--reference-gain <db>',
          'gain the curve is drawn at (where its highest point stands at the reference height)',
          levelOption('--reference-gain', -200, 200),
        )
        .option(
          '--levels <levels>',
          'iso-11666-level-2, iso-11666-level-3, asme-v-t-482, minus-6-minus-14, a file of your own, or name=-14dB,…',
        )
        .option(
          '--transfer <db>',
          'loss from block to part, added to each reading (0dB)',
          levelOption('--transfer', -60, 60),
        )
        .option(
          '--transfer-uncertainty <db>',
          'its standard uncertainty (0dB)',
          levelOption('--transfer-uncertainty', 0, 60),
        )
        .option(...coupling)
        .option(...gainUncertainty)
        .option(...probe)
        .option(...velocity)
        .option(...calibrationFile)
        .option('--read <file...>', 'captures of the part to hold against the curve, with --gate and --calibration')
        .option(...gates)
        .option(
          '--off-peak <db>',
          'from how far below the peak of their series readings are flagged (1)',
          numberOption('--off-peak', 0.01, 60),
        )
        .option('--separate', 'the captures to be read are of different reflectors: hold none against another')
        .option('--simple-acceptance', 'hold values against levels without their uncertainty'),
    ),
  ).action(answering(async () => (await import('./commands/sensitivity.ts')).sensitivity));

  addConditioningOptions(
    addImportOptions(
      program
        .command('attenuation <file...>')
        .description('apparent attenuation from two echoes of one back wall')
        .option(...json)
        .option(...jobs)
        .option(...reflector)
        .option(...heightThreshold)
        .option(...tolerance)
        .option(...coupling)
        .option(...gainUncertainty)
        .option(...probe)
        .option(...velocity)
        .option('--calibration <file>', 'takes the velocity from it, where --velocity does not give one'),
    ),
  ).action(answering(async () => (await import('./commands/attenuation.ts')).attenuation));
}
