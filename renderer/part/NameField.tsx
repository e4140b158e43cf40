import { QuantityField } from '../parts/QuantityField.tsx';

const longest = 200;

/** A name that is unlike all others of its kind. */
export function NameField({
  label,
  value,
  taken,
  onName,
}: {
  readonly label: string;
  readonly value: string;
  readonly taken: readonly string[];
  readonly onName: (name: string) => void;
}) {
  return (
    <QuantityField
      label={label}
      value={value}
      shown={(name) => name}
      read={(words) => {
        const name = words.trim();
        if (name === '') return { ok: false, sentence: 'give it a name' };
        if (name.length > longest) return { ok: false, sentence: `a name has at most ${longest} letters` };
        return taken.includes(name)
          ? { ok: false, sentence: `"${name}" is taken; give it another name` }
          : { ok: true, value: name };
      }}
      onCommit={onName}
    />
  );
}
