import { type ReactNode, useId, useMemo, useState } from 'react';
import type { DrawnSection } from '../../core/drawing/section-drawing.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Toggle } from '../parts/Choice.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import { Icon } from '../parts/Icon.tsx';
import plot from '../series/Plot.module.css';
import styles from './Section.module.css';
import { SectionPlot } from './SectionPlot.tsx';
import { SectionTable } from './SectionTable.tsx';
import type { SectionItem } from './section-items.ts';

export interface SectionDrawingProps {
  /** `null`: nothing may be drawn; `without` says why. */
  readonly drawn: DrawnSection | null;
  readonly without: { readonly title: string; readonly sentences: readonly string[] } | null;
  readonly items: readonly SectionItem[];
  readonly selected: string | null;
  readonly onSelect: (id: string) => void;
  /** What stands in the head in place of the title: a switch to the other pictures, which says what this is. */
  readonly head?: ReactNode;
  /** Sentences about what is drawn, or left out. */
  readonly remarks: readonly string[];
  readonly style: FigureStyle;
}

/** The section across the weld, to scale: the part, the beam, and what lies where. The same as a table for who does not see it. */
export function SectionDrawing(props: SectionDrawingProps) {
  const { drawn, without, head = null, remarks } = props;
  const [form, setForm] = useState<'drawing' | 'table'>('drawing');
  const [fit, setFit] = useState<'whole' | 'close' | null>('whole');
  const labelId = useId();
  const hasClose = drawn?.close != null;
  const fits = useMemo(
    () => [
      { id: 'whole' as const, label: 'All' },
      { id: 'close' as const, label: drawn?.weld == null ? 'Near' : 'Weld' },
    ],
    [drawn],
  );
  return (
    <section className={plot.panel} aria-labelledby={labelId}>
      <div className={plot.head}>
        {head}
        <h2 id={labelId} className={head === null ? undefined : styles.unseen}>
          Section
        </h2>
        {drawn !== null && (
          <>
            <Toggle
              label="Form"
              hideLabel
              options={[
                { id: 'drawing', label: 'Drawing' },
                { id: 'table', label: 'Table' },
              ]}
              chosen={form}
              onChoose={setForm}
            />
            {form === 'drawing' && hasClose && (
              <Toggle label="In sight" hideLabel options={fits} chosen={fit} onChoose={setFit} />
            )}
          </>
        )}
      </div>
      {drawn === null ? (
        <EmptyState title={without?.title ?? 'Nothing to draw'}>
          {without?.sentences.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </EmptyState>
      ) : form === 'table' ? (
        <SectionTable {...props} drawn={drawn} />
      ) : (
        <SectionPlot {...props} drawn={drawn} fit={fit} onFit={setFit} />
      )}
      {drawn !== null && remarks.length > 0 && (
        <div className={plot.foot}>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: remarks may be longer than their place, and must be scrolled by keys that reach them */}
          <ul className={plot.doubts} tabIndex={0} aria-label="Remarks about the section">
            {remarks.map((sentence) => (
              <li key={sentence}>
                <Icon name="doubt" />
                {sentence}
              </li>
            ))}
          </ul>
        </div>
      )}
    </section>
  );
}
