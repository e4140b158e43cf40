import { describe, expect, it } from 'vitest';
import type { Gate } from '../../../core/gate/gate.ts';
import type { Echo } from '../../../core/signal/echoes.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { labelPlaces } from '../../../renderer/trace/gate-labels.ts';
import { gateBar, type StandingGate } from '../../../renderer/trace/gate-overlay.ts';
import { overlapOf } from '../../../renderer/trace/place-labels.ts';
import type { Plane } from '../../../renderer/trace/plane.ts';
import { reading } from '../../build/series.ts';

const plane: Plane = { widthPx: 1000, heightPx: 400, view: { fromUs: 0, toUs: 100 }, lowPercent: 0, highPercent: 100 };

function standing(name: string, fromUs: number, toUs: number, thresholdPercent = 20): StandingGate {
  const gate: Gate = { name, span: { axis: 'time', fromUs, toUs }, thresholdPercent };
  return { gate, bar: gateBar(gate, plane, null)!, reading: reading() };
}

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

describe('labelPlaces', () => {
  it('no gates, no labels', () => expect(labelPlaces([], [], plane, metricStyle)).toEqual([]));
  it('behind the gate’s end, where there is room', () => {
    const [label] = labelPlaces([standing('weld', 20, 40)], [], plane, metricStyle);
    expect(label!.left).toBeGreaterThan(400);
    expect(label!.left).toBeLessThan(420);
  });
  it('before its start, where an echo stands behind it', () => {
    const [label] = labelPlaces([standing('weld', 40, 60)], [echo(65, 80)], plane, metricStyle);
    expect(label!.left + label!.width).toBeLessThan(400);
  });
  it('inside the plot, at its right edge', () => {
    const [label] = labelPlaces([standing('weld', 70, 99)], [], plane, metricStyle);
    expect(label!.left + label!.width).toBeLessThanOrEqual(1000);
  });
  it('inside the plot, for a gate over all of it', () => {
    const [label] = labelPlaces([standing('weld', -10, 110)], [], plane, metricStyle);
    expect(label!.left).toBeGreaterThanOrEqual(0);
    expect(label!.left + label!.width).toBeLessThanOrEqual(1000);
  });
  it('not over one another, for gates at one height', () => {
    const gates = [standing('first', 20, 40), standing('second', 42, 60), standing('third', 62, 80)];
    const labels = labelPlaces(gates, [], plane, metricStyle);
    labels.forEach((label, i) => {
      for (const other of labels.slice(i + 1)) expect(overlapOf(label, other)).toBe(0);
    });
  });
});
