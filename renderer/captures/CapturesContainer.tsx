import { useMemo } from 'react';
import { Button } from '../parts/Button.tsx';
import { useWorkbench } from '../state/workbench.ts';
import { CaptureList } from './CaptureList.tsx';
import { captureRows, flagsByCapture } from './capture-row.ts';

/** The list of captures, connected to the workbench. */
export function CapturesContainer({ onConcern }: { readonly onConcern: () => void }) {
  const actions = useWorkbench((workbench) => workbench.actions);
  const files = useWorkbench((workbench) => workbench.files);
  const evaluation = useWorkbench((workbench) => workbench.evaluation);
  const selected = useWorkbench((workbench) => workbench.selected);
  const overlaid = useWorkbench((workbench) => workbench.overlaid);
  const importing = useWorkbench((workbench) => workbench.importing);
  const style = useWorkbench((workbench) => workbench.style);
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
      actions={<Button onPress={() => void actions.openFiles()}>Open captures …</Button>}
    />
  );
}
