import type { DrawnSection } from '../../core/drawing/section-drawing.ts';
import { bareFigure, figures, uncertaintyOf } from '../../core/origin/figure.ts';
import { type FigureStyle, unitSign } from '../../core/units/figure-style.ts';
import type { Quantity } from '../../core/units/quantity.ts';
import styles from './Section.module.css';
import { type SectionItem, whatItIs } from './section-items.ts';

/** What the drawing shows, in words and figures: every item, and every echo of the part's own that is expected. */
export function SectionTable({
  drawn,
  items,
  selected,
  onSelect,
  style,
}: {
  readonly drawn: DrawnSection;
  readonly items: readonly SectionItem[];
  readonly selected: string | null;
  readonly onSelect: (id: string) => void;
  readonly style: FigureStyle;
}) {
  const unit = unitSign('length', style);
  const acrossName = drawn.origin === 'weld-middle' ? 'Across' : 'From the index';
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a long table must be scrolled by keys that reach it
    <section className={styles.tableFrame} tabIndex={0} aria-label="Section as a table">
      <table className={styles.table}>
        <thead>
          <tr>
            <th scope="col">Name</th>
            <th scope="col">What</th>
            <th scope="col" className={styles.number}>
              Depth ({unit})
            </th>
            <th scope="col" className={styles.number}>
              {acrossName} ({unit})
            </th>
            <th scope="col" className={styles.number}>
              Leg
            </th>
            <th scope="col" className={styles.number}>
              Sound path ({unit})
            </th>
          </tr>
        </thead>
        <tbody>
          {items.map((item) => (
            <tr key={item.id} aria-selected={item.id === selected} data-selected={item.id === selected}>
              <th scope="row">
                <button type="button" className={styles.rowButton} onClick={() => onSelect(item.id)}>
                  {item.name}
                </button>
              </th>
              <td>{whatItIs(item)}</td>
              <Length known={item.place.depthMm} style={style} />
              <Length
                known={drawn.origin === 'weld-middle' ? item.place.acrossMm : item.place.surfaceDistanceMm}
                style={style}
              />
              <td className={styles.number}>{item.place.leg}</td>
              <Length known={item.soundPathMm} style={style} />
            </tr>
          ))}
          {drawn.expected.map(({ name, leg, pathMm, place }) => (
            <tr key={`${name} ${leg}`}>
              <th scope="row">{name}</th>
              <td>geometry expected here</td>
              <Length known={known(place.depthMm)} style={style} />
              <Length known={known(place.acrossMm)} style={style} />
              <td className={styles.number}>{leg}</td>
              <Length known={known(pathMm)} style={style} />
            </tr>
          ))}
        </tbody>
      </table>
      {items.length + drawn.expected.length === 0 && <p className={styles.none}>Nothing lies in the section yet.</p>}
    </section>
  );
}

const known = (value: number): Quantity => ({ value, standardUncertainty: null });

function Length({ known: quantity, style }: { readonly known: Quantity | null; readonly style: FigureStyle }) {
  const figure = quantity === null ? null : figures.lengthMm(quantity, style);
  const u = figure === null ? null : uncertaintyOf(figure);
  return (
    <td className={styles.number}>
      {bareFigure(figure, style)}
      {u !== null && <span className={styles.u}> ± {bareFigure(u, style)}</span>}
    </td>
  );
}
