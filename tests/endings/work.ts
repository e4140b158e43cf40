/** What is written in the midst of which programs are made to end, as it was before and as it is to be. */
export type Work = 'review' | 'table' | 'package' | 'draft' | 'settings' | 'in-new-folders';

export const draftId = '2b0d6f5c-4d1c-4c6e-9a35-0d4a4b0f5a11';

export function draftOf(text: string) {
  return { at: '2026-03-02T06:05:00.000Z', name: null, path: null, version: null, text, sources: [] };
}

const review = (title: string) => JSON.stringify({ title, rest: 'x'.repeat(3000) });

export const before = { review: review('before'), table: 'old', package: new Uint8Array(1000).fill(1) };
/** The package takes several writes. */
export const changed = {
  review: review('after'),
  table: 'gate,path\r\nroot,31.2\r\n',
  package: new Uint8Array(2_500_000).fill(2),
};

/** The file that each work writes, and what it holds before (`null`: nothing stands there) and after. */
export const targets: Readonly<
  Record<Work, { readonly file: string; readonly old: string | Uint8Array | null; readonly new: string | Uint8Array }>
> = {
  review: { file: 'review.json', old: before.review, new: changed.review },
  table: { file: 'table.csv', old: null, new: changed.table },
  package: { file: 'package.zip', old: before.package, new: changed.package },
  draft: {
    file: `${draftId}.json`,
    old: JSON.stringify(draftOf(before.review)),
    new: JSON.stringify(draftOf(changed.review)),
  },
  settings: { file: 'settings.json', old: '{\n  "n": 1\n}\n', new: '{\n  "n": 2\n}\n' },
  'in-new-folders': { file: 'deep/er/report.html', old: null, new: changed.table },
};

/** A work in which calls are to fail: each of them once, or one by its name several times. */
export interface FailedWork {
  readonly work: Work;
  readonly code: string;
  readonly only?: string;
  readonly times?: number;
}

/** What became of a work of which a call failed. */
export interface Failed {
  readonly work: Work;
  readonly code: string;
  readonly call: string;
  /** What the person is told; `null` where the work was done all the same. */
  readonly said: string | null;
  readonly stands: 'old' | 'new' | 'neither';
  readonly stray: readonly string[];
}

const codes = ['ENOSPC', 'EIO', 'EROFS', 'EACCES', 'EMFILE'];
const asTheHostSays: readonly Work[] = ['review', 'table', 'package', 'draft'];

export const failures: readonly FailedWork[] = [
  ...asTheHostSays.flatMap((work) => codes.map((code) => ({ work, code }))),
  // As Windows says it while another program looks at a file, which passes, or holds it, which does not.
  ...['EBUSY', 'EPERM', 'EACCES'].flatMap((code): FailedWork[] => [
    { work: 'review', code, only: 'rename', times: 3 },
    { work: 'review', code, only: 'rename', times: 100 },
  ]),
  // A disk that knows no links.
  { work: 'in-new-folders', code: 'EPERM', only: 'link' },
];
