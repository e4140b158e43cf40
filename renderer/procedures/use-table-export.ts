import { csvText, type TextTable, tabbedText } from '../../core/report/table-text.ts';
import { fileStem } from '../host/file-stem.ts';
import type { Host } from '../host/host.ts';
import { useWorkbench } from '../state/workbench.ts';

export interface TableExport {
  /** `false` where the browser did not let it. */
  readonly copy: (table: TextTable) => Promise<boolean>;
  readonly save: (table: TextTable) => void;
}

/** Hands a table on: to the clipboard, or into a file named by the review and by what the table is of. */
export function useTableExport(host: Host, of: string): TableExport {
  const title = useWorkbench(({ name, review }) => name ?? review.title);
  const { decimalMark } = useWorkbench((workbench) => workbench.style);
  return {
    copy: (table) =>
      navigator.clipboard.writeText(tabbedText(table)).then(
        () => true,
        () => false,
      ),
    save: (table) => void host.saveText(`${fileStem(title)}-${of}.csv`, 'text/csv', csvText(table, decimalMark)),
  };
}
