import { useCallback, useDeferredValue, useMemo, useState } from 'react';
import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import type { Engine } from '../engine/engine.ts';
import type { Preview } from '../engine/messages.ts';
import type { Host } from '../host/host.ts';
import { useWorkbench } from '../state/workbench.ts';
import type { OpenedSource } from '../state/workbench-state.ts';
import { useAnswer } from '../trace/use-answer.ts';
import { ColumnDialog } from './ColumnDialog.tsx';
import { ImportSteps } from './ImportSteps.tsx';
import { sameShape } from './import-answers.ts';

/** Taking files in, as the workbench has them. */
export function ImportContainer({ engine, host }: { readonly engine: Engine; readonly host: Host }) {
  // Of thousands of files the steps are made between two frames.
  const files = useDeferredValue(useWorkbench((workbench) => workbench.files));
  const importing = useWorkbench((workbench) => workbench.importing);
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const [asked, setAsked] = useState<string | null>(null);
  const list = useMemo(() => [...files.values()], [files]);
  const opened = asked === null ? undefined : files.get(asked);
  return (
    <>
      <ImportSteps
        files={list}
        importing={importing}
        style={style}
        onCancel={actions.cancelImport}
        onOpenFiles={() => void actions.openFiles()}
        onOpenFolder={() => void actions.openFolder()}
        onDropped={(data) => void host.dropped(data).then(actions.addFiles)}
        onRecipe={(names, recipe) => void actions.setRecipes(names, recipe)}
        onColumns={setAsked}
        onRemove={actions.removeFiles}
        onTakeFound={(file) => void actions.takeFound(file)}
        onSelect={(file) => actions.select(files.get(file)?.captures[0]?.id ?? null)}
      />
      {opened !== undefined && (
        <Columns key={opened.file} engine={engine} file={opened} files={list} onClose={() => setAsked(null)} />
      )}
    </>
  );
}

const previewLines = 60;
const thumbnailColumns = 400;

function Columns({
  engine,
  file,
  files,
  onClose,
}: {
  readonly engine: Engine;
  readonly file: OpenedSource;
  readonly files: readonly OpenedSource[];
  readonly onClose: () => void;
}) {
  const style = useWorkbench((workbench) => workbench.style);
  const actions = useWorkbench((workbench) => workbench.actions);
  const [recipe, setRecipe] = useState<ImportRecipe>(file.recipe);
  const { sha256 } = file;
  const ask = useMemo(
    () =>
      sha256 === null
        ? null
        : (signal: AbortSignal) =>
            engine
              .ask(
                'preview',
                { file: file.file, sha256, recipe, lines: previewLines, columns: thumbnailColumns },
                { signal },
              )
              .then((preview): Shown => ({ recipe, preview })),
    [engine, file.file, sha256, recipe],
  );
  const onFailure = useCallback((error: unknown) => {
    throw error;
  }, []);
  const shown = useAnswer<Shown | null>(ask, null, onFailure);
  return (
    <ColumnDialog
      file={file.file}
      recipe={recipe}
      onRecipe={setRecipe}
      preview={shown?.preview ?? null}
      isWorking={shown !== null && shown.recipe !== recipe}
      sameShape={sameShape(files, file)}
      onUse={(names) => {
        void actions.setRecipes(names, recipe);
        onClose();
      }}
      onClose={onClose}
      style={style}
    />
  );
}

interface Shown {
  readonly recipe: ImportRecipe;
  readonly preview: Preview;
}
