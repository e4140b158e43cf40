import { type FigureStyle, figureWithUnit } from '../../core/units/figure-style.ts';
import type { TraceFacts } from '../engine/messages.ts';
import { grouped } from '../parts/grouped.ts';
import styles from './CaptureFacts.module.css';

/** What is known of how a capture was taken, in one line; what is not known is left out. */
export function CaptureFacts({ trace, style }: { readonly trace: TraceFacts; readonly style: FigureStyle }) {
  const facts: readonly (readonly [string, string | null])[] = [
    ['Gain', trace.gainDb === null ? null : figureWithUnit(trace.gainDb, 'level', 1, style)],
    ['Position', trace.positionMm === null ? null : figureWithUnit(trace.positionMm, 'length', 2, style)],
    ['Probe', trace.probe],
    ['Block', trace.block],
    ['Taken', trace.takenAt?.replace('T', ' ') ?? null],
    ['Samples', `${grouped(trace.sampleCount)} at ${figureWithUnit(1 / trace.stepUs, 'frequency', 1, style)}`],
  ];
  const known = facts.filter(([, value]) => value !== null);
  return (
    <dl className={styles.facts} title={known.map(([name, value]) => `${name}: ${value}`).join('\n')}>
      {known.map(([name, value]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
