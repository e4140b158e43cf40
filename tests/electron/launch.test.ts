import { expect, it } from 'vitest';
import { reviewToOpen } from '../../electron/launch.ts';

it.each([
  ['nothing named', ['workbench'], null],
  ['a review', ['workbench', '/reviews/plate.ascan-review'], '/reviews/plate.ascan-review'],
  ['a review beside the caller', ['workbench', 'plate.ascan-review'], '/here/plate.ascan-review'],
  ['in capitals', ['workbench', 'PLATE.ASCAN-REVIEW'], '/here/PLATE.ASCAN-REVIEW'],
  ['behind an option', ['workbench', '--no-sandbox', 'plate.json'], '/here/plate.json'],
  ['an option that ends like one', ['workbench', '--log=x.json'], null],
  ['a capture, which is no review', ['workbench', 'a.csv'], null],
  ['the program itself', ['/opt/workbench.json'], null],
])('%s', (_name, words, path) => {
  expect(reviewToOpen(words, '/here')).toBe(path);
});
