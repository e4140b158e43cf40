import { afterAll, describe, expect, it } from 'vitest';
import { scenarios } from './scenarios.ts';
import { type Counted, type Found, simulated } from './simulated-calibration.ts';

/*
 * Calibrations simulated from the waveform on, under what befalls a record. The table of all of them is printed at the end;
 * `npm run endure -- numbers` has thousands in the place of these few. Source: simulation, seeded; the truth is what was put in.
 */

const calibrations = Number(process.env.CALIBRATIONS ?? 24);

/** What 95 % intervals must hold in any case; with so few calibrations, three standard deviations of their share less. */
const least = 0.93;
const leastOf = (of: number) => least - 3 * Math.sqrt((0.95 * 0.05) / of);
/** From so few nothing can be told. */
const enough = 20;
/** No u is larger than so many times the error that there is. */
const widest = 1.7;

const heldEnough = ({ held, of }: Counted) => of < enough || held / of >= leastOf(of);
const words = ({ held, of }: Counted) => `${held} of ${of}`;

const table: string[] = [];

function note(found: Found): void {
  const share = ({ held, of }: Counted) => (of < enough ? '–' : ((100 * held) / of).toFixed(1)).padStart(7);
  const part = (count: number) => `${((100 * count) / found.echoes).toFixed(1)}`.padStart(9);
  const figure = (value: number) => (found.times.of < enough ? '–' : value.toFixed(2)).padStart(9);
  const flags = [...found.flags].map(([flag, count]) => `${flag} ${((100 * count) / found.echoes).toFixed(1)}`);
  table.push(
    `${found.name.padEnd(56)}${[found.times, found.velocity, found.zeroOffset, found.path].map(share).join('')}${figure(found.biasInU)}${figure(found.uOverError)}${part(found.flagged)}${part(found.withoutNumber)}  ${flags.join(', ')}`,
  );
}

afterAll(() => {
  const head = `${'scenario'.padEnd(56)}   time  veloc.  zero   path   bias/u  u/error  flagged  no u`;
  const what = `${calibrations} calibrations each; % of 95 % intervals that hold the truth, of what is not flagged; % of echoes flagged, or without u`;
  console.log([what, head, ...table].join('\n'));
});

describe('what is not flagged lies within its 95 % interval in 93 of 100 or more', () => {
  it.each(scenarios.filter(({ expected }) => expected === 'covers'))('$name', (scenario) => {
    const found = simulated(scenario, calibrations);
    note(found);
    for (const [what, counted] of Object.entries({
      times: found.times,
      velocity: found.velocity,
      'zero offset': found.zeroOffset,
      path: found.path,
    }))
      expect(heldEnough(counted), `${what}: ${words(counted)}`).toBe(true);
    expect(found.withoutNumber).toBe(0);
    if (found.times.of >= enough) expect(found.uOverError).toBeLessThan(widest);
    // A band that cuts an echo says so; nothing else here may hide behind its flags.
    const mayFlag = /band-pass|later|cut off|wanders/.test(scenario.name) || found.flagged <= 0.03 * found.echoes;
    expect(mayFlag, `${found.flagged} of ${found.echoes} flagged`).toBe(true);
  });
});

describe('a crest that is cut off is flagged, every one', () => {
  it.each(scenarios.filter(({ expected }) => expected === 'flags'))('$name', (scenario) => {
    const found = simulated(scenario, calibrations);
    note(found);
    expect(found.flags.get('saturated')).toBe(found.echoes);
  });
});

describe('what moves all echoes alike, the calibration takes out: sound paths are covered', () => {
  it.each(scenarios.filter(({ expected }) => expected === 'cancels'))('$name', (scenario) => {
    const found = simulated(scenario, calibrations);
    note(found);
    expect(found.path.of).toBeGreaterThan(enough);
    expect(heldEnough(found.path), words(found.path)).toBe(true);
  });
});

describe('limits that the README states: where one of these is overcome, that has to change', () => {
  it.each(scenarios.filter(({ expected }) => expected === 'not covered'))('$name', (scenario) => {
    const found = simulated(scenario, calibrations);
    note(found);
    expect([found.times, found.velocity].some(({ held, of }) => of >= enough && held / of < least)).toBe(true);
  });
});
