import type { DrawnSection } from '../../core/drawing/section-drawing.ts';
import plot from '../series/Plot.module.css';
import { ItemShape } from './ItemShape.tsx';
import styles from './Section.module.css';
import { type ItemSign, type SectionItem, signOf } from './section-items.ts';

const words: Readonly<Record<ItemSign | 'expected', string>> = {
  indication: 'indication',
  reading: 'reading',
  geometry: 'taken for geometry',
  expected: 'geometry expected',
};

/** What the shapes mean, of those that are drawn. */
export function SectionKey({ drawn, items }: { readonly drawn: DrawnSection; readonly items: readonly SectionItem[] }) {
  const signs = new Set(items.map(signOf));
  const hasSpread = (drawn.beam?.spread.length ?? 0) > 0;
  const hasEllipse = drawn.marks.some(({ ellipse }) => ellipse !== null);
  const shown = (['indication', 'reading', 'geometry', 'expected'] as const).filter((sign) =>
    sign === 'expected' ? drawn.expected.length > 0 : signs.has(sign),
  );
  if (shown.length === 0 && drawn.beam === null) return null;
  return (
    <ul className={plot.key} aria-label="Marks">
      {shown.map((sign) => (
        <li key={sign}>
          <svg width="16" height="16" aria-hidden="true">
            <ItemShape sign={sign} x={8} y={8} isSelected={false} />
          </svg>
          {words[sign]}
        </li>
      ))}
      {hasEllipse && (
        <li>
          <svg width="22" height="16" aria-hidden="true">
            <ellipse className={styles.ellipse} cx="11" cy="8" rx="9" ry="5" />
          </svg>
          uncertainty, k = 2
        </li>
      )}
      {drawn.beam !== null && (
        <li>
          <svg width="22" height="16" aria-hidden="true">
            {hasSpread && <path className={styles.spread} d="M1 8 21 2V14Z" />}
            <path className={styles.axis} d="M1 8H21" />
          </svg>
          {hasSpread ? 'beam, −6 dB' : 'beam'}
        </li>
      )}
    </ul>
  );
}
