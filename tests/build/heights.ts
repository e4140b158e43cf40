import type { SteppedReading } from '../../core/linearity/height-reading.ts';
import type { LinearityRule } from '../../core/linearity/rule.ts';
import { publishedLinearityRules } from '../../core/linearity/rule.ts';
import type { EchoPair } from '../../core/linearity/two-echo.ts';

/** A height read at a setting of the gain; named by its place unless a name is given. */
export function height(
  percent: number | null,
  levelDb: number | null,
  { u = 0 as number | null, flags = [] as SteppedReading['flags'], captureId = `${percent} % at ${levelDb} dB` } = {},
): SteppedReading {
  return {
    captureId,
    levelDb,
    percent: percent === null ? null : { value: percent, standardUncertainty: u },
    timeUs: percent === null ? null : 10,
    flags: percent === null ? ['no-echo'] : flags,
    from: { first: 0, last: 9 },
  };
}

/** Two echoes in one capture. */
export function pair(
  larger: number,
  smaller: number,
  {
    u = 0 as number | null,
    largerFlags = [] as SteppedReading['flags'],
    smallerFlags = [] as SteppedReading['flags'],
  } = {},
): EchoPair {
  return {
    captureId: `${larger} and ${smaller} %`,
    larger: height(larger, null, { u, flags: largerFlags }),
    smaller: height(smaller, null, { u, flags: smallerFlags }),
  };
}

/** The height of an echo of 80 % at 40 dB, at another gain of a gain control that is worth `worth` dB to the dB. */
export const heightAt = (gainDb: number, { set = 80, at = 40, worth = 1 } = {}): number =>
  set * 10 ** ((worth * (gainDb - at)) / 20);

export function publishedRule<Name extends string>(name: Name): LinearityRule {
  const rule = publishedLinearityRules.find((candidate) => candidate.name === name);
  if (rule === undefined) throw new Error(`no rule ${name}`);
  return rule;
}
