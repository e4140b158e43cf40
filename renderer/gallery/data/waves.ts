/** One echo: when its crest comes, and how high it stands. */
export interface Echo {
  readonly timeUs: number;
  readonly percent: number;
}

export interface Wave {
  /** Lines before the columns, as `key: value`. */
  readonly head: readonly string[];
  readonly echoes: readonly Echo[];
  /** As fast as the traces below unless said. */
  readonly samples?: number;
  readonly noisePercent?: number;
  /** Written without a unit of amplitude or of time, so that something must be asked. */
  readonly columns?: string;
  readonly seed: number;
}

const rateMHz = 50;
const frequencyMHz = 4;
const widthUs = 0.16;

/** A capture as an instrument would have saved it: a main bang, echoes as short bursts, some grass, and a screen that cuts at 100 %. */
export function waveText({ head, echoes, samples = 1300, noisePercent = 0.4, columns, seed }: Wave): string {
  const random = randomFrom(seed);
  const lines = head.map((line) => `# ${line}`);
  lines.push(columns ?? 'time_us,amplitude_pct');
  for (let i = 0; i < samples; i++) {
    const timeUs = i / rateMHz;
    let percent = noisePercent * (random() + random() - random() - random());
    percent += 140 * Math.exp(-timeUs / 0.25) * Math.cos(2 * Math.PI * frequencyMHz * timeUs);
    for (const echo of echoes) percent += echo.percent * burst(timeUs - echo.timeUs);
    lines.push(`${timeUs.toFixed(2)},${Math.min(100, Math.max(-100, percent)).toFixed(2)}`);
  }
  return `${lines.join('\n')}\n`;
}

function burst(timeUs: number): number {
  return Math.exp(-0.5 * (timeUs / widthUs) ** 2) * Math.cos(2 * Math.PI * frequencyMHz * timeUs);
}

/** The same numbers from the same seed on every machine: a linear congruential generator (multiplier and increment from Numerical Recipes, from memory). */
function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
