import type { ImportRecipe } from '../../core/import/import-recipe.ts';
import { previewTable } from '../../core/import/preview-table.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import type { Preview } from '../engine/messages.ts';
import { Button } from '../parts/Button.tsx';
import { Modal } from '../parts/Modal.tsx';
import own from './ColumnDialog.module.css';
import { AmplitudeFields, AxisFields, WrittenFields } from './ColumnFields.tsx';
import { ColumnPreview } from './ColumnPreview.tsx';

export interface ColumnDialogProps {
  readonly file: string;
  /** What is being decided. */
  readonly recipe: ImportRecipe;
  readonly onRecipe: (recipe: ImportRecipe) => void;
  /** The file as that recipe reads it; that of the recipe before while the new one is worked out, `null` before the first. */
  readonly preview: Preview | null;
  readonly isWorking: boolean;
  /** The files that this recipe may serve, this one first. */
  readonly sameShape: readonly string[];
  readonly onUse: (files: readonly string[]) => void;
  readonly onClose: () => void;
  readonly style: FigureStyle;
}

const rowsShown = 12;

/** What the columns of a file mean, with the file as it is read by that beside it. */
export function ColumnDialog(props: ColumnDialogProps) {
  const { file, recipe, preview, isWorking, sameShape, onUse, onClose, style } = props;
  const table =
    preview === null ? null : previewTable(preview.lines, preview.source.understood?.recipe ?? recipe, rowsShown);
  const isReady = preview !== null && preview.source.state === 'ready' && !isWorking;
  return (
    <Modal
      title={`Columns of ${file}`}
      isOpen
      onClose={onClose}
      width="wide"
      actions={
        <>
          <Button onPress={onClose}>Cancel</Button>
          {sameShape.length > 1 && (
            <Button isDisabled={isWorking || preview === null} onPress={() => onUse(sameShape)}>
              Use for the {sameShape.length} files of this shape
            </Button>
          )}
          <Button kind="main" isDisabled={isWorking || preview === null} onPress={() => onUse([file])}>
            {isReady ? 'Use for this file' : 'Use it all the same'}
          </Button>
        </>
      }
    >
      <div className={own.body}>
        <div className={own.fields}>
          <WrittenFields {...props} />
          <AxisFields {...props} table={table} />
          <AmplitudeFields {...props} table={table} />
        </div>
        <ColumnPreview preview={preview} table={table} isWorking={isWorking} style={style} />
      </div>
    </Modal>
  );
}
