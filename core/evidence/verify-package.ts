import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import { openReview } from '../review/open-review.ts';
import { metricStyle } from '../units/figure-style.ts';
import { type Difference, mostDifferences } from './compare.ts';
import { reviewFolder } from './contents.ts';
import { type Descriptor, descriptorName, readDescriptor } from './descriptor.ts';
import type { ReviewFiles } from './evaluate-files.ts';
import { reportInputOf } from './review-report.ts';
import { compareResults, type FoundPackage, reviewOf, verifyFiles, verifySources } from './verify.ts';

/** The files of a package that was opened, each by its name. */
export interface OpenedPackage extends FoundPackage {
  bytes(name: string): Outcome<{ readonly bytes: Uint8Array; readonly sha256: string }>;
}

/** What came of verifying a package. */
export interface Verification {
  /** The program that made it, with its version, as the package says. */
  readonly madeBy: string;
  readonly files: number;
  /** Files of results and report that were held against ones worked out anew. */
  readonly compared: number;
  readonly same: boolean;
  readonly differences: readonly Difference[];
  /** Why the report was not held against one made anew; `null` where it was. */
  readonly reportLeftOut: string | null;
  /** What is wrong with files and contents. */
  readonly problems: readonly Problem[];
}

/**
 * Recomputes every hash and every result of a package, and says in which file, row and figure they differ.
 * Problems of the whole: `no-descriptor`, and those of `readDescriptor`.
 * @param file what the package is called @param reviewFiles the files of the packed review, by the names that it has for them
 * @param version of this program
 */
export function verifyPackage(
  file: string,
  found: OpenedPackage,
  reviewFiles: ReviewFiles,
  version: string,
): Outcome<Verification> {
  if (!found.names.has(descriptorName))
    return failure(
      problem(
        'no-descriptor',
        { file },
        `there is no ${descriptorName} in the ZIP file: it is not an evidence package`,
      ),
    );
  const text = found.text(descriptorName);
  if (!text.ok) return text;
  const described = readDescriptor(text.value);
  if (!described.ok) return described;
  const { evidence, resources } = described.value;
  const damaged = verifyFiles(described.value, found);
  const { differences, compared, reportLeftOut, ...again } = anew(described.value, found, reviewFiles, version);
  const problems = [...damaged, ...again.problems];
  return success({
    madeBy: `${evidence.program.name} ${evidence.program.version}`,
    files: resources.length + 1,
    compared,
    same: problems.length === 0 && differences.length === 0,
    differences,
    reportLeftOut,
    problems,
  });
}

/** The results worked out anew from the packed review and captures, as far as those are there. */
function anew(described: Descriptor, found: OpenedPackage, files: ReviewFiles, version: string) {
  const nothing = { differences: [] as readonly Difference[], compared: 0, reportLeftOut: null as string | null };
  const review = reviewOf(described);
  if ('code' in review) return { ...nothing, problems: [review] };
  const bytes = found.bytes(review.path);
  // That the file is missing or damaged is known by now.
  if (!bytes.ok) return { ...nothing, problems: [] };
  const name = review.path.slice(reviewFolder.length + 1);
  const opened = openReview(name, new TextDecoder('utf-8').decode(bytes.value.bytes));
  const input = opened.ok
    ? reportInputOf({
        name,
        sha256: bytes.value.sha256,
        review: opened.value,
        files,
        facts: (source) => {
          const facts = found.facts(`${reviewFolder}/${source}`);
          return facts.ok ? facts.value : { bytes: null, sha256: null };
        },
        program: described.evidence.program,
        style: metricStyle,
      })
    : opened;
  if (!input.ok)
    return {
      ...nothing,
      problems: input.problems.map((p) => ({ ...p, sentence: `the results cannot be worked out anew: ${p.sentence}` })),
    };
  const compared = compareResults(described, found, input.value, version);
  return { ...compared, problems: [...verifySources(described, input.value), ...compared.problems] };
}

/** How many figures differ, in words: of a file with many, not all are counted. */
export function differencesCounted(differences: readonly Difference[]): string {
  const byFile = new Map<string, number>();
  for (const { file } of differences) byFile.set(file, (byFile.get(file) ?? 0) + 1);
  return [...byFile.values()].some((count) => count >= mostDifferences)
    ? `at least ${differences.length}`
    : String(differences.length);
}
