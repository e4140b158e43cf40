import type { CurveDecision } from '../../core/review/sensitivity-decision.ts';
import { publishedLevels, readLevels } from '../../core/sensitivity/evaluation-levels.ts';
import { readText, usable } from './gather.ts';
import { refuseArgument } from './refusal.ts';
import { levelOption } from './sensitivity-arguments.ts';

/** A published set by its name, the path of a set of one's own, or levels written out: `recording=-14dB,evaluation=-10dB`. */
export function levelsFrom(words: string): CurveDecision['levels'] {
  if (publishedLevels.some(({ name }) => name === words)) return { kind: 'published', name: words };
  if (words.includes('=')) return { kind: 'own', rule: writtenOut(words) };
  if (!/[./\\]/.test(words)) {
    const names = publishedLevels.map(({ name }) => name).join(', ');
    refuseArgument(
      '--levels',
      `"${words}" is no published set of levels (${names}), not the path of a file, and no levels written out as in recording=-14dB,evaluation=-10dB`,
    );
  }
  return { kind: 'own', rule: usable(readLevels(words, readText(words).text)).value };
}

function writtenOut(words: string) {
  const levels = words.split(',').map((word) => {
    const [name, db, ...more] = word.split('=');
    if (more.length > 0 || db === undefined || name.trim() === '')
      refuseArgument('--levels', `"${word}" is not a level; write name=dB, as in recording=-14dB`);
    return { name: name.trim(), db: levelOption('--levels', -60, 60)(db) };
  });
  const twice = levels.find(({ name }, i) => levels.findIndex((other) => other.name === name) < i);
  if (twice !== undefined) refuseArgument('--levels', `the level "${twice.name}" stands twice; give each its own name`);
  return {
    name: 'own-levels',
    title: 'Levels given on the command line',
    edition: 'none',
    clause: 'none',
    source: 'Given by the person',
    levels,
  };
}
