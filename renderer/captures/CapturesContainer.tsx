import { useDeferredValue, useMemo } from 'react';
import { Button } from '../parts/Button.tsx';
import { useWorkbench } from '../state/workbench.ts';
import { CaptureList } from './CaptureList.tsx';
import { captureRows, flagsByCapture } from './capture-row.ts';

/** The list of captures, connected to the workbench. */
export function CapturesContainer({ onConcern }: { readonly onConcern: () => void }) {
  const actions = useWorkbench((workbench) => workbench.actions);
  // Of thousands of files the list is made between two frames, and not before the next one.
  const files = useDeferredValue(useWorkbench((workbench) => workbench.files));
  const evaluation = useDeferredValue(useWorkbench((workbench) => workbench.evaluation));
  const selected = useWorkbench((workbench) => workbench.selected);
  const overlaid = useWorkbench((workbench) => workbench.overlaid);
  const importing = useDeferredValue(useWorkbench((workbench) => workbench.importing));
  const style = useWorkbench((workbench) => workbench.style);
  const sort = useWorkbench(({ layout }) => layout.captureOrder);
  const flags = useMemo(() => flagsByCapture(evaluation), [evaluation]);
  const rows = useMemo(() => captureRows(files.values(), flags), [files, flags]);
  return (
    <CaptureList
      rows={rows}
      selected={selected}
      onSelect={actions.select}
      overlaid={overlaid}
      onOverlay={actions.overlay}
      onConcern={onConcern}
      style={style}
      reading={importing}
      sort={sort}
      onSort={(captureOrder) => actions.setLayout((layout) => ({ ...layout, captureOrder }))}
      actions={<Button onPress={() => void actions.openFiles()}>Open captures …</Button>}
    />
  );
}
