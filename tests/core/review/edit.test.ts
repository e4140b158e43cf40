import { describe, expect, it } from 'vitest';
import { inferEverything } from '../../../core/import/import-recipe.ts';
import { apply, type Edit, nameOf } from '../../../core/review/edit.ts';
import { emptyReview, type Review, type SourceFile } from '../../../core/review/review.ts';

const source = (file: string): SourceFile => ({
  file,
  sha256: null,
  recipe: { ...inferEverything, columns: { axis: null, amplitudes: null, captureId: null } },
  facts: [],
});
const root = { name: 'root', span: { axis: 'path' as const, fromMm: 20, toMm: 40 }, thresholdPercent: 30 };
const readings: NonNullable<Review['readings']> = {
  captures: ['a.csv'],
  gates: [root],
  timing: 'peak',
  beam: null,
  uAngleDeg: null,
  series: null,
};
const review: Review = { ...emptyReview, title: 'Weld 7', sources: [source('a.csv'), source('b.csv')], readings };

describe('an edit that does not fit is a problem, and the review stays as it was', () => {
  const rows: [string, Edit, string][] = [
    ['the same file again', { kind: 'add-source', source: source('a.csv'), at: null }, 'source-twice'],
    ['a file that is not there', { kind: 'remove-source', file: 'c.csv' }, 'no-such-source'],
    [
      'the same file again among several',
      { kind: 'add-sources', sources: [source('c.csv'), source('a.csv')], at: null },
      'source-twice',
    ],
    [
      'one file twice among several',
      { kind: 'add-sources', sources: [source('c.csv'), source('c.csv')], at: null },
      'source-twice',
    ],
    ['several files, one of them not there', { kind: 'remove-sources', files: ['a.csv', 'c.csv'] }, 'no-such-source'],
    [
      'several changes, the last of which does not fit',
      {
        kind: 'several',
        name: 'rename and remove',
        edits: [
          { kind: 'set-title', title: 'x' },
          { kind: 'remove-gate', name: 'cap' },
        ],
      },
      'no-such-gate',
    ],
    ['facts of a file that is not there', { kind: 'set-facts', file: 'c.csv', facts: [] }, 'no-such-source'],
    ['a second gate of that name', { kind: 'add-gate', gate: root, at: null }, 'gate-twice'],
    ['a gate that is not there', { kind: 'remove-gate', name: 'cap' }, 'no-such-gate'],
    ['a change to a gate that is not there', { kind: 'change-gate', name: 'cap', gate: root }, 'no-such-gate'],
  ];
  it.each(rows)('%s', (_, edit, code) => {
    const before = structuredClone(review);
    const edited = apply(review, edit);
    expect(edited.ok ? null : edited.problems[0].code).toBe(code);
    expect(review).toEqual(before);
  });
});

const edits: [string, Edit][] = [
  ['change title', { kind: 'set-title', title: 'Weld 8' }],
  ['change notes', { kind: 'set-notes', notes: 'seen again' }],
  ["add file 'c.csv'", { kind: 'add-source', source: source('c.csv'), at: 1 }],
  ["remove file 'a.csv'", { kind: 'remove-source', file: 'a.csv' }],
  ['add 2 files', { kind: 'add-sources', sources: [source('c.csv'), source('d.csv')], at: null }],
  ['add 2 files', { kind: 'add-sources', sources: [source('c.csv'), source('d.csv')], at: [0, 3] }],
  ["add file 'c.csv'", { kind: 'add-sources', sources: [source('c.csv')], at: [1] }],
  ['remove 2 files', { kind: 'remove-sources', files: ['b.csv', 'a.csv'] }],
  ["remove file 'b.csv'", { kind: 'remove-sources', files: ['b.csv'] }],
  [
    'take over the calibration',
    {
      kind: 'several',
      name: 'take over the calibration',
      edits: [
        { kind: 'set-title', title: 'Weld 9' },
        { kind: 'remove-source', file: 'a.csv' },
        { kind: 'remove-gate', name: 'root' },
      ],
    },
  ],
  ["locate file 'a.csv'", { kind: 'change-source', file: 'a.csv', source: source('moved/a.csv') }],
  [
    "change import of 'b.csv'",
    { kind: 'change-source', file: 'b.csv', source: { ...source('b.csv'), sha256: 'f'.repeat(64) } },
  ],
  [
    "change facts of 'b.csv'",
    {
      kind: 'set-facts',
      file: 'b.csv',
      facts: [
        {
          trace: null,
          gainDb: 42,
          positionMm: null,
          acrossMm: null,
          takenAt: null,
          probe: null,
          instrument: null,
          block: null,
          temperatureC: null,
        },
      ],
    },
  ],
  ['change manifests', { kind: 'set-manifests', manifests: [{ file: 'manifest.csv', sha256: null }] }],
  [
    'change conditioning',
    { kind: 'set-conditioning', conditioning: { ...emptyReview.conditioning, baseline: 'mean' } },
  ],
  [
    'change echo list',
    { kind: 'set-echoes', echoes: { captures: ['a.csv'], abovePercent: 5, fromUs: null, toUs: null } },
  ],
  ['change readings', { kind: 'set-readings', readings: null }],
  ["add gate 'cap'", { kind: 'add-gate', gate: { ...root, name: 'cap' }, at: 0 }],
  ["remove gate 'root'", { kind: 'remove-gate', name: 'root' }],
  [
    "move gate 'root'",
    { kind: 'change-gate', name: 'root', gate: { ...root, span: { axis: 'path', fromMm: 21, toMm: 41 } } },
  ],
  [
    "stretch gate 'root'",
    { kind: 'change-gate', name: 'root', gate: { ...root, span: { axis: 'path', fromMm: 20, toMm: 45 } } },
  ],
  ["change threshold of gate 'root'", { kind: 'change-gate', name: 'root', gate: { ...root, thresholdPercent: 25 } }],
  ["rename gate 'root' to 'root run'", { kind: 'change-gate', name: 'root', gate: { ...root, name: 'root run' } }],
  ['remove drift checks', { kind: 'set-drift', drift: null }],
];

describe('an edit has a name in plain words, and its inverse takes it back to the letter', () => {
  it.each(edits)('%s', (name, edit) => {
    expect(nameOf(edit, review)).toBe(name);
    const edited = apply(review, edit);
    if (!edited.ok) throw new Error(edited.problems[0].sentence);
    const undone = apply(edited.value.review, edited.value.inverse);
    expect(undone.ok ? undone.value.review : undone.problems).toEqual(review);
    const redone = undone.ok ? apply(undone.value.review, undone.value.inverse) : undone;
    expect(redone.ok ? redone.value.review : redone.problems).toEqual(edited.value.review);
  });

  it('the first gate of all brings the readings, and its inverse takes them away', () => {
    const edited = apply(emptyReview, { kind: 'add-gate', gate: root, at: null });
    if (!edited.ok) throw new Error(edited.problems[0].sentence);
    expect(edited.value.review.readings?.gates).toEqual([root]);
    const undone = apply(edited.value.review, edited.value.inverse);
    expect(undone.ok ? undone.value.review : undone.problems).toEqual(emptyReview);
  });
});
