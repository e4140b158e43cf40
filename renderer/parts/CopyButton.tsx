import { useEffect, useState } from 'react';
import { Button } from './Button.tsx';
import { Icon } from './Icon.tsx';

/** How long it stands there that a table was copied. */
const toldMs = 4000;

/** Copies a table, and says for a while what came of it. */
export function CopyButton({
  small = false,
  rows,
  copied = `Copied ${rows} rows`,
  onCopy,
}: {
  readonly small?: boolean;
  readonly rows: number;
  /** What is said of a copy that was made. */
  readonly copied?: string;
  /** `false` where the clipboard refused it. */
  readonly onCopy: () => Promise<boolean>;
}) {
  const [told, setTold] = useState<string | null>(null);
  useEffect(() => {
    if (told === null) return;
    const timer = setTimeout(() => setTold(null), toldMs);
    return () => clearTimeout(timer);
  }, [told]);
  return (
    <Button
      small={small}
      isDisabled={rows === 0}
      onPress={() => void onCopy().then((done) => setTold(done ? copied : 'The clipboard refused it'))}
    >
      <Icon name="copy" />
      <span aria-live="polite">{told ?? 'Copy'}</span>
    </Button>
  );
}
