import { Command, CommanderError } from 'commander';
import { problem } from '../../core/outcome.ts';
import { type Answer, caution, give, report } from './answer.ts';
import {
  choiceOption,
  gatesOption,
  numberOption,
  quantitiesOption,
  quantityOption,
  reflectorsOption,
} from './arguments.ts';
import { addLinearityCommands } from './linearity-commands.ts';
import { featuresOption, weldOption } from './location-arguments.ts';
import { addConditioningOptions, addImportOptions } from './options.ts';
import { addProbeCommands } from './probe-commands.ts';
import { Refusal } from './refusal.ts';
import { addScanCommands } from './scan-commands.ts';
import { levelOption, probeOption } from './sensitivity-arguments.ts';

let status = 0;

/** Loads a command, runs it and remembers its exit status: of the program only what was asked for is read. */
function answering<A extends unknown[]>(
  load: () => Promise<(...args: A) => Answer | Promise<Answer>>,
): (...args: A) => Promise<void> {
  return async (...args) => {
    const run = await load();
    const options = args.find(
      (arg): arg is A[number] & { json?: boolean } => typeof arg === 'object' && !Array.isArray(arg),
    );
    status = give(await run(...args), options?.json === true);
  };
}

const jobs = ['--jobs <count>', 'threads to use (as many as pay)', numberOption('--jobs', 1, 64)] as const;
const timing = ['--timing <rule>', 'peak or crossing', choiceOption('--timing', ['peak', 'crossing'])] as const;
const reflector = [
  '--reflector <distance@window>',
  'a known reflector, as in 100mm@55us..75us; several times',
  reflectorsOption('--reflector'),
] as const;
const heightThreshold = [
  '--threshold <percent>',
  'least height of a reflector’s echo (5)',
  numberOption('--threshold', 0.001, 100),
] as const;
const tolerance = [
  '--tolerance <length>',
  'half-width of the tolerance on the distances (taken as exact)',
  quantityOption('--tolerance', 'length'),
] as const;
const coupling = [
  '--coupling <db>',
  'standard uncertainty of a height by the coupling (0dB: the noise alone counts)',
  levelOption('--coupling', 0, 60),
] as const;
const gainUncertainty = [
  '--gain-uncertainty <db>',
  'standard uncertainty of one gain against another (0dB: taken as exact)',
  levelOption('--gain-uncertainty', 0, 60),
] as const;
const probe = ['--probe <element,frequency>', 'for the near field, as in 10mm,4MHz', probeOption('--probe')] as const;
const velocity = [
  '--velocity <velocity>',
  'in the material, as in 5920m/s (that of the calibration)',
  quantityOption('--velocity', 'velocity'),
] as const;
const json = ['--json', 'one JSON document on standard output'] as const;
const replace = ['--replace', 'write over what stands there already'] as const;

const program = new Command('cli')
  .description(
    'Distance calibration, readings that say whether to trust them, and drift checks, from saved ultrasonic A-scans.',
  )
  .addHelpText('after', `\n${caution}`)
  .showHelpAfterError('(add --help for what can be given)')
  .configureHelp({ showGlobalOptions: true })
  .exitOverride();

addImportOptions(
  program
    .command('describe <file...>')
    .description('what was understood of each file')
    .option(...json)
    .option('--save-recipe <file>', 'save what was understood of the first file, for the next file of its shape'),
).action(answering(async () => (await import('./commands/describe.ts')).describe));

addConditioningOptions(
  addImportOptions(
    program
      .command('echoes <file...>')
      .description('the echoes found in each capture')
      .option(...json)
      .option(...jobs)
      .option('--from <time>', 'from when on, as in 20us', quantityOption('--from', 'time'))
      .option('--to <time>', 'until when', quantityOption('--to', 'time'))
      .option('--above <percent>', 'least height in % of full screen height (5)', numberOption('--above', 0.001, 1000)),
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
      .option(
        '--tolerance <length>',
        'half-width of the tolerance on the distances (taken as exact)',
        quantityOption('--tolerance', 'length'),
      )
      .option('--material <name>', 'material for the nominal velocity, with --mode')
      .option('--mode <mode>', 'longitudinal or transverse', choiceOption('--mode', ['longitudinal', 'transverse'])),
  ),
).action(answering(async () => (await import('./commands/calibrate.ts')).calibrate));

addConditioningOptions(
  addImportOptions(
    program
      .command('read <file...>')
      .description('each gate in each capture, and which readings stand off the peak')
      .option(...json)
      .option(...jobs)
      .option('--calibration <file>', 'the document that calibrate --json printed')
      .option(
        '--gate <gate>',
        'name=from..to@threshold, as in weld=20mm..80mm@30; several times',
        gatesOption('--gate'),
      )
      .option(...timing)
      .option('--angle <degrees>', 'refracted angle of the beam', numberOption('--angle', 0, 89.999))
      .option('--angle-uncertainty <degrees>', 'its standard uncertainty', numberOption('--angle-uncertainty', 0, 45))
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
).action(answering(async () => (await import('./commands/read.ts')).read));

addConditioningOptions(
  addImportOptions(
    program
      .command('locate <file...>')
      .description('where in the part each echo lies, and which may be the part’s own')
      .option(...json)
      .option(...jobs)
      .option('--calibration <file>', 'the document that calibrate --json printed')
      .option(
        '--gate <gate>',
        'name=from..to@threshold, as in weld=20mm..80mm@30; several times',
        gatesOption('--gate'),
      )
      .option(...timing)
      .option('--angle <degrees>', 'of the beam in the part; 0 for a straight one', numberOption('--angle', 0, 89.999))
      .option('--angle-uncertainty <degrees>', 'its standard uncertainty', numberOption('--angle-uncertainty', 0, 45))
      .option('--mode <mode>', 'longitudinal or transverse', choiceOption('--mode', ['longitudinal', 'transverse']))
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
      .option('--from <side>', 'a pipe from outside or inside (outside)', choiceOption('--from', ['outside', 'inside']))
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

addConditioningOptions(
  addImportOptions(
    program
      .command('drift <file...>')
      .description('check captures against the calibration')
      .option(...json)
      .option(...jobs)
      .option('--calibration <file>', 'the document that calibrate --json printed')
      .option(...reflector)
      .option(
        '--amplitude <percent>',
        'height of the highest of these reflectors at calibration',
        numberOption('--amplitude', 0.001, 100),
      )
      .option(
        '--threshold <percent>',
        'least height of a reflector’s echo (5)',
        numberOption('--threshold', 0.001, 100),
      )
      .option('--range <length>', 'the full sweep, as in 250mm', quantityOption('--range', 'length'))
      .option('--rule <name or file>', 'asme-v-t-466, iso-17640, or the path of a rule file of your own')
      .option('--simple-acceptance', 'let the value alone decide, without its uncertainty'),
  ),
).action(answering(async () => (await import('./commands/drift.ts')).drift));

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
      .option('--calibration <file>', 'the document that calibrate --json printed')
      .option('--read <file...>', 'captures of the part to hold against the curve, with --gate and --calibration')
      .option(
        '--gate <gate>',
        'name=from..to@threshold, as in weld=20mm..80mm@30; several times',
        gatesOption('--gate'),
      )
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

addScanCommands(program, answering);

addProbeCommands(program, answering);

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
  .option('--velocity <velocity>', 'where the angle is known, as in 3255m/s', quantityOption('--velocity', 'velocity'))
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
  .option('--simple-acceptance', 'let the value alone decide, without its uncertainty')
  .action(answering(async () => (await import('./commands/probe-check.ts')).probeCheck));

addLinearityCommands(program, answering);

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

program
  .command('blocks')
  .description('the reference blocks that calibrate --block knows')
  .action(async () => (await import('./commands/blocks.ts')).blocks());

try {
  await program.parseAsync();
} catch (error) {
  status = 2;
  if (error instanceof Refusal) report(error.problems);
  else if (error instanceof CommanderError) {
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
