import styles from './Legend.module.css';
import { markOf } from './trace-marks.ts';
import type { ShownTrace } from './trace-props.ts';

/** More names than these would take the plot's room; patterns and colours come round again by then. */
const mostNamed = 8;

/** Which line is which, by pattern and colour; nothing to say where there is one line only. */
export function Legend({ traces }: { readonly traces: readonly ShownTrace[] }) {
  const hasEnvelope = traces.some(({ envelope }) => envelope !== null);
  if (traces.length === 1 && !hasEnvelope) return null;
  return (
    <ul className={styles.legend} aria-label="Lines on the plot">
      {traces.slice(0, mostNamed).map(({ captureId, title }, i) => {
        const { colour, pattern, line } = markOf(i);
        return (
          <li key={captureId}>
            <Line colour={colour} pattern={pattern} line={line} width={2.5} />
            <span className={styles.name} title={title}>
              {title}
            </span>
          </li>
        );
      })}
      {traces.length > mostNamed && <li>and {traces.length - mostNamed} more</li>}
      {hasEnvelope && (
        <li>
          <Line colour="--envelope" pattern={[]} line="thin line" width={1.25} />
          Envelope
        </li>
      )}
    </ul>
  );
}

function Line({
  colour,
  pattern,
  line,
  width,
}: {
  readonly colour: string;
  readonly pattern: readonly number[];
  readonly line: string;
  readonly width: number;
}) {
  return (
    <svg width="40" height="10" role="img" aria-label={line}>
      <line
        x1="0"
        x2="40"
        y1="5"
        y2="5"
        style={{ stroke: `var(${colour})` }}
        strokeWidth={width}
        strokeDasharray={pattern.join(' ')}
      />
    </svg>
  );
}
