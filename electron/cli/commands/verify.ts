import { createHash } from 'node:crypto';
import type { Difference } from '../../../core/evidence/compare.ts';
import { type ByteSource, readZipDirectory } from '../../../core/evidence/read-zip.ts';
import { differencesCounted, verifyPackage } from '../../../core/evidence/verify-package.ts';
import type { Answer } from '../answer.ts';
import { filesInPackage, openSource, packedFiles } from '../evidence-files.ts';
import { usable } from '../gather.ts';
import { program } from '../program.ts';
import { left, printable, table } from '../table.ts';

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
  const { madeBy, files, compared, same, differences, reportLeftOut, problems } = usable(
    verifyPackage(file, found, filesInPackage(found), program.version),
  ).value;
  const facts = {
    file,
    bytes: source.size,
    sha256: hashOf(source),
    made_by: madeBy,
    files,
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
        `${printable(file)}: ${facts.bytes} bytes, SHA-256 ${facts.sha256}`,
        printable(`made by ${madeBy}`),
        same
          ? `${files} files are what was packed, and ${compared} files of results and report are the same when worked out anew.`
          : `The package is not what it says it is: ${problems.length} files or contents are wrong (on standard error), and ${differencesCounted(differences)} figures differ.`,
        ...(differences.length === 0 ? [] : [differencesTable(differences)]),
        ...(reportLeftOut === null ? [] : [printable(reportLeftOut)]),
      ].join('\n\n'),
    trusted: same,
    problems,
    warnings: [],
  };
}

function hashOf(source: ByteSource): string {
  const hash = createHash('sha256');
  const partBytes = 1 << 22;
  for (let from = 0; from < source.size; from += partBytes)
    hash.update(source.read(from, Math.min(partBytes, source.size - from)));
  return hash.digest('hex');
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
