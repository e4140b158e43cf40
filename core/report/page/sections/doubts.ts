import type { Problem } from '../../../outcome.ts';
import { html, type Markup } from '../markup.ts';
import { given, notes, type Section } from '../parts.ts';
import type { Report } from '../report-input.ts';

/** What could not be used, and what was taken as read: nothing was guessed in silence. */
export function doubtsSection({ problems, warnings }: Report): Section {
  return {
    id: 'warnings',
    title: 'Warnings shown',
    body: html`${
      problems.length > 0 &&
      html`<h3>Could not be used</h3>
${notes(grouped(problems))}`
    }${
      warnings.length > 0 &&
      html`<h3>Taken as read, since the files do not say otherwise</h3>
${notes(grouped(warnings))}`
    }${
      problems.length + warnings.length === 0 &&
      html`<p>None: the files said all that was needed, and all of them could be used.</p>
`
    }`,
  };
}

/** The same sentence about many files is said once, with the names of all. */
function grouped(problems: readonly Problem[]): Markup[] {
  const places = new Map<string, string[]>();
  for (const { sentence, place } of problems) {
    const where = [place.file, place.line, place.line === null ? null : place.column].filter((part) => part !== null);
    places.set(sentence, [...(places.get(sentence) ?? []), where.join(':')]);
  }
  return [...places].map(
    ([sentence, files]) => html`${files.map((file, i) => html`${i > 0 && ', '}${given(file)}`)}: ${sentence}`,
  );
}
