import type { Command } from 'commander';
import { parseNumber, parseSpan, refused } from '../../core/units/parse-quantity.ts';
import { choiceOption, numberOption, option, quantityOption, spanOption, wholeNumberOption } from './arguments.ts';
import { addConditioningOptions, addImportOptions } from './options.ts';
import { type Answering, jobs, json, replace, simpleAcceptance } from './shared-options.ts';

/** `0.2`: the share of both edges together. */
const windowOption = option<{ kind: 'rectangular' } | { kind: 'hann' } | { kind: 'tukey'; taper: number }>(
  '--window',
  (text) => {
    if (text === 'rectangular' || text === 'hann') return { ok: true, value: { kind: text } };
    const match = /^tukey(?:=(.+))?$/.exec(text);
    const taper = match === null ? null : parseNumber(match[1] ?? '0.2');
    if (taper === null || !taper.ok || taper.value < 0 || taper.value > 1)
      return refused(`"${text}" is no window; write rectangular, hann or tukey=0.2 (the share of both edges, 0 to 1)`);
    return { ok: true, value: { kind: 'tukey', taper: taper.value } };
  },
);

/** `2@25us..28us`, the second echo of the back wall; several times. */
function echoOption(
  text: string,
  before: readonly { multiple: number; fromUs: number; toUs: number }[] | undefined,
): readonly { multiple: number; fromUs: number; toUs: number }[] {
  const one = option('--echo', (words: string) => {
    const match = /^(\d{1,3})@(.+)$/.exec(words);
    if (match === null || Number(match[1]) < 1)
      return refused(`"${words}" is no echo of a back wall; write its number and its window, as in 2@16us..18us`);
    const span = parseSpan(match[2], 'time');
    return span.ok
      ? { ok: true as const, value: { multiple: Number(match[1]), fromUs: span.value.from, toUs: span.value.to } }
      : span;
  });
  return [...(before ?? []), one(text)];
}

/** `probe`, `compare` and `material`: what their options are, and which command answers. */
export function addProbeCommands(program: Command, answering: Answering): void {
  addProbeOptions(
    program.command('probe <file...>').description('spectrum, pulse and sensitivity of the probe in each capture'),
  ).action(answering(async () => (await import('./commands/probe.ts')).probe));

  addProbeOptions(
    program
      .command('compare <file...>')
      .description('captures put together by probe, side by side, and whether probes differ')
      .option('--by <what>', 'what captures are put together by: probe', choiceOption('--by', ['probe']))
      .option('--reference-probe <name>', 'the probe that the others are held against (the first)')
      .option(
        '--align <how>',
        'overlays aligned by cross-correlation or envelope-peak (cross-correlation)',
        choiceOption('--align', ['cross-correlation', 'envelope-peak']),
      )
      .option('--as-recorded', 'overlays at their own heights, gain taken out, in place of one height')
      .option(
        '--significance <percent>',
        'below which chance two probes count as different (5)',
        numberOption('--significance', 0.001, 50),
      ),
  ).action(answering(async () => (await import('./commands/compare.ts')).compare));

  addConditioningOptions(
    addImportOptions(
      program
        .command('material <file...>')
        .description('velocity and attenuation from echoes of a back wall at a known thickness')
        .option(...json)
        .option(...jobs)
        .option('--thickness <length>', 'of the part there, as in 25mm', quantityOption('--thickness', 'length'))
        .option(
          '--tolerance <length>',
          'half-width of its tolerance (taken as exact)',
          quantityOption('--tolerance', 'length'),
        )
        .option('--echo <number@window>', 'an echo of the back wall, as in 2@16us..18us; twice or more', echoOption)
        .option(
          '--spreading <how>',
          'what of the fall is the beam’s spreading: none, far-field, or piston (needs --element)',
          choiceOption('--spreading', ['none', 'far-field', 'piston']),
        )
        .option(
          '--element <length>',
          'diameter of the round element, as in 10mm',
          quantityOption('--element', 'length'),
        )
        .option('--csv <file>', 'write attenuation against frequency there')
        .option(...replace),
    ),
  ).action(answering(async () => (await import('./commands/material.ts')).material));
}

function addProbeOptions(command: Command): Command {
  return addConditioningOptions(
    addImportOptions(
      command
        .option(...json)
        .option(...jobs)
        .option('--gate <span>', 'where the echo is, as in 18us..22us', spanOption('--gate', 'time'))
        .option(
          '--element <length>',
          'diameter of the round element, as in 10mm',
          quantityOption('--element', 'length'),
        )
        .option(
          '--velocity <velocity>',
          'in the material, for near field and beam spread, as in 5920m/s',
          quantityOption('--velocity', 'velocity'),
        )
        .option('--reference <file>', 'a capture of the probe that the others are held against')
        .option('--stated <file>', 'what is stated of each probe, as JSON')
        .option('--rule <name or file>', 'iso-22232-2, or the path of a rule file of your own, for --stated')
        .option(...simpleAcceptance)
        .option('--window <kind>', 'rectangular, hann or tukey=0.2 (tukey=0.2)', windowOption)
        .option(
          '--zero-padding <times>',
          'to at least so many times the gate’s length (8)',
          wholeNumberOption('--zero-padding', 1, 64),
        )
        .option('--csv <file>', 'write a row for each capture there')
        .option(...replace),
    ),
  );
}
