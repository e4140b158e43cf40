import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toReexamine } from '../../core/check/reexamine.ts';

const at = (minute: number) =>
  `2026-05-11T${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}:00Z`;

describe('what must be looked at again', () => {
  it('is every reading that has a check that does not pass, and no good one, on one of its sides', () => {
    const minutes = fc.uniqueArray(fc.integer({ min: 0, max: 1439 }), { minLength: 1, maxLength: 30 });
    const verdict = fc.constantFrom('pass' as const, 'fail' as const, 'inconclusive' as const);
    fc.assert(
      fc.property(minutes, fc.array(verdict, { minLength: 30, maxLength: 30 }), minutes, (when, verdicts, read) => {
        const checks = [...when]
          .sort((a, b) => a - b)
          .map((minute, i) => ({ captureId: `check ${i}`, minute, takenAt: at(minute), verdict: verdicts[i] }));
        const readings = read.map((minute) => ({ captureId: `reading at ${minute}`, minute, takenAt: at(minute) }));
        const listed = new Set(
          toReexamine(checks, readings).flatMap((found) => found.readings.map(({ captureId }) => captureId)),
        );
        for (const { captureId, minute } of readings) {
          const before = checks.findLast((check) => check.minute < minute)?.verdict ?? 'pass';
          const after = checks.find((check) => check.minute > minute)?.verdict ?? 'pass';
          const same = checks.find((check) => check.minute === minute)?.verdict ?? 'pass';
          expect(listed.has(captureId)).toBe([before, after, same].some((outcome) => outcome !== 'pass'));
        }
      }),
    );
  });
});
