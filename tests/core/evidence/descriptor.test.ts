import { describe, expect, it } from 'vitest';
import { descriptorText, type PackedFile, readDescriptor } from '../../../core/evidence/descriptor.ts';
import { resultTables } from '../../../core/evidence/result-tables.ts';

const program = { name: 'A-scan workbench', version: '1.2.3' };
const sha256 = 'a'.repeat(64);
const [, table] = resultTables({ readings: [{ file: 'a.csv', depth_mm: 15 }] });
const files: PackedFile[] = [
  { path: 'report.html', role: 'report', bytes: 10, sha256, title: 'Report', table: null },
  { path: 'results/readings.csv', role: 'results', bytes: 20, sha256, title: 'Readings', table },
  { path: 'review/a.CSV', role: 'captures', bytes: 30, sha256, title: 'Captures', table: null },
  { path: 'review/b', role: 'captures', bytes: 0, sha256, title: 'Captures', table: null },
];
const text = descriptorText(files, { title: '', program });
const descriptor = JSON.parse(text);

/** What the standard says MUST be, and its JSON schema asks for. Source: Frictionless Data, Data Package and Data Resource v1, and their JSON schemas. */
describe('a Data Package (v1)', () => {
  const resources: Record<string, never>[] = descriptor.resources;
  it('has the profile of one, a name of lower-case letters, and at least one resource', () => {
    expect(descriptor.profile).toBe('data-package');
    expect(descriptor.name).toMatch(/^([-a-z0-9._/])+$/);
    expect(resources.length).toBeGreaterThan(0);
  });
  it('an empty title is left out, for the schema asks for a text', () =>
    expect(descriptor).not.toHaveProperty('title'));
  it('each resource has a name of its own and a path that stays inside', () => {
    expect(new Set(resources.map(({ name }) => name)).size).toBe(resources.length);
    for (const { name, path } of resources) {
      expect(name).toMatch(/^([-a-z0-9._/])+$/);
      expect(path).toMatch(/^(?=^[^./~])(^((?!\.{2}).)*$).*$/);
    }
  });
  it('hashes name their algorithm, since MD5 is meant where none is named', () => {
    for (const { hash } of resources) expect(hash).toMatch(/^([^:]+:[a-fA-F0-9]+|[a-fA-F0-9]{32}|)$/);
    expect(resources[0].hash).toBe(`sha256:${sha256}`);
  });
  it('bytes, format, media type and encoding where they are known', () => {
    expect(resources.map(({ bytes, format, mediatype, encoding }) => [bytes, format, mediatype, encoding])).toEqual([
      [10, 'html', 'text/html', 'utf-8'],
      [20, 'csv', 'text/csv', 'utf-8'],
      [30, 'csv', 'text/csv', undefined],
      [0, undefined, undefined, undefined],
    ]);
  });
  it('a table of results is a tabular resource with its schema (Tabular Data Resource v1: schema and profile MUST be there)', () => {
    const [, readings] = resources;
    expect(readings.profile).toBe('tabular-data-resource');
    expect(readings.schema).toEqual({
      fields: [
        { name: 'file', type: 'string' },
        { name: 'depth_mm', type: 'number' },
      ],
      missingValues: [''],
    });
  });
});

describe('reading a descriptor', () => {
  it('of our own', () => {
    const read = readDescriptor(text);
    expect(read.ok && read.value.resources.map(({ path }) => path)).toEqual(files.map(({ path }) => path));
    expect(read.ok && read.value.evidence.program).toEqual(program);
  });

  const changed = (change: (document: typeof descriptor) => void) => {
    const document = JSON.parse(text);
    change(document);
    return JSON.stringify(document, null, 2);
  };
  it.each([
    ['not JSON', '{', /^datapackage\.json:1/, 'not-json'],
    [
      'a Data Package that is no evidence',
      changed((d) => delete d.evidence),
      /^datapackage\.json:1/,
      'descriptor-form',
    ],
    ['no resource', changed((d) => (d.resources = [])), /^datapackage\.json:\d+/, 'descriptor-form'],
    [
      'an MD5 hash, which proves nothing',
      changed((d) => (d.resources[0].hash = 'd41d8cd98f00b204e9800998ecf8427e')),
      /^datapackage\.json:\d+/,
      'descriptor-form',
    ],
    ['a length that is none', changed((d) => (d.resources[0].bytes = -1)), /^datapackage\.json:\d+/, 'descriptor-form'],
    ['a newer version', changed((d) => (d.evidence.version = 2)), /^datapackage\.json:\d+/, 'package-too-new'],
    [
      'one path twice',
      changed((d) => (d.resources[1].path = d.resources[0].path)),
      /^datapackage\.json:\d+/,
      'resource-twice',
    ],
  ])('%s', (_name, document, place, code) => {
    const read = readDescriptor(document);
    const [problem] = read.ok ? [] : read.problems;
    expect(problem?.code).toBe(code);
    expect(`${problem?.place.file}:${problem?.place.line}`).toMatch(place);
  });
});
