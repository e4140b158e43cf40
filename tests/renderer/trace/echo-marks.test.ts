import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Echo } from '../../../core/signal/echoes.ts';
import { echoMarks } from '../../../renderer/trace/echo-marks.ts';
import { overlapOf } from '../../../renderer/trace/place-labels.ts';
import type { Plane } from '../../../renderer/trace/plane.ts';

const plane: Plane = { widthPx: 1000, heightPx: 200, view: { fromUs: 0, toUs: 100 }, lowPercent: 0, highPercent: 100 };

const echo = (timeUs: number, amplitudePercent: number): Echo => ({
  timeUs,
  uTimeUs: null,
  onsetUs: null,
  flank: null,
  amplitudePercent,
  prominencePercent: amplitudePercent,
  signalToNoiseDb: null,
  flags: [],
  from: { first: 0, last: 0 },
});

const numbers = (echoes: readonly Echo[], on = plane) => echoMarks(echoes, on).map((mark) => mark.number);

describe('echoMarks', () => {
  it('no echoes, no marks', () => expect(numbers([])).toEqual([]));
  it('numbered in order of time, from 1, above their peaks', () => {
    const marks = echoMarks([echo(20, 50), echo(60, 80)], plane);
    expect(marks.map(({ number, peak }) => [number, peak.x, peak.y])).toEqual([
      [1, 200, 100],
      [2, 600, 40],
    ]);
    for (const { box, peak } of marks) expect(box.top + box.height).toBeLessThan(peak.y);
  });
  it('those out of view keep their number', () => {
    expect(numbers([echo(10, 50), echo(60, 80), echo(70, 10)], { ...plane, view: { fromUs: 50, toUs: 65 } })).toEqual([
      2,
    ]);
  });
  it('where two would overlap the higher one is marked', () => {
    expect(numbers([echo(60, 50), echo(60.5, 52)])).toEqual([2]);
  });
  it('zoomed in, both are', () => {
    const close = { ...plane, view: { fromUs: 59, toUs: 62 } };
    expect(numbers([echo(60, 50), echo(60.5, 52)], close)).toEqual([1, 2]);
  });
  it('a low one beside a high one, where there is room below', () => {
    expect(numbers([echo(60, 20), echo(60.5, 90)])).toEqual([1, 2]);
  });
  it('of many, the forty highest', () => {
    const wide = { ...plane, widthPx: 5000 };
    const many = Array.from({ length: 60 }, (_, i) => echo(1 + 1.5 * i, i < 20 ? 30 : 31 + (i % 2)));
    expect(numbers(many, wide)).toEqual(Array.from({ length: 40 }, (_, i) => 21 + i));
  });
  it('an echo beyond the screen is marked inside the plot', () => {
    expect(echoMarks([echo(20, 140)], plane)[0]!.box.top).toBe(0);
  });

  it('never overlap, never leave the plot, and the highest echo in view is always marked', () => {
    const echoes = fc.array(
      fc.tuple(
        fc.integer({ min: -100, max: 1100 }).map((tenths) => tenths / 10),
        fc.integer({ min: 1, max: 120 }),
      ),
      { maxLength: 200 },
    );
    fc.assert(
      fc.property(echoes, (found) => {
        const all = found.map(([t, a]) => echo(t, a)).sort((a, b) => a.timeUs - b.timeUs);
        const marks = echoMarks(all, plane);
        marks.forEach(({ box }, i) => {
          expect(box.left).toBeGreaterThanOrEqual(0);
          expect(box.left + box.width).toBeLessThanOrEqual(1000 + 1e-9);
          for (const other of marks.slice(i + 1)) expect(overlapOf(box, other.box)).toBe(0);
        });
        const inView = all.filter(({ timeUs }) => timeUs >= 0 && timeUs <= 100);
        const highest = Math.max(...inView.map(({ amplitudePercent }) => amplitudePercent));
        expect(marks.some((mark) => all[mark.echo]!.amplitudePercent === highest)).toBe(inView.length > 0);
      }),
    );
  });
});
