import type { TraceFacts } from '../engine/messages.ts';
import styles from './CaptureFacts.module.css';

/** What is known of how a capture was taken, in one line; what is not known is left out. */
export function CaptureFacts({ trace }: { readonly trace: TraceFacts }) {
  const facts: readonly (readonly [string, string | null])[] = [
    ['File', trace.file],
    ['Block', trace.block],
    ['Probe', trace.probe],
    ['Gain', trace.gainDb === null ? null : `${trace.gainDb} dB`],
    ['Samples', `${grouped(trace.sampleCount)} at ${Number((1 / trace.stepUs).toPrecision(6))} MHz`],
    ['Taken', trace.takenAt?.replace('T', ' ') ?? null],
  ];
  return (
    <dl className={styles.facts}>
      {facts.map(([name, value]) =>
        value === null ? null : (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ),
      )}
    </dl>
  );
}

/** `24 000`: groups of three by a space that does not break, since comma and point are decimal marks to somebody. */
function grouped(count: number): string {
  return String(count).replace(/\B(?=(\d{3})+$)/g, '\u00a0');
}
