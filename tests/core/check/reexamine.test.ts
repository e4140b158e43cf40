import { describe, expect, it } from 'vitest';
import { type CheckInTime, toReexamine } from '../../../core/check/reexamine.ts';

const at = (time: string) => `2026-05-11T${time}:00Z`;
const check = (captureId: string, time: string | null, verdict: CheckInTime['verdict']): CheckInTime => ({
  captureId,
  takenAt: time === null ? null : at(time),
  verdict,
});
const reading = (captureId: string, time: string | null) => ({ captureId, takenAt: time === null ? null : at(time) });

const readings = [
  reading('early', '06:30'),
  reading('before', '07:30'),
  reading('during', '08:30'),
  reading('after', '09:30'),
  reading('late', '10:30'),
];
const names = (list: readonly { captureId: string }[]) => list.map(({ captureId }) => captureId);

describe('toReexamine', () => {
  it.each<[string, CheckInTime[]]>([
    ['there is no check', []],
    ['all checks pass', [check('a', '07:00', 'pass'), check('b', '09:00', 'pass')]],
    ['no rule was chosen', [check('a', '07:00', null), check('b', '09:00', null)]],
  ])('asks for nothing where %s', (_, checks) => {
    expect(toReexamine(checks, readings)).toEqual([]);
  });

  it('asks for what was read between the good checks on either side of a failing one', () => {
    const found = toReexamine(
      [
        check('a', '07:00', 'pass'),
        check('b', '08:00', 'fail'),
        check('c', '09:00', 'fail'),
        check('d', '10:00', 'pass'),
      ],
      readings,
    );
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ because: 'fail', checks: ['b', 'c'], after: 'a', before: 'd' });
    expect(names(found[0].readings)).toEqual(['before', 'during', 'after']);
  });

  it('asks for all since the calibration where no good check came before, and for all since where none came after', () => {
    const [all] = toReexamine([check('a', '08:00', 'fail')], readings);
    expect(all).toMatchObject({ after: null, before: null });
    expect(names(all.readings)).toEqual(names(readings));
    const [since] = toReexamine([check('a', '08:00', 'pass'), check('b', '09:00', 'fail')], readings);
    expect(names(since.readings)).toEqual(['during', 'after', 'late']);
  });

  it('keeps each stretch apart', () => {
    const found = toReexamine(
      [
        check('a', '06:00', 'pass'),
        check('b', '07:00', 'inconclusive'),
        check('c', '08:00', 'pass'),
        check('d', '09:00', 'fail'),
        check('e', '10:00', 'pass'),
      ],
      readings,
    );
    expect(found.map(({ because }) => because)).toEqual(['inconclusive', 'fail']);
    expect(found.map((stretch) => names(stretch.readings))).toEqual([
      ['early', 'before'],
      ['during', 'after'],
    ]);
  });

  it('counts a reading of the very minute of a good check among those in doubt', () => {
    const [found] = toReexamine([check('a', '07:30', 'pass'), check('b', '08:00', 'fail')], readings);
    expect(names(found.readings)).toContain('before');
  });

  it('keeps readings without a time in the list, and says that they cannot be placed', () => {
    const [found] = toReexamine(
      [check('a', '07:00', 'pass'), check('b', '08:00', 'fail'), check('c', '09:00', 'pass')],
      [reading('known', '08:30'), reading('unknown', null), { captureId: 'no zone', takenAt: '2026-05-11 08:30' }],
    );
    expect(found.readings.map(({ captureId, placing }) => [captureId, placing])).toEqual([
      ['known', 'between'],
      ['unknown', 'cannot-be-placed'],
      ['no zone', 'cannot-be-placed'],
    ]);
  });

  it('can place no reading where a failing check has no time', () => {
    const found = toReexamine([check('a', '07:00', 'pass'), check('b', null, 'fail')], readings);
    expect(found).toHaveLength(1);
    expect(found[0]).toMatchObject({ checks: ['b'], after: null, before: null });
    expect(found[0].readings.every(({ placing }) => placing === 'cannot-be-placed')).toBe(true);
    expect(found[0].readings).toHaveLength(readings.length);
  });

  it('can place no reading where checks and readings tell their times in different ways', () => {
    const local = [
      { captureId: 'a', takenAt: '2026-05-11 07:00', verdict: 'pass' },
      { captureId: 'b', takenAt: '2026-05-11 08:00', verdict: 'fail' },
    ] as const;
    const [found] = toReexamine(local, readings);
    expect(found).toMatchObject({ checks: ['b'], after: 'a' });
    expect(found.readings.map(({ placing }) => placing)).toEqual(readings.map(() => 'cannot-be-placed'));
  });
});
