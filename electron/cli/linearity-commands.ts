import type { Command } from 'commander';
import type { TimeBaseDecision } from '../../core/review/linearity-decision.ts';
import { parseNumber, parseQuantity, refused } from '../../core/units/parse-quantity.ts';
import { choiceOption, numberOption, option, quantityOption, reflectorsOption, spanOption } from './arguments.ts';
import { addConditioningOptions, addImportOptions } from './options.ts';
import { type Answering, jobs, json, simpleAcceptance } from './shared-options.ts';

type Action = (words: string[], options: object) => Promise<void>;
const steps = [
  '--steps <file>',
  'a CSV with the columns file and gain_db, change_db or attenuator_db, a row for each step in its order',
] as const;
const window = ['--window <span>', 'where the echo is, as in 10us..12us', spanOption('--window', 'time')] as const;

/** The full range, in time or in sound path. */
const rangeOption = option<NonNullable<TimeBaseDecision['range']>>('--range', (text) => {
  if (parseNumber(text).ok)
    return refused(`"${text}" has no unit, and a unit is never guessed; write it as in 84.5us or 250mm`);
  const time = parseQuantity(text, 'time');
  if (time.ok && time.value > 0) return { ok: true, value: { axis: 'time', widthUs: time.value } };
  const path = parseQuantity(text, 'length');
  if (path.ok && path.value > 0) return { ok: true, value: { axis: 'path', widthMm: path.value } };
  return refused(`"${text}" is not the width of a time base; write a time or a length, as in 84.5us or 250mm`);
});

/** `linearity time-base`, `linearity screen-height` and `linearity gain`: what their options are, and which command answers. */
export function addLinearityCommands(program: Command, answering: Answering): void {
  const linearity = program
    .command('linearity')
    .description('checks of the instrument itself: time-base, screen-height, gain')
    .showHelpAfterError('(add --help for what can be given)');

  common(
    linearity.command('time-base <file...>'),
    'whether equal distances stand equally far apart',
    'astm-e317-time-base, iso-22232-1-time-base, iso-22232-3-time-base, aws-d1.1-time-base',
    'least height of a reflector’s echo, and the crossing where that is timed (5; 20 for crossing)',
  )
    .option(
      '--window <span>',
      'where the back-wall echoes of one plate are, as in 5us..95us; they are numbered from the first in it',
      spanOption('--window', 'time'),
    )
    .option('--above <percent>', 'from which height on they count (5)', numberOption('--above', 0.001, 100))
    .option(
      '--spacing <length>',
      'sound path from one of them to the next, as in 25mm; a range in sound path needs it',
      quantityOption('--spacing', 'length'),
    )
    .option(
      '--reflector <distance@window>',
      'in place of the window: a known reflector, as in 25mm@7us..11us; several times',
      reflectorsOption('--reflector'),
    )
    .option(
      '--tolerance <length>',
      'half-width of the tolerance on their distances (taken as exact)',
      quantityOption('--tolerance', 'length'),
    )
    .option(
      '--range <width>',
      'full width of the time base, as in 250mm or 84.5us (the span of the reflectors)',
      rangeOption,
    )
    .option('--timing <rule>', 'peak or crossing (peak)', choiceOption('--timing', ['peak', 'crossing']))
    .option(
      '--line <definition>',
      'without a rule: end-points or least-squares (end-points)',
      choiceOption('--line', ['end-points', 'least-squares']),
    )
    .action(answering(async () => (await import('./commands/linearity.ts')).timeBase) as Action);

  common(
    linearity.command('screen-height <file...>'),
    'whether an echo half as high is shown half as high',
    'asme-v-appendix-i, astm-e317-two-echo (two echoes), asme-v-article-5, iso-22232-1-screen-height, iso-22232-3-screen-height (one echo)',
    'least height of an echo (2)',
  )
    .option(
      '--larger <span>',
      'two echoes in a fixed ratio: where the larger is, as in 10us..12us',
      spanOption('--larger', 'time'),
    )
    .option('--smaller <span>', 'and where the smaller is', spanOption('--smaller', 'time'))
    .option(window[0], `one echo stepped by the gain: ${window[1]}`, window[2])
    .option(...steps)
    .action(answering(async () => (await import('./commands/linearity.ts')).screenHeight) as Action);

  common(
    linearity.command('gain <file...>'),
    'whether so many dB of gain are so many dB of height',
    'asme-v-appendix-ii, aws-d1.1-gain, iso-22232-1-gain, iso-22232-3-gain',
    'least height of an echo (2)',
  )
    .option(...window)
    .option(...steps)
    .action(answering(async () => (await import('./commands/linearity.ts')).gain) as Action);
}

function common(command: Command, description: string, rules: string, threshold: string): Command {
  return addConditioningOptions(
    addImportOptions(
      command
        .description(description)
        .option(...json)
        .option(...jobs),
    ),
  )
    .optionsGroup('The check:')
    .option('--rule <name or file>', `${rules}, or the path of a rule file of your own`)
    .option(...simpleAcceptance)
    .option('--threshold <percent>', threshold, numberOption('--threshold', 0.001, 100));
}
