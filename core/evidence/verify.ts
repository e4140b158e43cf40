import type { Outcome, Problem } from '../outcome.ts';
import { problem } from '../outcome.ts';
import type { ReportInput } from '../report/page/report-input.ts';
import { compareDocuments, compareLines, compareTables, type Difference } from './compare.ts';
import { madeFiles, reviewFolder } from './contents.ts';
import { type Descriptor, descriptorName, type Resource } from './descriptor.ts';

/** A package as it was found: what is really there, by name. */
export interface FoundPackage {
  readonly names: ReadonlySet<string>;
  /** Length and SHA-256 of a file; problems where it is damaged. */
  facts(name: string): Outcome<{ readonly bytes: number; readonly sha256: string }>;
  text(name: string): Outcome<string>;
}

/** What is wrong with the files of a package, against its own descriptor; nothing where each is there, is whole, and is what was packed. */
export function verifyFiles({ resources }: Descriptor, found: FoundPackage): Problem[] {
  const described = new Set([descriptorName, ...resources.map(({ path }) => path)]);
  const extra = [...found.names].filter((name) => !described.has(name));
  return [
    ...resources.flatMap((resource) => verifyFile(resource, found)),
    ...extra.map((name) =>
      problem('extra-file', { file: name }, `the file is in the package, but ${descriptorName} does not describe it`),
    ),
  ];
}

function verifyFile({ path, bytes, hash }: Resource, found: FoundPackage): readonly Problem[] {
  if (!found.names.has(path))
    return [
      problem('missing-file', { file: path }, `${descriptorName} describes the file, but it is not in the package`),
    ];
  const facts = found.facts(path);
  if (!facts.ok) return facts.problems.map((p) => ({ ...p, place: { ...p.place, file: path } }));
  if (facts.value.bytes !== bytes)
    return [
      problem(
        'other-length',
        { file: path },
        `the file has ${facts.value.bytes} bytes, and ${bytes} are stated: it is not what was packed`,
      ),
    ];
  const sha256 = hash.slice('sha256:'.length);
  if (facts.value.sha256 !== sha256)
    return [
      problem(
        'other-hash',
        { file: path },
        `the file’s SHA-256 is ${facts.value.sha256}, and ${sha256} is stated: it is not what was packed`,
      ),
    ];
  return [];
}

/** The one review of a package, and what it is called there; problems where there is none or more than one. */
export function reviewOf({ resources }: Descriptor): Resource | Problem {
  const reviews = resources.filter(({ role }) => role === 'review');
  const [review] = reviews;
  if (review === undefined || reviews.length > 1)
    return problem(
      'no-review',
      { file: descriptorName },
      `the package holds ${reviews.length} reviews, and one is needed: the results cannot be worked out anew`,
    );
  if (!review.path.startsWith(`${reviewFolder}/`))
    return problem(
      'no-review',
      { file: review.path },
      `the review does not lie in the folder ${reviewFolder}: the files that it names cannot be found`,
    );
  return review;
}

/** What is wrong with the files that the review names: each must be described as such, and be the very file that the review took in. */
export function verifySources({ resources }: Descriptor, { review, sources }: ReportInput): Problem[] {
  const described = new Set(
    resources.filter(({ role }) => role === 'captures' || role === 'manifest').map(({ path }) => path),
  );
  return [...review.sources, ...review.manifests].flatMap(({ file, sha256 }) => {
    const place = { file: `${reviewFolder}/${file}` };
    if (!described.has(place.file))
      return [
        problem(
          'undescribed-source',
          place,
          `the review names the file, but ${descriptorName} does not describe it as captures or a manifest`,
        ),
      ];
    const found = sources.find((source) => source.file === file)?.sha256 ?? null;
    if (sha256 === null || found === null || found === sha256) return [];
    return [problem('not-of-review', place, `the file’s SHA-256 is ${found}, and the review took in one of ${sha256}`)];
  });
}

export interface ComparedResults {
  readonly differences: readonly Difference[];
  readonly problems: readonly Problem[];
  /** Files that were held against one worked out anew. */
  readonly compared: number;
  /** Why the report was not held against one made anew; `null` where it was. */
  readonly reportLeftOut: string | null;
}

/**
 * Holds every result in a package against the same worked out anew from its captures and its review: figures by their written digits. The report is made again as well,
 * where this program is the one that made it: another version may set it otherwise, and its hash is verified all the same.
 */
export function compareResults(
  { resources, evidence }: Descriptor,
  found: FoundPackage,
  anew: ReportInput,
  version: string,
): ComparedResults {
  const differences: Difference[] = [];
  const problems: Problem[] = [];
  const made = madeFiles({ ...anew, program: evidence.program });
  const isSame = evidence.program.version === version;
  let compared = 0;
  for (const file of made) {
    if (file.role === 'report' && !isSame) continue;
    const packed = found.names.has(file.path) ? found.text(file.path) : null;
    if (packed === null) {
      problems.push(
        problem(
          'missing-result',
          { file: file.path },
          'the results worked out anew have this file, and the package does not',
        ),
      );
      continue;
    }
    if (!packed.ok) continue;
    compared += 1;
    const compare = file.table !== null ? compareTables : file.role === 'report' ? compareLines : compareDocuments;
    differences.push(...compare(file.path, packed.value, file.text));
  }
  const wanted = new Set(made.map(({ path }) => path));
  for (const { path, role } of resources)
    if ((role === 'results' || role === 'recipe' || role === 'report') && !wanted.has(path))
      problems.push(
        problem(
          'extra-result',
          { file: path },
          'the package has this file of results, and the results worked out anew do not',
        ),
      );
  return {
    differences,
    problems,
    compared,
    reportLeftOut: isSame
      ? null
      : `the report was made by version ${evidence.program.version} and this is version ${version}, which may set it otherwise: its SHA-256 was verified, and it was not made again`,
  };
}
