import * as v from 'valibot';
import { readJson } from '../located-json.ts';
import { failure, type Outcome, problem, success } from '../outcome.ts';
import { issueAtPath, schemaProblems, thoroughness } from '../schema-problems.ts';
import type { ResultTable } from './result-tables.ts';

/**
 * The descriptor of an evidence package: a Data Package (v1), so that anyone can read what is in it without this program.
 * Source: Frictionless Data, Data Package v1 (specs.frictionlessdata.io): `resources` is required; of a resource `name` (lower case, unique) and `path`; `bytes` and
 * `hash` (the algorithm before a colon where it is not MD5) are optional there and always given here; tables have the profile `tabular-data-resource` and a `schema`.
 * `role` and `evidence` are our own: the standard allows further properties.
 */
export const descriptorName = 'datapackage.json';
export const evidenceVersion = 1;

export const roles = ['review', 'review-as-saved', 'captures', 'manifest', 'recipe', 'results', 'report'] as const;
export type Role = (typeof roles)[number];

/** A file of a package. */
export interface PackedFile {
  readonly path: string;
  readonly role: Role;
  readonly bytes: number;
  readonly sha256: string;
  /** What it is, in a few words. */
  readonly title: string;
  /** For tables of results. */
  readonly table: ResultTable | null;
}

const mediaTypes: Readonly<Record<string, string>> = {
  html: 'text/html',
  json: 'application/json',
  csv: 'text/csv',
  tsv: 'text/tab-separated-values',
  txt: 'text/plain',
};

/** The text of `datapackage.json`: the same files give the same bytes. */
export function descriptorText(
  files: readonly PackedFile[],
  about: { readonly title: string; readonly program: { readonly name: string; readonly version: string } },
): string {
  const count: Partial<Record<Role, number>> = {};
  const resources = files.map((file) => {
    const number = (count[file.role] ?? 0) + 1;
    count[file.role] = number;
    return resourceOf(file, number);
  });
  return `${JSON.stringify(
    {
      profile: 'data-package',
      name: 'evidence',
      ...(about.title === '' ? {} : { title: about.title }),
      description:
        'Saved ultrasonic captures, the decisions about them (the review), all results that follow, and the report. In tables, words that begin as a spreadsheet formula does have an apostrophe before them.',
      evidence: { version: evidenceVersion, program: about.program },
      resources,
    },
    null,
    2,
  )}\n`;
}

function resourceOf({ path, role, bytes, sha256, title, table }: PackedFile, number: number) {
  const ending = /\.([a-z0-9]{1,8})$/i.exec(path)?.[1].toLowerCase();
  const mediatype = ending === undefined ? undefined : mediaTypes[ending];
  return {
    profile: table === null ? 'data-resource' : 'tabular-data-resource',
    name: table === null ? `${role}-${String(number).padStart(5, '0')}` : `${role}-${table.name}`,
    title,
    role,
    path,
    ...(ending === undefined ? {} : { format: ending }),
    ...(mediatype === undefined ? {} : { mediatype }),
    // Captures have whatever encoding their maker gave them.
    ...(role === 'captures' || role === 'manifest' ? {} : { encoding: 'utf-8' }),
    bytes,
    hash: `sha256:${sha256}`,
    ...(table === null
      ? {}
      : {
          dialect: { delimiter: ',', lineTerminator: '\r\n', quoteChar: '"', doubleQuote: true, header: true },
          schema: { fields: table.fields, missingValues: [''] },
        }),
  };
}

const text = v.pipe(v.string(), v.minLength(1), v.maxLength(1000));

/** What is asked of a descriptor from elsewhere; whatever else stands in it is let be. */
const descriptorSchema = v.object({
  evidence: v.object({
    version: v.pipe(v.number(), v.integer(), v.minValue(1)),
    program: v.object({ name: text, version: text }),
  }),
  resources: v.pipe(
    v.array(
      v.object({
        name: text,
        path: text,
        role: v.picklist(roles),
        bytes: v.pipe(v.number(), v.safeInteger(), v.minValue(0)),
        hash: v.pipe(v.string(), v.regex(/^sha256:[0-9a-f]{64}$/)),
      }),
    ),
    v.minLength(1),
    v.maxLength(20_000),
  ),
});

export type Descriptor = v.InferOutput<typeof descriptorSchema>;
export type Resource = Descriptor['resources'][number];

/**
 * Reads the descriptor of a package.
 * Problems: not JSON, not of this form, of a newer version, two resources of one path; each with line and column.
 */
export function readDescriptor(text: string): Outcome<Descriptor> {
  const json = readJson(descriptorName, text);
  if (!json.ok) return json;
  const parsed = v.safeParse(descriptorSchema, json.value.value, thoroughness(json.value));
  if (!parsed.success) return failure(...schemaProblems(parsed.issues, json.value, 'descriptor-form', issueAtPath));
  const { evidence, resources } = parsed.output;
  if (evidence.version > evidenceVersion) {
    const sentence = `the package is of version ${evidence.version}, and this program reads up to version ${evidenceVersion}; verify it with a newer program`;
    return failure(problem('package-too-new', json.value.place(['evidence', 'version']), sentence));
  }
  const seen = new Set<string>();
  const twice = resources.findIndex(({ path }) => seen.size === seen.add(path).size);
  if (twice >= 0)
    return failure(
      problem(
        'resource-twice',
        json.value.place(['resources', twice, 'path']),
        `"${resources[twice].path}" is described twice; keep one of the descriptions`,
      ),
    );
  return success(parsed.output);
}
