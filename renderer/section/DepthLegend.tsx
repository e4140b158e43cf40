import { useEffect, useRef } from 'react';
import { formatNumber, type NumberStyle } from '../../core/units/format-quantity.ts';
import { begun } from '../parts/begun.ts';
import type { Scheme } from '../series/colour-map.ts';
import { floorDb, type Scale } from '../series/shading.ts';
import { paintedDepth } from './depth-shades.ts';
import styles from './Section.module.css';

const stripPx = 88;
const stripRows = 8;

/** What the shades stand for on legs that go down and on those that come up, and what was not measured. */
export function DepthLegend({
  scale,
  scheme,
  legs,
  style,
}: {
  readonly scale: Scale;
  readonly scheme: Scheme;
  readonly legs: readonly number[];
  readonly style: NumberStyle;
}) {
  const odd = legs.filter((leg) => leg % 2 === 1);
  const even = legs.filter((leg) => leg % 2 === 0);
  const [floor, full] = [floorDb, 100].map((value) => formatNumber(value, 0, style));
  const ends =
    scale === 'percent' ? ([formatNumber(0, 0, style), `${full} % FSH`] as const) : ([`≤ ${floor}`, '0 dB'] as const);
  const range =
    scale === 'percent'
      ? 'from 0, the palest against the sheet, to 100 % of full screen height'
      : `from ${floorDb} dB and below to 0 dB, which is full screen height`;
  return (
    <div
      className={styles.legs}
      role="img"
      aria-label={`Shades: ${range}.${even.length > 0 ? ` ${begun(legWords(even)).slice(0, -1)} are of a warmer tone and finely hatched.` : ''} Coarsely hatched: not measured.`}
    >
      {odd.length > 0 && <Strip words={legWords(odd)} leg={1} ends={ends} scale={scale} scheme={scheme} />}
      {even.length > 0 && <Strip words={legWords(even)} leg={2} ends={ends} scale={scale} scheme={scheme} />}
      <span aria-hidden="true">
        <i /> not measured
      </span>
    </div>
  );
}

function legWords(legs: readonly number[]): string {
  return legs.length === 1 ? `leg ${legs[0]}` : `legs ${legs.join(', ')}`;
}

function Strip({
  words,
  leg,
  ends,
  scale,
  scheme,
}: {
  readonly words: string;
  readonly leg: number;
  readonly ends: readonly [least: string, most: string];
  readonly scale: Scale;
  readonly scheme: Scheme;
}) {
  const strip = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const context = strip.current?.getContext('2d');
    if (context == null) return;
    const heightAt = (share: number) =>
      scale === 'percent' ? 100 * share : 100 * 10 ** ((floorDb * (1 - share)) / 20);
    const picture = {
      grid: {
        across: { fromMm: 0, cellMm: 1, count: stripPx },
        depth: { fromMm: 0, cellMm: stripRows, count: 1 },
      },
      percent: Float32Array.from({ length: stripPx }, (_, i) => heightAt(i / (stripPx - 1))),
      leg: new Uint8Array(stripPx).fill(leg),
      capture: new Int32Array(stripPx),
      sample: new Int32Array(stripPx),
    };
    const pixels = paintedDepth(picture, stripPx, stripRows, scale, scheme);
    context.putImageData(new ImageData(pixels, stripPx, stripRows), 0, 0);
  }, [leg, scale, scheme]);
  return (
    <span aria-hidden="true">
      {words}: {ends[0]}
      <canvas ref={strip} width={stripPx} height={stripRows} />
      {ends[1]}
    </span>
  );
}
