import { createHash } from 'node:crypto';
import { type Difference, mostDifferences } from '../../../core/evidence/compare.ts';
import { reviewFolder } from '../../../core/evidence/contents.ts';
import { descriptorName, readDescriptor } from '../../../core/evidence/descriptor.ts';
import { type ByteSource, readZipDirectory } from '../../../core/evidence/read-zip.ts';
import { compareResults, reviewOf, verifyFiles, verifySources } from '../../../core/evidence/verify.ts';
import { failure, type Problem, problem } from '../../../core/outcome.ts';
import type { Answer } from '../answer.ts';
import { filesInPackage, openSource, type PackedFiles, packedFiles } from '../evidence-files.ts';
import { usable } from '../gather.ts';
import { program } from '../program.ts';
import { reportInput } from '../review-report.ts';
import { left, table } from '../table.ts';

/** Recomputes every hash and every result of a package, and says in which file, row and figure they differ. */
export function verify(file: string): Answer {
  const source = usable(openSource(file)).value;
  try {
    return verified(file, source);
  } finally {
    source.close();
  }
}

function verified(file: string, source: ByteSource): Answer {
  const found = packedFiles(file, source, usable(readZipDirectory(file, source)).value);
  const descriptor = usable(
    found.names.has(descriptorName)
      ? found.text(descriptorName)
      : failure(
          problem(
            'no-descriptor',
            { file },
            `there is no ${descriptorName} in the ZIP file: it is not an evidence package`,
          ),
        ),
  ).value;
  const described = usable(readDescriptor(descriptor)).value;
  const problems: Problem[] = verifyFiles(described, found);
  const { differences, compared, reportLeftOut, ...again } = anew(described, found);
  problems.push(...again.problems);
  const same = problems.length === 0 && differences.length === 0;
  const facts = {
    file,
    bytes: source.size,
    sha256: hashOf(source),
    made_by: `${described.evidence.program.name} ${described.evidence.program.version}`,
    files: described.resources.length + 1,
    results_compared: compared,
  };
  return {
    document: {
      format: 'ascan-verification',
      package: facts,
      same,
      differences,
      report_left_out: reportLeftOut,
    },
    words: () =>
      [
        `${file}: ${facts.bytes} bytes, SHA-256 ${facts.sha256}`,
        `made by ${facts.made_by}`,
        same
          ? `${facts.files} files are what was packed, and ${compared} files of results and report are the same when worked out anew.`
          : `The package is not what it says it is: ${problems.length} files or contents are wrong (on standard error), and ${countOf(differences)} figures differ.`,
        ...(differences.length === 0 ? [] : [differencesTable(differences)]),
        ...(reportLeftOut === null ? [] : [reportLeftOut]),
      ].join('\n\n'),
    trusted: same,
    problems,
    warnings: [],
  };
}

/** The results worked out anew from the packed review and captures, as far as those are there. */
function anew(described: Parameters<typeof compareResults>[0], found: PackedFiles) {
  const nothing = { differences: [] as readonly Difference[], compared: 0, reportLeftOut: null as string | null };
  const review = reviewOf(described);
  if ('code' in review) return { ...nothing, problems: [review] };
  const bytes = found.bytes(review.path);
  // That the file is missing or damaged is known by now.
  if (!bytes.ok) return { ...nothing, problems: [] };
  const input = reportInput({
    name: review.path.slice(reviewFolder.length + 1),
    bytes: bytes.value.bytes,
    files: filesInPackage(found),
    facts: (name) => {
      const facts = found.facts(`${reviewFolder}/${name}`);
      return facts.ok ? facts.value : { bytes: null, sha256: null };
    },
    program: described.evidence.program,
  });
  if (!input.ok)
    return {
      ...nothing,
      problems: input.problems.map((p) => ({ ...p, sentence: `the results cannot be worked out anew: ${p.sentence}` })),
    };
  const compared = compareResults(described, found, input.value, program.version);
  return { ...compared, problems: [...verifySources(described, input.value), ...compared.problems] };
}

function hashOf(source: ByteSource): string {
  const hash = createHash('sha256');
  const partBytes = 1 << 22;
  for (let from = 0; from < source.size; from += partBytes)
    hash.update(source.read(from, Math.min(partBytes, source.size - from)));
  return hash.digest('hex');
}

function countOf(differences: readonly Difference[]): string {
  const byFile = new Map<string, number>();
  for (const { file } of differences) byFile.set(file, (byFile.get(file) ?? 0) + 1);
  return [...byFile.values()].some((count) => count >= mostDifferences)
    ? `at least ${differences.length}`
    : String(differences.length);
}

function differencesTable(differences: readonly Difference[]): string {
  return table(
    [left('File'), left('Row'), left('Figure'), left('In the package'), left('Worked out anew')],
    differences.map(({ file, row, figure, packed, anew: again }) => [
      file,
      row === null ? '' : String(row),
      figure ?? '',
      packed ?? '(nothing)',
      again ?? '(nothing)',
    ]),
  );
}
