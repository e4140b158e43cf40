import type { Command } from 'commander';
import { choiceOption, gatesOption, numberOption, quantityOption } from './arguments.ts';
import { addConditioningOptions, addImportOptions } from './options.ts';
import { methodOption, referenceOption } from './scan-arguments.ts';
import { levelOption } from './sensitivity-arguments.ts';
import { type Answering, angleUncertainty, calibrationFile, jobs, json, replace } from './shared-options.ts';

/** `size` and `indications`: what stands above a level along a scan. */
export function addScanCommands(program: Command, answering: Answering): void {
  addScanOptions(
    program
      .command('size <file...>')
      .description('the length of each indication along a scan, by the fall of its echo'),
  ).action(answering(async () => (await import('./commands/size.ts')).size));

  addScanOptions(
    program
      .command('indications <file...>')
      .description('each indication of a scan: place, length, amplitude against a reference, rating')
      .option(
        '--reference <level>',
        'how high the reference reflector stood at which gain, as in 80@44dB',
        referenceOption('--reference'),
      )
      .option(
        '--scanning-gain <db>',
        'gain added for scanning, taken out where captures do not state theirs',
        levelOption('--scanning-gain', -60, 60),
      )
      .option(
        '--rating <form>',
        'attenuation factor and indication rating by AWS D1.1’s arithmetic: inch or si',
        choiceOption('--rating', ['inch', 'si']),
      )
      .option('--no-floor', 'let the attenuation factor fall below 0 nearer than 1 in (25 mm)')
      .option('--angle <degrees>', 'refracted angle of the beam', numberOption('--angle', 0, 89.999))
      .option(...angleUncertainty)
      .option('--thickness <length>', 'of the plate, as in 16mm', quantityOption('--thickness', 'length'))
      .option('--csv <file>', 'write the table as CSV to this file, too')
      .option(...replace),
  ).action(answering(async () => (await import('./commands/indications.ts')).indications));
}

function addScanOptions(command: Command): Command {
  return addConditioningOptions(
    addImportOptions(
      command
        .option(...json)
        .option(...jobs)
        .option(...calibrationFile)
        .option(
          '--gate <gate>',
          'the sound paths looked at and the level of the proposals, as in weld=20mm..60mm@20',
          gatesOption('--gate'),
        )
        .option(
          '--above-curve <db>',
          'propose from so many dB above the distance-amplitude curve on (below it negative), in place of the threshold',
          levelOption('--above-curve', -60, 60),
        )
        .option(
          '--method <method>',
          'drop-6-db, drop-20-db, half-of-curve, or fixed-level=20 in % FSH (drop-6-db)',
          methodOption('--method'),
        )
        .option(
          '--beam-width <length>',
          'full width of the beam at the reflector, at the level of the drop',
          quantityOption('--beam-width', 'length'),
        )
        .option(
          '--beam-width-uncertainty <length>',
          'its standard uncertainty (0mm)',
          quantityOption('--beam-width-uncertainty', 'length'),
        )
        .option(
          '--position-uncertainty <length>',
          'standard uncertainty of a position along the scan (0mm)',
          quantityOption('--position-uncertainty', 'length'),
        )
        .option('--sensitivity <review>', 'reference level and curve of a saved review'),
    ),
  );
}
