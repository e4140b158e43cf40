import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { flagTexts } from '../core/flag.ts';

const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
const rows = readme.slice(readme.indexOf('## Flags'), readme.indexOf('## File conventions')).split('\n');

describe('the README’s list of flags', () => {
  it.each(Object.entries(flagTexts))('has %s with its sentence', (flag, { sentence }) => {
    expect(rows).toContain(`| \`${flag}\` | ${sentence} |`);
  });

  it('has no other', () => {
    expect(rows.filter((row) => row.startsWith('| `'))).toHaveLength(Object.keys(flagTexts).length);
  });
});
