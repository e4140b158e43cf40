import { useEffect, useRef } from 'react';
import { formatNumber, type NumberStyle } from '../../core/units/format-quantity.ts';
import { rampBytes, type Scheme, shadeCount } from './colour-map.ts';
import styles from './Plot.module.css';
import { floorDb, type Scale } from './shading.ts';

const shares = [0, 0.25, 0.5, 0.75, 1];

/** The ramp with what its shades stand for. */
export function AmplitudeLegend({
  scale,
  scheme,
  style,
}: {
  readonly scale: Scale;
  readonly scheme: Scheme;
  readonly style: NumberStyle;
}) {
  const strip = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const context = strip.current?.getContext('2d');
    if (context == null) return;
    const ramp = rampBytes(scheme);
    const pixels = context.createImageData(shadeCount, 1);
    for (let i = 0; i < shadeCount; i++)
      pixels.data.set([ramp[3 * i]!, ramp[3 * i + 1]!, ramp[3 * i + 2]!, 255], 4 * i);
    context.putImageData(pixels, 0, 0);
  }, [scheme]);

  const value = (share: number) => (scale === 'percent' ? 100 * share : floorDb * (1 - share));
  const unit = scale === 'percent' ? '% FSH' : 'dB';
  const words = (share: number) => {
    const text = formatNumber(value(share), 0, style);
    const bounded = scale === 'decibel' && share === 0 ? `≤ ${text}` : text;
    return share === 1 ? `${bounded} ${unit}` : bounded;
  };
  return (
    <div
      className={styles.legend}
      role="img"
      aria-label={
        scale === 'percent'
          ? 'Shades: from 0, the palest against the sheet, to 100 % of full screen height'
          : `Shades: from ${floorDb} dB and below to 0 dB, which is full screen height`
      }
    >
      <canvas ref={strip} width={shadeCount} height={1} />
      <ol aria-hidden="true">
        {shares.map((share) => (
          <li key={share}>{words(share)}</li>
        ))}
      </ol>
    </div>
  );
}
