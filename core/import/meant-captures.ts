import type { Capture } from '../capture/capture.ts';
import { failure, type Outcome, problem, success } from '../outcome.ts';
import type { ImportedFile } from './import-file.ts';
import { describedBy, type Manifest } from './manifest.ts';

/**
 * The captures that are meant of a file: all of its traces or the one named, with what the manifests know of them.
 * Problems: the file's own, what must be asked about it, `no-such-trace`.
 */
export function meantCaptures(
  imported: Outcome<ImportedFile>,
  input: { readonly file: string; readonly trace: string | null },
  manifests: readonly Manifest[],
): Outcome<readonly Capture[]> {
  if (!imported.ok) return imported;
  const { captures, asks, warnings } = imported.value;
  if (asks.length > 0) return failure(...asks);
  const meant =
    input.trace === null
      ? captures
      : captures.filter((capture, i) => capture.trace === input.trace || String(i + 1) === input.trace);
  if (meant.length === 0) {
    const names = captures
      .map((capture) => capture.trace)
      .slice(0, 20)
      .join(', ');
    return failure(
      problem(
        'no-such-trace',
        { file: input.file },
        `the file has no trace "${input.trace}"; it has ${captures.length}: ${names}`,
      ),
    );
  }
  const described = manifests.length === 0 ? meant : meant.map((capture) => manifests.reduce(describedBy, capture));
  return success(described, warnings);
}
