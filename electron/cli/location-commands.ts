import type { Command } from 'commander';
import { choiceOption, numberOption, quantitiesOption, quantityOption } from './arguments.ts';
import { featuresOption, weldOption } from './location-arguments.ts';
import { addConditioningOptions, addImportOptions } from './options.ts';
import {
  type Answering,
  angleUncertainty,
  calibrationFile,
  coupling,
  gates,
  jobs,
  json,
  mode,
  probe,
  simpleAcceptance,
  timing,
  velocity,
} from './shared-options.ts';

/** `locate`: where in the part each echo lies. */
export function addLocateCommand(program: Command, answering: Answering): void {
  addConditioningOptions(
    addImportOptions(
      program
        .command('locate <file...>')
        .description('where in the part each echo lies, and which may be the part’s own')
        .option(...json)
        .option(...jobs)
        .option(...calibrationFile)
        .option(...gates)
        .option(...timing)
        .option(
          '--angle <degrees>',
          'of the beam in the part; 0 for a straight one',
          numberOption('--angle', 0, 89.999),
        )
        .option(...angleUncertainty)
        .option(...mode)
        .option('--thickness <length>', 'of the part, as in 16mm', quantityOption('--thickness', 'length'))
        .option(
          '--thickness-uncertainty <length>',
          'its standard uncertainty (0mm: taken as exact)',
          quantityOption('--thickness-uncertainty', 'length'),
        )
        .option(
          '--outside-radius <length>',
          'of a pipe scanned round its axis (a flat plate)',
          quantityOption('--outside-radius', 'length'),
        )
        .option(
          '--from <side>',
          'a pipe from outside or inside (outside)',
          choiceOption('--from', ['outside', 'inside']),
        )
        .option(
          '--index-to-front <length>',
          'from the front of the wedge back to the index point',
          quantityOption('--index-to-front', 'length'),
        )
        .option(
          '--index-uncertainty <length>',
          'standard uncertainty of where the index point is (0mm)',
          quantityOption('--index-uncertainty', 'length'),
        )
        .option(...probe)
        .option(
          '--wedge-velocity <velocity>',
          'of the wedge, as in 2730m/s',
          quantityOption('--wedge-velocity', 'velocity'),
        )
        .option(...velocity)
        .option('--side <side>', 'where the probe stood: left or right', choiceOption('--side', ['left', 'right']))
        .option(
          '--offset <length>',
          'from the weld’s middle back to the index point, as in 26mm',
          quantityOption('--offset', 'length'),
        )
        .option(
          '--offset-uncertainty <length>',
          'its standard uncertainty (0mm)',
          quantityOption('--offset-uncertainty', 'length'),
        )
        .option(
          '--position <way>',
          'what the captures’ own positions count: along the weld, or away from it (along)',
          choiceOption('--position', ['along', 'away']),
        )
        .option(
          '--weld <preparation>',
          'as in gap=3mm,face=2mm,bevel=30deg,cap=2mm,overlap=1mm,bead=1mm',
          weldOption('--weld'),
        )
        .option('--edge <length>', 'where the plate ends, from the weld’s middle', quantityOption('--edge', 'length'))
        .option(
          '--feature <name=across,depth>',
          'something else that sends an echo, as in counterbore=12mm,14mm; several times',
          featuresOption('--feature'),
        )
        .option(
          '--tolerance <length>',
          'half-width of where weld, edge and features may lie (0.5mm)',
          quantityOption('--tolerance', 'length'),
        )
        .option('--damped <file>', 'the same position with a surface damped, to be held against the one capture')
        .option('--above <percent>', 'least height of the echoes so compared (5)', numberOption('--above', 0.001, 100))
        .option(...coupling),
    ),
  ).action(answering(async () => (await import('./commands/locate.ts')).locate));
}

/** `probe-check`: index point and angle of a probe. */
export function addProbeCheckCommand(program: Command, answering: Answering): void {
  program
    .command('probe-check')
    .description('index point and angle of a probe from readings of a ruler, and the angle expected elsewhere')
    .option(...json)
    .option('--angle <degrees>', 'stated of the probe', numberOption('--angle', 0, 89.999))
    .option('--index <length>', 'stated from the front back to the index point', quantityOption('--index', 'length'))
    .option('--radius <length>', 'of the block’s quadrant, as in 100mm', quantityOption('--radius', 'length'))
    .option(
      '--on-radius <length>',
      'from the front of the wedge to the block’s end with that echo at its highest; several times',
      quantitiesOption('--on-radius', 'length'),
    )
    .option(
      '--hole-depth <length>',
      'of the hole’s centre or the notch’s corner below the probe, as in 70mm',
      quantityOption('--hole-depth', 'length'),
    )
    .option(
      '--hole-from-end <length>',
      'of the same from the block’s end (35mm)',
      quantityOption('--hole-from-end', 'length'),
    )
    .option(
      '--on-hole <length>',
      'from the front of the wedge to the block’s end with that echo at its highest; several times',
      quantitiesOption('--on-hole', 'length'),
    )
    .option(
      '--ruler <length>',
      'standard uncertainty of a reading (0.29mm: read to half a millimetre)',
      quantityOption('--ruler', 'length'),
    )
    .option(
      '--velocity <velocity>',
      'where the angle is known, as in 3255m/s',
      quantityOption('--velocity', 'velocity'),
    )
    .option('--in-velocity <velocity>', 'where the angle is wanted', quantityOption('--in-velocity', 'velocity'))
    .option(
      '--wedge-velocity <velocity>',
      'of the wedge where the angle is known',
      quantityOption('--wedge-velocity', 'velocity'),
    )
    .option(
      '--wedge-then <velocity>',
      'of the wedge where it is wanted, warmer or colder',
      quantityOption('--wedge-then', 'velocity'),
    )
    .option('--rule <name>', 'iso-22232-2, iso-22232-3 or aws-d1.1')
    .option(...simpleAcceptance)
    .action(answering(async () => (await import('./commands/probe-check.ts')).probeCheck));
}
