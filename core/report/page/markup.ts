import { visibleText } from '../../visible-text.ts';

/** Text that is markup already. Only `html` makes it, so that whatever else is put into a page is escaped. */
class MarkupText {
  readonly #text: string;

  constructor(text: string) {
    this.#text = text;
  }

  static textOf(markup: MarkupText): string {
    return markup.#text;
  }
}

export type Markup = MarkupText;

/** What can be put into a template: text and numbers are escaped, markup stands as it is, lists are put one after the other, `null` and `false` are nothing. */
export type Shown = string | number | Markup | null | false | readonly Shown[];

/**
 * A piece of the page: html`<td>${name}</td>`. Every value is escaped for text and for quoted attributes alike, and what cannot be seen in it is made
 * visible; there is no way round it but markup that another `html` has made.
 */
export function html(parts: TemplateStringsArray, ...values: readonly Shown[]): Markup {
  return new MarkupText(parts.map((part, i) => part + (i < values.length ? written(values[i]) : '')).join(''));
}

function written(value: Shown): string {
  if (value === null || value === false) return '';
  if (value instanceof MarkupText) return markupText(value);
  if (typeof value === 'object') return value.map(written).join('');
  return escaped(visibleText(String(value)));
}

const entities: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

function escaped(text: string): string {
  return text.replace(/[&<>"']/g, (mark) => entities[mark] ?? mark);
}

/** The text of a page or a plot that is whole. */
export function markupText(markup: Markup): string {
  return MarkupText.textOf(markup);
}
