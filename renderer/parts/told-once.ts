import type { Problem } from '../../core/outcome.ts';
import { onScreen } from './on-screen.ts';

/** Each sentence once, however many captures it concerns: `the trace is rectified … (first-leg.csv#capture_01 and 40 more).` */
export function toldOnce(problems: readonly Pick<Problem, 'place' | 'sentence'>[]): readonly string[] {
  const files = new Map<string, Set<string>>();
  for (const { place, sentence } of problems) {
    const known = files.get(sentence) ?? new Set();
    files.set(sentence, known.add(place.file));
  }
  return [...files].map(([sentence, of]) => {
    const [first] = of;
    const more = of.size === 1 ? '' : ` and ${of.size - 1} more`;
    return `${onScreen(sentence).replace(/\.$/, '')} (${first}${more}).`;
  });
}
