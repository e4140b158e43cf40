import {
  ownEntries,
  type RecordGroup,
  recorded,
  recordGroups,
  signatories,
  signatureField,
  signatureFields,
} from '../../../review/record.ts';
import { html } from '../markup.ts';
import { fields, type Section } from '../parts.ts';
import type { Report } from '../report-input.ts';

/** The record's fields group by group; what is not filled in is a line for a pen. */
export function recordSections({ review }: Report): Section[] {
  return recordGroups.map((group) => ({
    id: group.id,
    title: group.title,
    body: html`${fields(entriesOf(group, review.record))}`,
  }));
}

function entriesOf(group: RecordGroup, record: Report['review']['record']) {
  return group.fields.map(({ field, label }) => {
    const value = recorded(record, field);
    return { label, value, wide: value.length > 60 || value.includes('\n') };
  });
}

/** Entries of the person's own, and the notes. */
export function remarksSection({ review }: Report): Section | null {
  const own = ownEntries(review.record);
  if (own.length === 0 && review.notes === '') return null;
  return {
    id: 'remarks',
    title: 'Notes',
    body: html`${
      review.notes !== '' &&
      html`<p class="lines"><bdi>${review.notes}</bdi></p>
`
    }${own.length > 0 && fields(own.map(({ field, value }) => ({ label: field, value, wide: value.length > 60 })))}`,
  };
}

export function signaturesSection({ review }: Report): Section {
  return {
    id: 'signatures',
    title: 'Signatures',
    body: html`<div class="signatures">
${signatories.map(
  ({ id, title }) => html`<div><h3>${title}</h3><dl>${signatureFields.map(
    (field) => html`<dt>${field.label}</dt><dd>${recorded(review.record, signatureField(id, field.id))}</dd>`,
  )}<dt class="sign">Signature</dt><dd class="sign"></dd></dl></div>
`,
)}</div>
`,
  };
}
