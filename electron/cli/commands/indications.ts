import { figureTableText } from '../../../core/report/figure-table.ts';
import { scanDocument } from '../../../core/report/indication-document.ts';
import { indicationColumns } from '../../../core/report/indications-table.ts';
import { csvText } from '../../../core/report/table-text.ts';
import { flagsOfScan } from '../../../core/steps/scan.ts';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { type Answer, flagLegend, trustworthy, warningLines } from '../answer.ts';
import { conditioningFrom } from '../options.ts';
import { type ScanOptions, scanFiles } from '../scan-files.ts';
import { indicationWords } from '../scan-words.ts';
import { refuseToOverwrite, writeOutput } from '../write-output.ts';

export interface IndicationsOptions extends ScanOptions {
  csv?: string;
  replace?: boolean;
}

/** Every indication of a scan with its place, length, amplitude and rating. */
export async function indications(words: readonly string[], options: IndicationsOptions): Promise<Answer> {
  if (options.csv !== undefined) refuseToOverwrite(options.csv, options.replace === true);
  const { result, decision, captures, problems, warnings } = await scanFiles(words, options);
  const flags = flagsOfScan(result);
  if (options.csv !== undefined) {
    const columns = indicationColumns(result.indications, metricStyle);
    const text = csvText(figureTableText(result.indications, columns, metricStyle), '.');
    await writeOutput(options.csv, text, options.replace === true);
  }
  return {
    document: {
      ...scanDocument(result, captures),
      settings: { scan: decision, conditioning: conditioningFrom(options) },
      warnings: warningLines(warnings),
    },
    words: () => indicationWords(result) + flagLegend(flags),
    trusted: trustworthy(flags),
    problems,
    warnings,
  };
}
