import { execFile, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readZipDirectory } from '../../core/evidence/read-zip.ts';
import { sourceOf } from '../build/zip.ts';
import { hostileCapture, hostileReview, reviewOfAll } from './hostile-review.ts';
import { hostileTexts, unseen } from './hostile-texts.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'workbench-terminal-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Colours, a link, a control of eight bits, an override of direction, and a line that looks like one of ours. */
const name = 'x\nFORGED  pass \u001b[31m\u001b]8;;mailto:x@elsewhere.example\u0007\u009b2J\u202Efdp';
const at = (file: string) => join(folder, file);
const file = at(`${name}.csv`);
const own = (kind: string) => at(`${kind} ${name}.json`);

interface Ran {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

function cli(...words: string[]): Promise<Ran> {
  return new Promise((resolve) => {
    execFile(process.execPath, [`${root}electron/cli/run.mjs`, ...words], { cwd: root }, (error, out, err) =>
      resolve({ status: typeof error?.code === 'number' ? error.code : 0, out, err }),
    );
  });
}

beforeAll(async () => {
  spawnSync(process.execPath, ['electron/cli/run.mjs', 'blocks'], { cwd: root });
  const text = hostileCapture(name);
  writeFileSync(file, text);
  mkdirSync(at(`scan ${name}`));
  for (const [i, one] of ['a', 'b', 'c'].entries())
    writeFileSync(
      at(`scan ${name}/${one} ${name}.csv`),
      text.replace('# gain_db', `# position_mm: ${i * 5}\n# gain_db`).replaceAll(/# (title|operator): .*\n/g, ''),
    );
  hostileReview(name, folder);
  const rule = JSON.parse(readFileSync(`${root}core/check/rules/iso-17640.json`, 'utf8'));
  writeFileSync(
    own('rule'),
    JSON.stringify({ ...rule, name: 'own', title: name, edition: name, clause: name, source: name }),
  );
  const made = await cli('calibrate', `${file}#second_pct`, ...unit, ...reflectors, '--json');
  writeFileSync(own('cal'), made.out);
}, 120_000);

const unit = ['--amplitude-unit', 'percent'];
const reflectors = ['--reflector', '11mm@3us..5us', '--reflector', '28mm@9us..11us'];
const gate = ['--gate', `${name}=3us..5us@20`];
const paths = ['--gate', `${name}=8mm..16mm@20`];

describe('a name that would steer the terminal, wherever a command says it', () => {
  it.each<[string, () => string[]]>([
    ['describe', () => ['describe', folder]],
    ['echoes', () => ['echoes', file, ...unit]],
    ['calibrate', () => ['calibrate', `${file}#second_pct`, ...unit, ...reflectors]],
    ['read', () => ['read', file, ...unit, '--calibration', own('cal'), ...gate]],
    [
      'locate',
      () => ['locate', file, ...unit, '--calibration', own('cal'), ...paths, '--angle', '60', '--thickness', '16mm'],
    ],
    [
      'drift by a rule of one’s own',
      () => [
        'drift',
        `${file}#second_pct`,
        ...unit,
        '--calibration',
        own('cal'),
        '--reflector',
        '11mm@3us..5us',
        '--amplitude',
        '60',
        '--range',
        '100mm',
        '--rule',
        own('rule'),
      ],
    ],
    ['probe', () => ['probe', file, ...unit, '--gate', '3us..5us']],
    ['compare', () => ['compare', at(`scan ${name}`), ...unit, '--by', 'probe', '--gate', '3us..5us']],
    ['attenuation', () => ['attenuation', `${file}#second_pct`, ...unit, ...reflectors, '--velocity', '5920m/s']],
    ['linearity', () => ['linearity', 'time-base', `${file}#second_pct`, ...unit, ...reflectors]],
    [
      'material',
      () => [
        'material',
        `${file}#second_pct`,
        ...unit,
        '--spreading',
        'far-field',
        '--thickness',
        '11mm',
        '--echo',
        '1@3us..5us',
        '--echo',
        '2@9us..11us',
      ],
    ],
    ['size', () => ['size', at(`scan ${name}`), ...unit, '--calibration', own('cal'), ...paths]],
    ['indications', () => ['indications', at(`scan ${name}`), ...unit, '--calibration', own('cal'), ...paths]],
    ['evaluate', () => ['evaluate', at('review.json')]],
    ['report', () => ['report', at('review.json'), '--out', at(`report ${name}`)]],
    ['package', () => ['package', at('review.json'), '--out', at(`${name}.zip`)]],
    ['verify what is no package', () => ['verify', file]],
    ['a file that is not there', () => ['echoes', at(`gone ${name}.csv`)]],
    ['a trace that is not there', () => ['echoes', `${file}#${name}`]],
    ['a gate that is none', () => ['read', file, '--gate', name]],
    ['an option that is none', () => ['echoes', `--${name}`]],
    ['a command that is none', () => [name]],
    ['a value that is none', () => ['echoes', file, '--above', name]],
    [
      'a rule that is none',
      () => ['drift', file, '--calibration', own('cal'), '--reflector', '11mm@3us..5us', '--rule', name],
    ],
    ['a calibration that is none', () => ['read', file, '--calibration', file, ...gate]],
  ])('%s', async (_name, words) => {
    const { out, err } = await cli(...words());
    expect(out + err).not.toBe('');
    expect(out + err).not.toMatch(unseen);
    expect(`${out}\n${err}`).not.toMatch(/^\s*FORGED/m);
    // And yet it is there to be read.
    expect(out + err).toContain('FORGED  pass \\u001b[31m');
  });
});

describe('what a review and a package may touch', () => {
  it('a review with all hostile names, packed and verified: nothing is written but the package, and it is what was packed', async () => {
    const place = at('all');
    mkdirSync(place);
    const path = reviewOfAll(
      hostileTexts.map(({ text }) => text),
      place,
    );
    const before = readdirSync(place, { recursive: true }).sort();
    const zip = at('all.zip');
    const packed = await cli('package', path, '--out', zip);
    const verified = await cli('verify', zip);
    expect([packed.err, verified.status]).toEqual([packed.err, 0]);
    expect(readdirSync(place, { recursive: true }).sort()).toEqual(before);
  }, 120_000);

  it.each([
    ['upwards', '../outside.csv'],
    ['an absolute path', '/etc/passwd'],
    ['upwards, on Windows', '..\\outside.csv'],
  ])('a review that names a file %s packs nothing into a place outside', async (_name, named) => {
    const place = mkdtempSync(join(folder, 'inner-'));
    const { path } = hostileReview('plain', place);
    writeFileSync(at('outside.csv'), readFileSync(join(place, 'plain.csv')));
    writeFileSync(path, readFileSync(path, 'utf8').replaceAll('plain.csv', JSON.stringify(named).slice(1, -1)));
    const zip = join(place, 'out.zip');
    const { status, out, err } = await cli('package', path, '--out', zip);
    if (status === 2) {
      expect(err).not.toBe('');
      return;
    }
    expect(out).toContain('SHA-256');
    const entries = readZipDirectory('out.zip', sourceOf(readFileSync(zip)));
    const names = entries.ok ? entries.value.map((entry) => entry.name) : [];
    expect(names.length).toBeGreaterThan(3);
    expect(names.filter((one) => /^\/|\.\.|\\|^[a-z]:/i.test(one))).toEqual([]);
  });

  it.each(['__proto__', 'constructor'])(
    'what is called %s is a name like any other: the same figures',
    async (called) => {
      const read = async (word: string) => {
        const place = mkdtempSync(join(folder, 'named-'));
        const one = join(place, `${word}.csv`);
        writeFileSync(one, hostileCapture(word));
        const { out } = await cli(
          'read',
          one,
          ...unit,
          '--calibration',
          own('cal'),
          '--gate',
          `${word}=3us..5us@20`,
          '--json',
        );
        return out.replaceAll(place, '').replaceAll(word, 'NAME');
      };
      expect(await read(called)).toBe(await read('ordinary'));
    },
  );
});
