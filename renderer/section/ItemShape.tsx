import styles from './Section.module.css';
import type { ItemSign } from './section-items.ts';

/** The sign of an item: a disc for an indication, a dot for a reading, a barred square for what was taken for geometry, an empty square where geometry is expected. */
export function ItemShape({
  sign,
  x,
  y,
  isSelected,
}: {
  readonly sign: ItemSign | 'expected';
  readonly x: number;
  readonly y: number;
  readonly isSelected: boolean;
}) {
  const className = `${styles.shape} ${styles[sign]}`;
  const at = (path: string) => `M${x} ${y}${path}`;
  switch (sign) {
    case 'indication':
      return <circle className={className} data-selected={isSelected} cx={x} cy={y} r={isSelected ? 5.5 : 4.5} />;
    case 'reading':
      return <circle className={className} data-selected={isSelected} cx={x} cy={y} r={isSelected ? 4 : 2.5} />;
    case 'geometry':
      return <path className={className} data-selected={isSelected} d={at('m-4.5 -4.5h9v9h-9zm0 9l9 -9')} />;
    case 'expected':
      return <path className={className} data-selected={isSelected} d={at('m-4.5 -4.5h9v9h-9z')} />;
  }
}
