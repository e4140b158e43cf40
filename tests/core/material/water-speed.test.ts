import { describe, expect, it } from 'vitest';
import { waterSpeed } from '../../../core/material/water-speed.ts';

describe('waterSpeed refuses', () => {
  it.each([
    ['marczak-1997', -0.1],
    ['marczak-1997', 95.1],
    ['del-grosso-1972', 100],
    ['mader-1972', -5],
    ['lubbers-graaff-1998', 9.9],
    ['lubbers-graaff-1998', 40.1],
    ['marczak-1997', Number.NaN],
  ] as const)('%s at %d °C', (fit, temperatureC) => {
    const outcome = waterSpeed(temperatureC, fit);
    expect(outcome.ok ? null : outcome.problems[0].code).toBe('water-temperature-out-of-range');
    expect(outcome.ok ? '' : outcome.problems[0].sentence).toContain('°C');
  });
});

describe('waterSpeed takes the ends of its range', () => {
  it.each([
    ['marczak-1997', 0],
    ['marczak-1997', 95],
    ['lubbers-graaff-1998', 10],
    ['lubbers-graaff-1998', 40],
  ] as const)('%s at %d °C', (fit, temperatureC) => expect(waterSpeed(temperatureC, fit).ok).toBe(true));
});
