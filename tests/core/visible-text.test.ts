import { describe, expect, it } from 'vitest';
import { visibleText } from '../../core/visible-text.ts';

describe('what cannot be seen is named by its code point', () => {
  it.each([
    ['a change of direction (Unicode TR36, 2.7)', 'a\u202Egpj.csv', 'a⟨U+202E⟩gpj.csv'],
    ['an isolate', '\u2067x\u2069', '⟨U+2067⟩x⟨U+2069⟩'],
    ['a space without width', 'a\u200Bb', 'a⟨U+200B⟩b'],
    ['a terminal’s escape', '\u001b[31m', '⟨U+001B⟩[31m'],
    ['a NUL', '\0', '⟨U+0000⟩'],
    ['a line separator', 'a\u2028b', 'a⟨U+2028⟩b'],
    ['half of a character', '\ud83d', '⟨U+D83D⟩'],
    ['a carriage return alone', 'a\rb', 'a⟨U+000D⟩b'],
    ['a line end of Windows is a line end', 'a\r\nb', 'a\nb'],
    ['tab and line end stay', 'a\tb\nc', 'a\tb\nc'],
    ['a mark of a language that is no more seen (Unicode tags)', 'a\u{E0041}b', 'a⟨U+E0041⟩b'],
    ['a letter that is drawn as nothing', 'a\u3164b', 'a⟨U+3164⟩b'],
    ['a braille blank', 'a\u2800b', 'a⟨U+2800⟩b'],
    ['a control of eight bits, which some terminals obey', '\u009b31m', '⟨U+009B⟩31m'],
    ['letters of any script stay', 'Prüfkopf 探触子 מתמר', 'Prüfkopf 探触子 מתמר'],
  ])('%s', (_name, text, seen) => {
    expect(visibleText(text)).toBe(seen);
  });
});
