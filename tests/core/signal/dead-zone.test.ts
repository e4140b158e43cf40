import { describe, expect, it } from 'vitest';
import { deadZoneEndUs } from '../../../core/signal/dead-zone.ts';
import { trace } from '../../build/trace.ts';

const bang = trace().record(0, 3000).mainBang({ amplitudePercent: 90, decayUs: 0.5 }).noise(0.2);

describe('records without a dead zone', () => {
  it.each([
    { name: 'nothing recorded', envelope: [] as number[], startUs: 0 },
    { name: 'silence', envelope: new Array<number>(500).fill(0), startUs: 0 },
    { name: 'a level that never falls', envelope: new Array<number>(500).fill(40), startUs: 0 },
    {
      name: 'high from the beginning, but that is 5 µs after the trigger',
      envelope: [80, 60, 40, ...new Array<number>(300).fill(1)],
      startUs: 5,
    },
  ])('$name', ({ envelope, startUs }) => {
    expect(deadZoneEndUs(Float64Array.from(envelope), startUs, 0.01, 0.2)).toBeNull();
  });

  it('the same capture, begun after the bang', () => {
    expect(
      trace()
        .record(8, 2000)
        .mainBang({ amplitudePercent: 90, decayUs: 0.5 })
        .burst({ timeUs: 12, amplitudePercent: 60 })
        .conditioned().deadZoneEndUs,
    ).toBeNull();
  });
});

describe('a main bang', () => {
  it('has died away when it stays below 8 % FSH: 0.5·ln(90/8) = 1.21 µs after the trigger', () => {
    expect(bang.conditioned().deadZoneEndUs).toBeCloseTo(0.5 * Math.log(90 / 8), 1);
  });

  it('is found in a record that begins before the trigger', () => {
    expect(bang.record(-2, 3000).conditioned().deadZoneEndUs).toBeCloseTo(0.5 * Math.log(90 / 8), 1);
  });

  it('is not lengthened by an echo that follows after half a microsecond of quiet', () => {
    expect(bang.burst({ timeUs: 3, amplitudePercent: 60 }).conditioned().deadZoneEndUs).toBeLessThan(2);
  });
});
