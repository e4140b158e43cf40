import { type ReactNode, useId, useState } from 'react';
import type { CaptureId } from '../../core/capture/capture.ts';
import type { DepthExtent } from '../../core/drawing/depth-extents.ts';
import type { DepthAcross, DepthMember, DepthScan } from '../../core/drawing/depth-scan.ts';
import type { PlaceInSection } from '../../core/review/part-decision.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { Toggle } from '../parts/Choice.tsx';
import { EmptyState } from '../parts/EmptyState.tsx';
import plot from '../series/Plot.module.css';
import { ShadesToggle } from '../series/ShadesToggle.tsx';
import type { Scale } from '../series/shading.ts';
import { useScheme } from '../series/use-scheme.ts';
import { type DepthFit, DepthPlot, type OnSelectSample } from './DepthPlot.tsx';
import type { DepthAsked, DepthShown } from './depth-image.ts';
import styles from './Section.module.css';

/** How the picture is looked at. */
export interface DepthLook {
  /** `null`: what tells more of this scan. */
  readonly across: DepthAcross | null;
  readonly leg: number | null;
  readonly scale: Scale;
}

export const firstLook: DepthLook = { across: null, leg: null, scale: 'percent' };

export interface DepthPictureProps {
  /** What stands in the head in place of the title: a switch to the other pictures, which says what this is. */
  readonly head?: ReactNode;
  /** `null`: nothing can be drawn; `without` says why. */
  readonly scan: DepthScan | null;
  readonly without: { readonly title: string; readonly sentences: readonly string[] } | null;
  readonly shown: DepthShown | null;
  /** Another image is needed. */
  readonly onImage: (asked: DepthAsked) => void;
  /** In sentences: what is not in the picture, and why. */
  readonly problems: readonly string[];
  /** Of the weld; empty where there is none. */
  readonly outline: readonly PlaceInSection[];
  readonly extents: readonly DepthExtent[];
  readonly indication: string | null;
  readonly selected: CaptureId | null;
  readonly onSelect: OnSelectSample;
  readonly nameOf: (member: DepthMember) => string;
  /** At first; then the person's. */
  readonly look?: DepthLook;
  readonly style: FigureStyle;
}

const acrossLabels: Readonly<Record<DepthAcross, string>> = {
  position: 'Position',
  'reflecting-point': 'Across',
};

/** The captures of a scan laid out by where in the part each sample comes from: position along the scan, or place across the weld, over true depth. */
export function DepthPicture(props: DepthPictureProps) {
  const { head = null, scan, without, outline, look: first = firstLook } = props;
  const labelId = useId();
  const scheme = useScheme();
  const [look, setLook] = useState(first);
  const [fit, setFit] = useState<DepthFit | null>('weld');
  const { scale } = look;
  const choices = scan?.across ?? [];
  const across = look.across !== null && choices.includes(look.across) ? look.across : (choices[0] ?? 'position');
  const legs = scan?.legs ?? [];
  const leg = look.leg !== null && legs.includes(look.leg) ? look.leg : null;
  return (
    <section className={plot.panel} aria-labelledby={labelId}>
      <div className={`${plot.head} ${styles.depthHead}`}>
        {head}
        <h2 id={labelId} className={head === null ? undefined : styles.unseen}>
          True depth
        </h2>
        {scan !== null && (
          <>
            {choices.length > 1 && (
              <Toggle
                label="Across"
                hideLabel
                options={choices.map((id) => ({ id, label: acrossLabels[id] }))}
                chosen={across}
                onChoose={(id) => {
                  setLook({ ...look, across: id });
                  setFit('weld');
                }}
              />
            )}
            {across === 'reflecting-point' && outline.length > 2 && (
              <Toggle
                label="In sight"
                hideLabel
                options={[
                  { id: 'whole', label: 'All' },
                  { id: 'weld', label: 'Weld' },
                ]}
                chosen={fit}
                onChoose={setFit}
              />
            )}
            {legs.length > 1 && (
              <Toggle
                label="Legs"
                hideLabel
                options={[
                  { id: 'all', label: 'All legs' },
                  ...legs.map((one) => ({ id: String(one), label: String(one) })),
                ]}
                chosen={leg === null ? 'all' : String(leg)}
                onChoose={(id) => setLook({ ...look, leg: id === 'all' ? null : Number(id) })}
              />
            )}
            <ShadesToggle chosen={scale} onChoose={(id) => setLook({ ...look, scale: id })} />
          </>
        )}
      </div>
      {scan === null ? (
        <EmptyState title={without?.title ?? 'Nothing to draw'}>
          {without?.sentences.map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </EmptyState>
      ) : (
        <DepthPlot
          key={across}
          {...props}
          scan={scan}
          across={across}
          onlyLeg={leg}
          scale={scale}
          scheme={scheme}
          fit={fit}
          onFit={setFit}
        />
      )}
    </section>
  );
}
