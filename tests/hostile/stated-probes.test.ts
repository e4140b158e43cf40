import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readStatedProbes, readStatedRule } from '../../core/review/stated-probes.ts';

describe('what is stated of probes, from strangers', () => {
  it('any text gives a value or problems with a place, and never throws', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.json(),
          fc.json().map((text) => `{"probes": [${text}]}`),
        ),
        (text) => {
          for (const outcome of [readStatedProbes('s.json', text), readStatedRule('s.json', text)]) {
            if (outcome.ok) continue;
            expect(outcome.problems.length).toBeGreaterThan(0);
            for (const { place, sentence } of outcome.problems) {
              expect(place.file).toBe('s.json');
              expect(sentence.length).toBeGreaterThan(5);
            }
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  it.each([
    ['a name that every object has', '{"probes": [{"name": "a", "stated": {"toString": 5}}]}', 'name-unknown'],
    [
      'a figure that is not finite',
      '{"probes": [{"name": "a", "stated": {"peak_frequency_mhz": 1e999}}]}',
      'stated-form',
    ],
    ['a gate that ends before it begins', '{"probes": [{"name": "a", "gate_us": [9, 8]}]}', 'gate-backwards'],
    ['an element of nought', '{"probes": [{"name": "a", "element_mm": 0}]}', 'stated-form'],
    ['a key that nobody knows', '{"probes": [], "more": 1}', 'stated-form'],
  ])('%s', (_, text, code) => {
    const outcome = readStatedProbes('s.json', text);
    expect(outcome.ok ? [] : outcome.problems.map((problem) => problem.code)).toContain(code);
  });

  it('an own rule is held against the form of the published ones', () => {
    const rule = {
      name: 'own',
      title: 't',
      edition: 'e',
      source: 's',
      limits: [{ figure: 'peak-frequency', percent: 5, sides: 'both' }],
    };
    expect(readStatedRule('r.json', JSON.stringify(rule)).ok).toBe(true);
    expect(readStatedRule('r.json', JSON.stringify({ ...rule, limits: [] })).ok).toBe(false);
    expect(
      readStatedRule('r.json', JSON.stringify({ ...rule, limits: [{ figure: 'colour', percent: 5, sides: 'both' }] }))
        .ok,
    ).toBe(false);
  });
});
