export interface Match<T> {
  readonly item: T;
  /** Which letters of the label were meant, for the eye. */
  readonly at: readonly number[];
}

/**
 * The items whose label holds the letters that were typed, in order, best first. The letters are one run, or begin words and go on from there;
 * only where no item has them so may they stand anywhere. Nothing typed: all, in their own order.
 */
export function filterByWords<T>(items: readonly T[], labelOf: (item: T) => string, typed: string): Match<T>[] {
  const wanted = letters(typed).filter((letter) => letter !== ' ');
  if (wanted.length === 0) return items.map((item) => ({ item, at: [] }));
  const labels = items.map((item) => letters(labelOf(item)));
  const closely = matches(items, labels, wanted, 'run or word');
  return closely.length > 0 ? closely : matches(items, labels, wanted, 'anywhere');
}

type Manner = 'run or word' | 'anywhere';

function matches<T>(
  items: readonly T[],
  labels: readonly (readonly string[])[],
  wanted: readonly string[],
  manner: Manner,
): Match<T>[] {
  return items
    .flatMap((item, i) => {
      const found = bestMatch(labels[i] ?? [], wanted, manner);
      return found === null ? [] : [{ item, ...found }];
    })
    .toSorted((a, b) => b.score - a.score)
    .map(({ item, at }) => ({ item, at }));
}

/** Points of one letter: it follows the letter before it, begins a word, or just stands somewhere. */
const points = { next: 5, word: 4, somewhere: 0 } as const;

interface Found {
  readonly score: number;
  readonly at: readonly number[];
}

/** The highest-scoring way to find the letters, in order, in the label; labels are short, so every place is tried once. */
function bestMatch(label: readonly string[], wanted: readonly string[], manner: Manner): Found | null {
  // best[j]: the best way to place the letters so far with the last of them at j.
  let best: (Found | null)[] = label.map((letter, j) =>
    letter === wanted[0] ? { score: pointsAt(label, j) - j / 100, at: [j] } : null,
  );
  for (const letter of wanted.slice(1)) {
    const before = best;
    best = label.map((at, j) => {
      if (at !== letter) return null;
      let most: Found | null = null;
      for (let i = 0; i < j; i++) {
        const found = before[i];
        if (found == null) continue;
        const own = i === j - 1 ? points.next : pointsAt(label, j);
        if (
          manner === 'run or word' &&
          (own === points.somewhere || (own === points.word && !beginsWord(label, found.at[0] ?? 0)))
        )
          continue;
        const score = found.score + own;
        if (most === null || score > most.score) most = { score, at: [...found.at, j] };
      }
      return most;
    });
  }
  return best.reduce<Found | null>(
    (most, one) => (one !== null && (most === null || one.score > most.score) ? one : most),
    null,
  );
}

function pointsAt(label: readonly string[], j: number): number {
  return beginsWord(label, j) ? points.word : points.somewhere;
}

function beginsWord(label: readonly string[], j: number): boolean {
  const before = label[j - 1];
  return before === undefined || /[^\p{L}\p{N}]/u.test(before);
}

/** By code points, without capitals and accents, one for each of the label's own. */
function letters(text: string): string[] {
  return [...text].map((letter) => [...letter.normalize('NFD').toLowerCase()][0] ?? letter);
}
