import { FileTrigger } from 'react-aria-components';
import { Button } from '../parts/Button.tsx';

/** A button that asks for one small file: a rule, a saved calibration, a recipe. */
export function FileButton({
  label,
  accept,
  onFile,
}: {
  readonly label: string;
  readonly accept: readonly string[];
  readonly onFile: (file: File) => void;
}) {
  return (
    <FileTrigger
      acceptedFileTypes={accept}
      onSelect={(files) => {
        const file = files?.[0];
        if (file !== undefined) onFile(file);
      }}
    >
      <Button>{label}</Button>
    </FileTrigger>
  );
}
