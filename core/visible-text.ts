/**
 * What no eye can see in a text, or what turns the order of the letters around it: control and format characters (those that turn the direction of writing
 * among them), odd line ends, halves of characters, private ones, and letters that are drawn as nothing (Unicode, Default_Ignorable_Code_Point; the braille
 * blank is none of them and as empty).
 */
const unseen = /[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}\u2800]/gu;

/** Most text by far, told at one look. */
const plain = /^[\x20-\x7e]*$/;

/** The text with each character that cannot be seen written as `write` says: it is given the code point in hexadecimal digits, four at least. */
export function withUnseen(text: string, write: (code: string, character: string) => string): string {
  if (plain.test(text)) return text;
  return text.replace(unseen, (character) =>
    write((character.codePointAt(0) ?? 0).toString(16).padStart(4, '0'), character),
  );
}

/**
 * Text with what cannot be seen in it named by its code point, as in `⟨U+202E⟩`: a name from a file can neither turn the order of the letters around it nor
 * hide a part of itself. A line end and a tab stay.
 */
export function visibleText(text: string): string {
  return withUnseen(text.replaceAll('\r\n', '\n'), (code, character) =>
    character === '\n' || character === '\t' ? character : `⟨U+${code.toUpperCase()}⟩`,
  );
}
