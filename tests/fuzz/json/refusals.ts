import type { Problem } from '../../../core/outcome.ts';
import type { SlowJson } from './slow-json.ts';

/** Documents that go deeper are refused. */
export const deepestAllowed = 100;

/** What is wrong with a refusal: every problem needs its place within the text, and its code must be that of the fault. */
export function wrongRefusal(problems: readonly Problem[], text: string, file: string, slow: SlowJson): string[] {
  const faults: string[] = [];
  const lines = text.replace(/^\ufeff/, '').split(/\r\n|\r|\n/);
  if (problems.length === 0) faults.push('refused without a problem');
  if (problems.length > 20) faults.push(`${problems.length} problems at once`);
  for (const { code, place, sentence } of problems) {
    if (place.file !== file) faults.push(`${code} is of another file`);
    if (sentence.length < 8) faults.push(`${code} has no sentence`);
    if (place.line === null || place.column === null) faults.push(`${code} has no place`);
    else if (place.line < 1 || place.line > lines.length)
      faults.push(`${code} stands in line ${place.line} of ${lines.length}`);
    else if (place.column < 1 || place.column > lines[place.line - 1].length + 1)
      faults.push(`${code} stands in column ${place.column} of a line of ${lines[place.line - 1].length}`);
  }
  const codes = problems.map(({ code }) => code);
  if (slow.isJson && codes.includes('not-json')) faults.push('refused as no JSON, and is JSON');
  if (
    slow.isJson &&
    slow.oddNames.length === 0 &&
    codes.some((code) => code === 'name-twice' || code === 'name-unknown')
  )
    faults.push('refused for a name that stands once');
  if (slow.deepest <= deepestAllowed && codes.includes('json-too-deep'))
    faults.push(`refused as too deep at ${slow.deepest}`);
  return faults;
}
