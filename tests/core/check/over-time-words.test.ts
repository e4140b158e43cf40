import { describe, expect, it } from 'vitest';
import { controlChart } from '../../../core/check/control-chart.ts';
import type { ChartSeries, DriftGroup } from '../../../core/check/drift-over-time.ts';
import {
  intervalWords,
  jumpSentence,
  limitsSentence,
  notYetConfirmedSentence,
  pWords,
  reexaminationSentence,
  takenWithWords,
  trendSentence,
} from '../../../core/check/over-time-words.ts';
import type { Reexamination } from '../../../core/check/reexamine.ts';
import { trendOf } from '../../../core/check/trend.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';

const commaStyle = { units: 'metric', decimalMark: ',' } as const;
const inchStyle = { units: 'inch', decimalMark: '.' } as const;

/** A series of distance errors at 100 mm, one each `hours`. */
function seriesOf(values: number[], hours = 24): ChartSeries {
  const seconds = values.map((_, i) => i * hours * 3600);
  const chart = controlChart(values);
  return {
    figure: 'distance-error',
    unit: 'mm',
    distanceMm: 100,
    points: values.map((value, i) => ({
      captureId: `check ${i + 1}`,
      takenAt: null,
      seconds: seconds[i],
      value: { value, standardUncertainty: 0.01 },
      counted: true,
      outside: chart.outside[i],
      jump: chart.jumps[i],
    })),
    missing: [],
    chart,
    trend: trendOf(seconds, values),
  };
}

const quiet = [0.1, -0.1, 0, 0.1, 0, -0.1, 0.1, 0, -0.1, 0];
const same = (captureId: string) => captureId;

describe('the words of a chart', () => {
  it('say how its limits were made, in the reader’s units', () => {
    // Nine steps, 1.1 mm together: 0.122 mm each, times 2.66.
    const series = seriesOf(quiet);
    expect(limitsSentence(series, metricStyle)).toBe(
      'Control limits -0.325 mm to 0.325 mm: centre 0.000 mm ± 2.66 · mean moving range 0.122 mm, from 10 checks.',
    );
    expect(limitsSentence(series, commaStyle)).toContain('0,325 mm');
    expect(limitsSentence(series, inchStyle)).toContain('0.01280 in');
  });

  it.each([
    ['no figure', [], 'No control limits: fewer than 8 checks'],
    ['seven figures', quiet.slice(0, 7), 'No control limits: fewer than 8 checks'],
    ['nine equal figures', Array(9).fill(0.2), 'No control limits: successive figures are all alike'],
  ])('say why there are no limits for %s', (_, values, words) => {
    expect(limitsSentence(seriesOf(values), metricStyle)).toContain(words);
  });

  it('say that there is no significant trend in scatter, and none at all in two checks', () => {
    expect(trendSentence(seriesOf(quiet), metricStyle)).toMatch(
      /^No significant trend: .* mm per day, t = .*p = 0\.\d\d;/,
    );
    expect(trendSentence(seriesOf([1, 2]), metricStyle)).toBe('No trend: it takes three checks at different times.');
  });

  it('tell a trend per day, or per hour within two days', () => {
    const rising = quiet.map((value, i) => value / 10 + i * 0.24);
    expect(trendSentence(seriesOf(rising), metricStyle)).toMatch(/^A trend of 0\.239\d* ± 0\.00\d+ mm per day/);
    expect(trendSentence(seriesOf(rising, 1), metricStyle)).toMatch(/^A trend of 0\.239\d* ± 0\.00\d+ mm per hour/);
  });

  it('warn where successive checks go together', () => {
    const step = Array.from({ length: 20 }, (_, i) => (i < 10 ? 0 : 1) + quiet[i % 10] / 10);
    expect(trendSentence(seriesOf(step), metricStyle)).toContain('Successive checks go together');
  });

  it('name the check at which a figure jumps', () => {
    const series = seriesOf([...quiet, 3, 3.1, 2.9]);
    expect(jumpSentence(series, same, metricStyle)).toMatch(/^It jumps at check 11, by more than the 1\.\d+ mm/);
    expect(jumpSentence(seriesOf(quiet), same, metricStyle)).toBeNull();
  });

  it.each([
    [0.5, 'p = 0.50'],
    [0.0124, 'p = 0.012'],
    [0.0043, 'p = 0.0043'],
    [0.00009, 'p < 0.0001'],
    [0, 'p < 0.0001'],
  ])('p of %d is written %s', (p, words) => {
    expect(pWords(p, metricStyle)).toBe(words);
  });

  it.each([
    [1.5, '1.5 h'],
    [47.9, '47.9 h'],
    [72, '3.0 days'],
  ])('%d hours are written %s', (hours, words) => {
    expect(intervalWords(hours, metricStyle)).toBe(words);
  });
});

describe('the words of what is to be looked at again', () => {
  const found: Reexamination = { because: 'fail', checks: ['b'], after: 'a', before: 'c', readings: [] };
  const between = { captureId: 'x', takenAt: null, placing: 'between' } as const;

  it.each<[string, Partial<Reexamination>, string]>([
    [
      'nothing was read',
      {},
      'b fails: since the last good check a, up to the first good check after, c, no capture of this review was read in that time.',
    ],
    [
      'one was read',
      { readings: [between] },
      'b fails: since the last good check a, up to the first good check after, c, 1 capture was read, to be looked at again.',
    ],
    [
      'one of two cannot be placed',
      { readings: [between, { ...between, placing: 'cannot-be-placed' }], checks: ['b', 'd'] },
      'b and 1 more up to d do not pass: since the last good check a, up to the first good check after, c, 2 captures were read, to be looked at again (1 of them cannot be placed in time and may belong here).',
    ],
    [
      'no good check stands on either side',
      { because: 'inconclusive', after: null, before: null },
      'b is not decided: since the calibration, and no good check has come after, no capture of this review was read in that time.',
    ],
  ])('where %s', (_, given, words) => {
    expect(reexaminationSentence({ ...found, ...given }, same)).toBe(words);
  });

  it('say what no check has confirmed yet', () => {
    const group = (count: number) => ({ notYetConfirmed: Array(count).fill(between) }) as unknown as DriftGroup;
    expect(notYetConfirmedSentence(group(0))).toBeNull();
    expect(notYetConfirmedSentence(group(1))).toContain('1 capture was read later than the last check');
    expect(notYetConfirmedSentence(group(3))).toContain('3 captures were read later');
  });

  it('say what is not stated of instrument and probe', () => {
    expect(takenWithWords({ takenWith: { instrument: null, probe: 'probe 5' } })).toBe(
      'instrument not stated, probe 5',
    );
  });
});
