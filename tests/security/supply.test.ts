import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { licences } from '../../electron/licences.mjs';
import { judged, notAnswered } from './audit.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const read = (name: string) => readFileSync(join(root, name), 'utf8');

interface Locked {
  readonly version?: string;
  readonly integrity?: string;
  readonly resolved?: string;
  readonly link?: boolean;
  readonly optional?: boolean;
  readonly dev?: boolean;
  readonly hasInstallScript?: boolean;
}

const lock: { readonly lockfileVersion: number; readonly packages: Readonly<Record<string, Locked>> } = JSON.parse(
  read('package-lock.json'),
);
const packages = Object.entries(lock.packages).filter(([path]) => path !== '');

/** Packages that may run a script of their own as they are installed. There are none: one that comes in has to be named here, by whoever has read it. */
const mayRunScripts: readonly string[] = [];

/** Of these the package itself holds no text of its licence. */
const bringNoText: readonly string[] = ['client-only', 'fft.js'];

/** What npm runs when a package is installed; `binding.gyp` alone makes it run a compiler. */
function installScripts(path: string): string[] {
  const manifest = join(root, path, 'package.json');
  if (!existsSync(manifest)) return [];
  const { scripts = {} } = JSON.parse(readFileSync(manifest, 'utf8'));
  return [
    ...['preinstall', 'install', 'postinstall'].filter((name) => name in scripts),
    ...(existsSync(join(root, path, 'binding.gyp')) ? ['binding.gyp'] : []),
  ];
}

/** What is wrong with how a package is locked. */
function lockFaults([path, { integrity, resolved, link, version }]: readonly [string, Locked]): string[] {
  return [
    ...(/^sha512-[A-Za-z0-9+/]{86}==$/.test(integrity ?? '') ? [] : [`${path}: no SHA-512 of it`]),
    ...(resolved === undefined || resolved.startsWith('https://registry.npmjs.org/')
      ? []
      : [`${path}: from ${resolved}`]),
    ...(link === true ? [`${path}: a link`] : []),
    ...(/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version ?? '') ? [] : [`${path}: version ${version}`]),
  ];
}

describe('what the program is built from', () => {
  it('is locked, each package by its version and its SHA-512, from the public registry or from none', () => {
    expect(lock.lockfileVersion).toBe(3);
    expect(packages.length).toBeGreaterThan(100);
    expect(packages.flatMap(lockFaults)).toEqual([]);
  });

  it.each<[string, Locked]>([
    ['without a hash', { version: '1.0.0' }],
    ['with a weak hash', { version: '1.0.0', integrity: 'sha1-2jmj7l5rSw0yVb/vlWAYkK/YBwk=' }],
    ['from another address', { ...good(), resolved: 'git+ssh://git@elsewhere.example/x.git' }],
    [
      'from an address that begins alike',
      { ...good(), resolved: 'https://registry.npmjs.org.elsewhere.example/x.tgz' },
    ],
    ['that is a link', { ...good(), link: true }],
    ['without a version', { integrity: good().integrity! }],
  ])('a package %s would be refused', (_name, locked) => {
    expect(lockFaults(['node_modules/x', locked])).not.toEqual([]);
    expect(lockFaults(['node_modules/x', good()])).toEqual([]);
  });

  it('runs no script as it is installed that is not named here', () => {
    const bySaying = packages.filter(([, { hasInstallScript }]) => hasInstallScript === true).map(([path]) => path);
    const byLooking = packages.filter(([path]) => installScripts(path).length > 0).map(([path]) => path);
    expect([...new Set([...bySaying, ...byLooking])].filter((path) => !mayRunScripts.includes(path))).toEqual([]);
    // What is looked at is really there: all but what other systems need.
    const missing = packages.filter(([path]) => !existsSync(join(root, path, 'package.json')));
    expect(missing.filter(([, { optional }]) => optional !== true).map(([path]) => path)).toEqual([]);
  });

  it('is asked for by exact versions, and by nothing that is no version', () => {
    const { dependencies, devDependencies } = JSON.parse(read('package.json'));
    const asked = Object.entries<string>({ ...dependencies, ...devDependencies });
    expect(asked.filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
  });

  it('is installed by the lock file in what is checked everywhere', () => {
    expect(read('.ci/run')).toMatch(/^npm ci$/m);
    expect(read('.npmrc')).not.toMatch(/registry|_auth|ignore-scripts=false/);
  });

  it('goes with the words of each licence; what brings none is said so', () => {
    const shipped = licences().split(`\n${'─'.repeat(80)}\n\n`);
    expect(shipped.length).toBeGreaterThan(10);
    const short = shipped.filter((entry) => entry.split('\n').length < 8);
    expect(short.map((entry) => entry.replace(/ [\d.]+: /, ' ').trim())).toEqual(
      bringNoText.map((name) => `${name} MIT\n\nThe package brings no text of its licence.`),
    );
  });
});

describe('what is built of it for the page', () => {
  const folder = join(root, 'build/renderer');
  const files = existsSync(folder)
    ? readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => /\.(js|css|html|svg)$/.test(name))
    : [];

  it.skipIf(files.length === 0)('names nothing elsewhere that would be loaded, and no map of its sources', () => {
    const loaded =
      /sourceMappingURL|@import\s|url\(\s*['"]?(?!data:|\.|#|["']?\/)[a-z]+:|\b(?:src|href)=["'](?:https?:)?\/\/|\bimport\(\s*["'](?:https?:)?\/\/|importScripts/;
    const found = files.filter((name) => loaded.test(readFileSync(join(folder, name), 'utf8')));
    expect(found).toEqual([]);
  });

  it.skipIf(files.length === 0)('has no script within its page: all are files of its own', () => {
    const page = readFileSync(join(folder, 'index.html'), 'utf8');
    expect(page).not.toMatch(/<script(?![^>]*\ssrc="\.\/)/);
    expect(page).not.toMatch(/\son\w+=|<style|style=/);
  });
});

describe('known advisories', () => {
  const known = { packages: { '': {}, 'node_modules/shown': {}, 'node_modules/tool': { dev: true } } };
  const report = (name: string, severity: string) => ({
    auditReportVersion: 2,
    vulnerabilities: { [name]: { name, severity, range: '<2.0.0', nodes: [`node_modules/${name}`] } },
  });

  it.each([
    ['none', { auditReportVersion: 2, vulnerabilities: {} }, 0, /: 0, of which 0/],
    ['high in what is shipped', report('shown', 'high'), 1, /shown <2\.0\.0: high, shipped/],
    ['critical in what is shipped', report('shown', 'critical'), 1, /of which 1/],
    ['moderate in what is shipped', report('shown', 'moderate'), 0, /shown <2\.0\.0: moderate, shipped/],
    ['critical in what only builds it', report('tool', 'critical'), 0, /tool <2\.0\.0: critical, for development only/],
    ['in a package that the lock file does not know', report('other', 'high'), 1, /other/],
    [
      'a registry that refuses',
      { message: '405 Method Not Allowed - POST', error: {} },
      notAnswered,
      /did not answer \(405/,
    ],
    ['no answer at all', null, notAnswered, /did not answer/],
    ['another form of report', { auditReportVersion: 3, vulnerabilities: {} }, notAnswered, /did not answer/],
  ])('%s', (_name, told, status, words) => {
    const { status: given, lines } = judged(told, known);
    expect(given).toBe(status);
    expect(lines.join('\n')).toMatch(words);
  });
});

function good(): Locked {
  return { version: '1.0.0', integrity: `sha512-${'A'.repeat(86)}==` };
}
