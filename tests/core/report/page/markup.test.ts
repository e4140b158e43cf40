import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { html, markupText, type Shown } from '../../../../core/report/page/markup.ts';
import { visibleText } from '../../../../core/visible-text.ts';

describe('what is put into a template', () => {
  it.each<[string, Shown, string]>([
    ['nothing', null, ''],
    ['what does not hold', false, ''],
    ['an empty text', '', ''],
    ['a number', 12.5, '12.5'],
    ['a tag', '<script>alert(1)</script>', '&lt;script&gt;alert(1)&lt;/script&gt;'],
    ['what would end an attribute', '" onload="x', '&quot; onload=&quot;x'],
    ['an apostrophe', "it's", 'it&#39;s'],
    ['a character reference', '&lt;', '&amp;lt;'],
    ['a list', ['<a>', 1, null], '&lt;a&gt;1'],
    ['a list within a list', [['<'], ['>']], '&lt;&gt;'],
    ['other markup', html`<b>${'<'}</b>`, '<b>&lt;</b>'],
  ])('%s', (_name, value, written) => {
    expect(markupText(html`${value}`)).toBe(written);
  });

  it('what only looks like markup is refused: only a template makes it', () => {
    const forged = { text: '<script>', constructor: html`x`.constructor } as never;
    expect(() => html`${forged}`).toThrow();
  });

  it('whatever the text, no mark of markup comes through, and a reader sees the very text (what can be seen of it)', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const written = markupText(html`${text}`);
        expect(written).not.toMatch(/[<>"']/);
        const read = written
          .replaceAll('&lt;', '<')
          .replaceAll('&gt;', '>')
          .replaceAll('&quot;', '"')
          .replaceAll('&#39;', "'")
          .replaceAll('&amp;', '&');
        expect(read).toBe(visibleText(text));
      }),
    );
  });
});
