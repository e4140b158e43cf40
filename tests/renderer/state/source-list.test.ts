import { describe, expect, it } from 'vitest';
import { emptyReview, type Review, type SourceFile } from '../../../core/review/review.ts';
import type { ImportedSource, KnownSource } from '../../../renderer/engine/messages.ts';
import { freshRecipe, listFiles, nothingKnown, placeFiles, withHashes } from '../../../renderer/state/source-list.ts';

const sha = (letter: string): string => letter.repeat(64);
const source = (file: string, sha256: string | null): SourceFile => ({ file, sha256, recipe: freshRecipe, facts: [] });
const read = (file: string, sha256: string, more: Partial<ImportedSource> = {}): ImportedSource => ({
  file,
  sha256,
  kind: 'captures',
  state: 'ready',
  understood: null,
  asks: [],
  warnings: [],
  problems: [],
  ...more,
});
const reviewWith = (...sources: SourceFile[]): Review => ({ ...emptyReview, sources });
const place = (review: Review, files: ImportedSource[], held: string[] = []) =>
  placeFiles(
    review,
    files,
    () => freshRecipe,
    (sha256) => held.includes(sha256),
  );

describe('files that were read take their places', () => {
  it('none is none', () => {
    expect(place(emptyReview, [])).toEqual({ edit: null, located: [], found: [], refused: [], repeated: [] });
  });

  it('new ones are added as one thing to undo, those that ask too', () => {
    const { edit } = place(emptyReview, [read('a.csv', sha('a')), read('b.csv', sha('b'), { state: 'asking' })]);
    expect(edit).toMatchObject({
      kind: 'add-sources',
      sources: [
        { file: 'a.csv', sha256: sha('a') },
        { file: 'b.csv', sha256: sha('b') },
      ],
    });
  });

  it('broken ones are set aside, and the others are taken all the same', () => {
    const { edit, refused } = place(emptyReview, [
      read('bad.csv', sha('c'), { state: 'broken' }),
      read('a.csv', sha('a')),
    ]);
    expect(refused.map(({ file }) => file)).toEqual(['bad.csv']);
    expect(edit).toMatchObject({ kind: 'add-sources', sources: [{ file: 'a.csv' }] });
  });

  it('a missing one is located by its hash, whatever it is called by now; the review stays as it is', () => {
    const review = reviewWith(source('shift/check-1.csv', sha('a')));
    const placed = place(review, [read('copy of check.csv', sha('a'))]);
    expect(placed).toMatchObject({ edit: null, located: ['shift/check-1.csv'], found: [] });
  });

  it('by hash comes before by name: a file that took the other’s name does not deceive', () => {
    const review = reviewWith(source('a.csv', sha('a')), source('b.csv', sha('b')));
    const placed = place(review, [read('b.csv', sha('a')), read('a.csv', sha('b'))]);
    expect(placed).toMatchObject({ edit: null, located: ['a.csv', 'b.csv'], found: [] });
  });

  it('a file of a missing one’s name with other bytes is found, not taken', () => {
    const review = reviewWith(source('shift/check-1.csv', sha('a')));
    expect(place(review, [read('shift/check-1.csv', sha('b'))])).toMatchObject({
      edit: null,
      located: [],
      found: [['shift/check-1.csv', sha('b')]],
    });
    expect(place(review, [read('check-1.csv', sha('b'))]).found).toEqual([['shift/check-1.csv', sha('b')]]);
  });

  it('a name that two missing files share tells nothing: the file is new', () => {
    const review = reviewWith(source('day 1/a.csv', sha('a')), source('day 2/a.csv', sha('b')));
    expect(place(review, [read('a.csv', sha('c'))])).toMatchObject({ found: [], edit: { kind: 'add-sources' } });
  });

  it('the same bytes again are not added again, within one folder or beside the review’s own', () => {
    const review = reviewWith(source('a.csv', sha('a')));
    expect(place(review, [read('a.csv', sha('a'))], [sha('a')])).toMatchObject({ edit: null, repeated: ['a.csv'] });
  });

  it('a file known by name alone takes the hash of what was found', () => {
    const review = reviewWith(source('a.csv', null));
    expect(place(review, [read('a.csv', sha('a'))]).edit).toMatchObject({
      kind: 'change-source',
      source: { file: 'a.csv', sha256: sha('a') },
    });
  });

  it('manifests join the review with the files, as one thing to undo', () => {
    const { edit } = place(emptyReview, [
      read('manifest.csv', sha('m'), { kind: 'manifest' }),
      read('a.csv', sha('a')),
      read('b.csv', sha('b')),
    ]);
    expect(edit).toMatchObject({
      kind: 'several',
      name: 'add 2 files',
      edits: [
        { kind: 'add-sources' },
        { kind: 'set-manifests', manifests: [{ file: 'manifest.csv', sha256: sha('m') }] },
      ],
    });
  });

  it('a manifest that was written anew stands in place of the old one; a broken one is set aside', () => {
    const review = { ...emptyReview, manifests: [{ file: 'manifest.csv', sha256: sha('m') }] };
    const anew = read('manifest.csv', sha('n'), { kind: 'manifest' });
    expect(place(review, [anew]).edit).toEqual({
      kind: 'set-manifests',
      manifests: [{ file: 'manifest.csv', sha256: sha('n') }],
    });
    expect(place(review, [{ ...anew, state: 'broken' }])).toMatchObject({
      edit: null,
      refused: [{ file: 'manifest.csv' }],
    });
  });
});

describe('the list of files', () => {
  const known = (file: string, more: Partial<KnownSource>): [string, KnownSource] => [
    file,
    {
      file,
      sha256: null,
      state: 'ready',
      understood: null,
      captures: [],
      asks: [],
      warnings: [],
      problems: [],
      ...more,
    },
  ];

  it('has the review’s in their order, then those that were refused', () => {
    const refused = { source: read('bad.csv', sha('c'), { state: 'broken' }), recipe: freshRecipe };
    const files = listFiles(reviewWith(source('b.csv', sha('b')), source('a.csv', sha('a'))), {
      ...nothingKnown,
      refused: new Map([['bad.csv', refused]]),
    });
    expect([...files.values()].map(({ file, inReview, state }) => [file, inReview, state])).toEqual([
      ['b.csv', true, 'ready'],
      ['a.csv', true, 'ready'],
      ['bad.csv', false, 'broken'],
    ]);
  });

  it('tells a file that has changed from one that is missing, and says that its hash differs', () => {
    const files = listFiles(reviewWith(source('a.csv', sha('a')), source('b.csv', sha('b'))), {
      ...nothingKnown,
      known: new Map([known('a.csv', { state: 'missing' }), known('b.csv', { state: 'missing' })]),
      found: new Map([['b.csv', sha('x')]]),
    });
    expect(files.get('a.csv')).toMatchObject({ state: 'missing', found: null });
    expect(files.get('b.csv')).toMatchObject({ state: 'changed', found: sha('x') });
    expect(files.get('b.csv')?.problems[0]?.sentence).toContain('SHA-256 differs');
  });

  it('leaves a file ready whose own bytes are there, though others were given under its name', () => {
    const files = listFiles(reviewWith(source('a.csv', sha('a'))), {
      ...nothingKnown,
      known: new Map([known('a.csv', {})]),
      found: new Map([['a.csv', sha('x')]]),
    });
    expect(files.get('a.csv')).toMatchObject({ state: 'ready', found: sha('x') });
  });
});

describe('a review that knows files by name alone', () => {
  it('learns their hashes where they are found, and is the same review where it knows them all', () => {
    const review = reviewWith(source('a.csv', null), source('b.csv', sha('b')), source('c.csv', null));
    const hashed = withHashes(review, [read('a.csv', sha('a')), read('b.csv', sha('x'))]);
    expect(hashed.sources.map(({ sha256 }) => sha256)).toEqual([sha('a'), sha('b'), null]);
    const whole = reviewWith(source('b.csv', sha('b')));
    expect(withHashes(whole, [read('b.csv', sha('x'))])).toBe(whole);
  });
});
