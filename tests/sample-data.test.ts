import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const folder = fileURLToPath(new URL('../sample-data/', import.meta.url));
const truth = JSON.parse(readFileSync(`${folder}truth.json`, 'utf8'));

/** Rows of numbers, read with as little as possible: these files' forms are known. `scale` takes each column to µs and % FSH. */
function rows(file: string, scale = [1, 1]): number[][] {
  const numeric = readFileSync(folder + file, 'utf8')
    .split(/\r?\n/)
    .filter((line) => /^-?\d/.test(line));
  return numeric.map((line) =>
    line
      .split(/[;\t]|,(?=-?\d+\.)/)
      .map((cell, column) => Number(cell.replace(',', '.')) * (scale[column] ?? scale[1])),
  );
}

function highest(table: number[][], fromUs: number, toUs: number, column = 1): number {
  return Math.max(...table.filter(([t]) => t >= fromUs && t <= toUs).map((row) => Math.abs(row[column])));
}

/** A crest of the carrier lies under the envelope's peak, by 1 − cos(π f/fs) at most, and noise (0.3 % and 0.5 %) lies on it. */
function expectCrest(table: number[][], echo: { time_us: number; amplitude_percent: number }, column = 1): void {
  const crest = highest(table, echo.time_us - 0.2, echo.time_us + 0.2, column);
  expect(crest).toBeGreaterThan(echo.amplitude_percent * 0.92 - 2.5);
  expect(crest).toBeLessThan(echo.amplitude_percent * 1.01 + 2.5);
}

describe('the demonstration data', () => {
  it('are byte for byte what the script makes', () => {
    const check = spawnSync(process.execPath, [`${folder}make.mjs`, '--check'], { encoding: 'utf8' });
    expect(check.stderr).toBe('');
    expect(check.status).toBe(0);
  });

  it('stay under 8 MB together', () => {
    const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
    const bytes = files.reduce((sum, entry) => sum + statSync(`${entry.parentPath}/${entry.name}`).size, 0);
    expect(files.length).toBeGreaterThan(40);
    expect(bytes).toBeLessThan(8e6);
  });

  it('show the quadrant’s echoes and the saw cut’s where the truth has them', () => {
    const table = rows('reference-block.csv');
    const { reflectors, belongs_to_no_reflector } = truth.reference_block;
    expect(reflectors).toHaveLength(3);
    for (const echo of [...reflectors, ...belongs_to_no_reflector]) expectCrest(table, echo);
  });

  it('show every step’s first echo', () => {
    expect(truth.step_block.steps).toHaveLength(3);
    for (const step of truth.step_block.steps) expectCrest(rows(step.file), step.echoes[0]);
  });

  it('show the hole at every position but the one without coupling, and clip the one with too much gain', () => {
    for (const capture of truth.hole_series.captures) {
      const table = rows(capture.file);
      if (!capture.coupled) expect(highest(table, 13, 15)).toBeLessThan(3);
      else if (capture.saturated) expect(highest(table, 13, 15)).toBe(100);
      else expectCrest(table, capture);
    }
  });

  it('show both radii in every check of the shift', () => {
    for (const check of truth.shift.checks) {
      const table = rows(check.file, [1e-3, 100 / 0.8]);
      for (const echo of check.reflectors) expectCrest(table, echo);
    }
  });

  it('show each target of the weld at its place along it', () => {
    for (const pass of truth.plate_weld.passes) {
      const table = rows(pass.file);
      for (const target of pass.targets.filter((t: { geometry: boolean; name: string }) => t.name !== 'porosity')) {
        const middle = (target.from_mm + target.to_mm) / 2;
        const column = 1 + Math.round((middle - pass.first_position_mm) / pass.every_mm);
        const crest = highest(table, target.time_us - 0.2, target.time_us + 0.2, column);
        // Geometry is uneven along the weld by 12 %, grain and white noise have 1.2 % and 0.5 %.
        expect(crest).toBeGreaterThan(target.amplitude_percent * 0.8 - 4);
        expect(crest).toBeLessThan(target.amplitude_percent * 1.13 + 4);
      }
    }
  });

  it('show the cap’s edge lower by what the wet finger took, and the side wall’s echo as it was but for the coupling', () => {
    const { before, after, position_mm, coupling_change_db, cap_edge_change_db } = truth.plate_weld.damping;
    expect(position_mm).toBe(130);
    expect(cap_edge_change_db).toBeLessThan(-6);
    const { targets } = truth.plate_weld.passes[1];
    const [sideWall, capEdge] = ['lack of side-wall fusion', 'cap edge'].map((name) =>
      targets.find((target: { name: string }) => target.name === name),
    );
    const change = ({ time_us }: { time_us: number }) => {
      const [then, now] = [before, after].map((file) => highest(rows(file), time_us - 0.2, time_us + 0.2));
      return 20 * Math.log10(now / then);
    };
    // Grain and white noise of 1.2 % and 0.5 % on a crest of 85 %, and on one of 16 %.
    expect(Math.abs(change(sideWall) - coupling_change_db)).toBeLessThan(0.8);
    expect(Math.abs(change(capEdge) - cap_edge_change_db)).toBeLessThan(2);
  });

  it('show every echo of the instruments on the bench, and none above where its screen stops', () => {
    const { sound, gain_drifts, time_base_bends, clips } = truth.instruments;
    for (const bench of [sound, gain_drifts, time_base_bends, clips]) {
      for (const step of [...bench.two_echo, ...bench.one_echo, ...bench.four_settings]) {
        const table = rows(`${bench.folder}/${step.file}`);
        for (const echo of step.larger ? [step.larger, step.smaller] : [step]) {
          const crest = highest(table, echo.time_us - 0.2, echo.time_us + 0.2);
          // Detected: the sample nearest the top is at most 0.4 % lower than the top, and noise has 0.12 %.
          expect(Math.abs(crest - echo.amplitude_percent)).toBeLessThan(0.8);
          expect(crest).toBeLessThanOrEqual(bench.clips_at_percent);
        }
      }
    }
    expect(clips.two_echo[0].larger).toMatchObject({ amplitude_percent: 96, cut_off: true });
  });
});
