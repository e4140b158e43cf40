import { useEffect, useRef } from 'react';
import type { Shell } from '../state/command.ts';
import { useWorkbench } from '../state/workbench.ts';

/** Where files were taken in that cannot be measured with as they are, the import comes into sight: what is wrong and what is asked stand there. */
export function useConcerns({ openProcedures }: Pick<Shell, 'openProcedures'>): void {
  const importing = useWorkbench((workbench) => workbench.importing !== null);
  const concerns = useWorkbench(({ files }) => [...files.values()].filter(({ state }) => state !== 'ready').length);
  const setProcedure = useWorkbench(({ actions }) => actions.setProcedure);
  const known = useRef(concerns);
  useEffect(() => {
    // Not while files are still being read: whoever has turned elsewhere is called back once, not with every file.
    if (importing) return;
    if (concerns > known.current) {
      setProcedure('import');
      openProcedures();
    }
    known.current = concerns;
  }, [importing, concerns, setProcedure, openProcedures]);
}
