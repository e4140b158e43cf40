import { rounded } from '../../../core/report/document.ts';
import { lengthDocument } from '../../../core/report/indication-document.ts';
import type { Indication } from '../../../core/steps/scan.ts';
import { type Answer, flagLegend, trustworthy, warningLines } from '../answer.ts';
import { conditioningFrom } from '../options.ts';
import { type ScanOptions, scanFiles } from '../scan-files.ts';
import { lengthWords } from '../scan-words.ts';

/** The lengths of what stands above the gate's threshold along a scan. */
export async function size(words: readonly string[], options: ScanOptions): Promise<Answer> {
  const { result, decision, problems, warnings } = await scanFiles(words, options);
  const flags = result.indications.flatMap(flagsOfLength);
  return {
    document: {
      step_mm: result.stepMm === null ? null : rounded(result.stepMm),
      indications: result.indications.map((indication) => ({
        name: indication.name,
        ...lengthDocument(indication),
        across: lengthDocument({ name: indication.name, length: indication.lengthAcross }),
        flags: flagsOfLength(indication),
        remarks: indication.length.remarks,
      })),
      remarks: result.remarks,
      settings: { scan: decision, conditioning: conditioningFrom(options) },
      warnings: warningLines(warnings),
    },
    words: () => lengthWords(result) + flagLegend(flags),
    trusted: trustworthy(flags) && result.indications.every(({ length }) => length.lengthMm !== null),
    problems,
    warnings,
  };
}

/** That an amplitude has no reference does not touch a length. */
function flagsOfLength({ flags }: Indication) {
  return flags.filter((flag) => flag !== 'unreferenced');
}
