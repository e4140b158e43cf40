import { describe, expect, it } from 'vitest';
import { parseGate } from '../../../core/gate/parse-gate.ts';

describe('parseGate', () => {
  it('reads a gate in sound path', () =>
    expect(parseGate('weld=20mm..80mm@30')).toEqual({
      ok: true,
      value: { name: 'weld', span: { axis: 'path', fromMm: 20, toMm: 80 }, thresholdPercent: 30 },
    }));

  it('reads a gate in time', () =>
    expect(parseGate('near=4us..9.5us@12%')).toEqual({
      ok: true,
      value: { name: 'near', span: { axis: 'time', fromUs: 4, toUs: 9.5 }, thresholdPercent: 12 },
    }));

  it.each([
    ['no name', '20mm..80mm@30', /name=from..to@threshold/],
    ['no threshold', 'weld=20mm..80mm', /name=from..to@threshold/],
    ['a threshold in words', 'weld=20mm..80mm@high', /threshold/],
    ['bare ends', 'weld=20..80@30', /no unit/],
    ['ends of two kinds', 'weld=20mm..80us@30', /not a unit of length/],
    ['reversed ends', 'weld=80mm..20mm@30', /ends before it begins/],
  ])('refuses a gate with %s: %s', (_, text, sentence) => {
    const parsed = parseGate(text);
    expect(parsed.ok ? null : parsed.sentence).toMatch(sentence);
  });
});
