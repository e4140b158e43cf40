import { describe, expect, it } from 'vitest';
import type { Edit } from '../../../core/review/edit.ts';
import { emptyReview, type Review } from '../../../core/review/review.ts';
import {
  type Document,
  documentOf,
  edited,
  isUnsaved,
  redoName,
  redone,
  renamedFiles,
  savedAs,
  undoName,
  undone,
} from '../../../renderer/state/document.ts';
import { freshRecipe } from '../../../renderer/state/source-list.ts';
import type { Manner } from '../../../renderer/state/workbench-state.ts';

const root = { name: 'root', span: { axis: 'path' as const, fromMm: 20, toMm: 40 }, thresholdPercent: 30 };
const review: Review = {
  ...emptyReview,
  title: 'Weld 7',
  sources: [{ file: 'a.csv', sha256: null, recipe: freshRecipe, facts: [] }],
  readings: { captures: ['a.csv'], gates: [root], timing: 'peak', beam: null, uAngleDeg: null, series: null },
};
const opened = documentOf(review, review);

function changed(document: Document, ...edits: (Edit | [Edit, Manner])[]): Document {
  return edits.reduce<Document>((current, one) => {
    const [edit, manner] = Array.isArray(one) ? one : [one, 'now' as const];
    const outcome = edited(current, edit, manner);
    if (!outcome.ok) throw new Error(outcome.problems[0]?.sentence);
    return outcome.value;
  }, document);
}

const title = (text: string): Edit => ({ kind: 'set-title', title: text });
const moved = (byMm: number): Edit => ({
  kind: 'change-gate',
  name: 'root',
  gate: { ...root, span: { axis: 'path', fromMm: 20 + byMm, toMm: 40 + byMm } },
});
const threshold = (percent: number): Edit => ({
  kind: 'change-gate',
  name: 'root',
  gate: { ...root, thresholdPercent: percent },
});

describe('a document that was just opened', () => {
  it('has nothing to undo or redo, and nothing unsaved', () => {
    expect([undoName(opened), redoName(opened), isUnsaved(opened)]).toEqual([null, null, false]);
    expect(undone(opened)).toBe(opened);
    expect(redone(opened)).toBe(opened);
  });
});

describe('an edit', () => {
  it('is undone and redone to the letter, with its name in plain words', () => {
    const next = changed(opened, moved(2));
    expect([undoName(next), redoName(next)]).toEqual(["move gate 'root'", null]);
    const back = undone(next);
    expect(back.review).toBe(review);
    expect([undoName(back), redoName(back)]).toEqual([null, "move gate 'root'"]);
    expect(redone(back).review).toEqual(next.review);
  });

  it('that does not fit changes nothing and says why', () => {
    const outcome = edited(opened, { kind: 'remove-gate', name: 'cap' }, 'now');
    expect(outcome).toMatchObject({ ok: false, problems: [{ code: 'no-such-gate' }] });
  });

  it('that changes nothing leaves no entry', () => {
    expect(changed(opened, title('Weld 7'))).toBe(opened);
    expect(changed(opened, moved(0))).toBe(opened);
  });

  it('after an undo takes away what could be redone', () => {
    const next = changed(undone(changed(opened, title('Weld 8'))), title('Weld 9'));
    expect(redoName(next)).toBeNull();
    expect(undone(next).review).toBe(review);
  });

  it('goes back through many, one at a time', () => {
    const many = changed(opened, title('a'), title('b'), title('c'));
    expect(undone(undone(many)).review.title).toBe('a');
    expect(undone(undone(undone(many))).review).toBe(review);
  });
});

describe('a drag', () => {
  it('is one entry, however many steps it has, and is undone to where it began', () => {
    const dragged = changed(opened, [moved(1), 'merged'], [moved(2), 'merged'], [moved(3), 'now']);
    expect(dragged.past).toHaveLength(1);
    expect(undoName(dragged)).toBe("move gate 'root'");
    expect(undone(dragged).review).toBe(review);
    expect(redone(undone(dragged)).review.readings?.gates[0]?.span).toEqual({ axis: 'path', fromMm: 23, toMm: 43 });
  });

  it('is over with its last step: the next is another entry', () => {
    const twice = changed(opened, [moved(1), 'merged'], [moved(3), 'now'], [moved(4), 'merged'], [moved(5), 'now']);
    expect(twice.past).toHaveLength(2);
  });

  it('does not merge with an edit of something else', () => {
    const mixed = changed(opened, [moved(1), 'merged'], title('Weld 8'), [moved(2), 'merged']);
    expect(mixed.past.map(({ name }) => name)).toEqual(["move gate 'root'", 'change title', "move gate 'root'"]);
  });

  it('does not merge across an undo', () => {
    const dragged = changed(undone(changed(opened, title('x'), [moved(1), 'merged'])), [moved(2), 'merged']);
    expect(dragged.past.map(({ name }) => name)).toEqual(['change title', "move gate 'root'"]);
  });

  it('back to where it began leaves no entry', () => {
    const back = changed(opened, [moved(1), 'merged'], [moved(0), 'merged']);
    expect(back.review).toBe(review);
    expect(undoName(back)).toBeNull();
  });

  it('has the name of what it did in the end', () => {
    expect(undoName(changed(opened, [moved(1), 'merged'], [threshold(25), 'now']))).toBe(
      "change threshold of gate 'root'",
    );
  });
});

describe('the mark for unsaved work', () => {
  it('comes with an edit, goes with a save, and goes where the edit is undone', () => {
    const next = changed(opened, title('Weld 8'));
    expect(isUnsaved(next)).toBe(true);
    expect(isUnsaved(undone(next))).toBe(false);
    const saved = savedAs(next, next.review);
    expect(isUnsaved(saved)).toBe(false);
    expect(isUnsaved(undone(saved))).toBe(true);
    expect(isUnsaved(redone(undone(saved)))).toBe(false);
  });

  it('stays where an edit was made while the save went on', () => {
    const next = changed(opened, title('Weld 8'));
    const meanwhile = changed(next, title('Weld 9'));
    expect(isUnsaved(savedAs(meanwhile, next.review))).toBe(true);
  });

  it('is there for a draft that was taken over', () => {
    expect(isUnsaved(documentOf(review, null))).toBe(true);
  });
});

describe('files under other names', () => {
  it('are renamed through the whole history, which else stays as it was', () => {
    const next = savedAs(changed(opened, title('Weld 8')), review);
    const renamed = renamedFiles(undone(next), new Map([['a.csv', 'day 1/a.csv']]));
    expect(renamed.review.readings?.captures).toEqual(['day 1/a.csv']);
    expect(isUnsaved(renamed)).toBe(false);
    expect(redone(renamed).review).toMatchObject({ title: 'Weld 8', sources: [{ file: 'day 1/a.csv' }] });
  });
});
