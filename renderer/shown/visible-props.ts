import { visibleText } from '../../core/visible-text.ts';

/** What React is told of an element. */
export type Props = Readonly<Record<string, unknown>>;

/**
 * The properties whose text a person reads, or is read out to them; a choice's `textValue` is written into a list of the browser's own. What a field holds is
 * none of them: there stands the very text, to be edited.
 */
const read = [
  'children',
  'title',
  'alt',
  'placeholder',
  'textValue',
  'aria-label',
  'aria-description',
  'aria-valuetext',
];

/**
 * The properties of an element with what cannot be seen in their texts named, as in the report (`core/visible-text.ts`): names from files can neither hide a part
 * of themselves nor turn the order of the letters around them, wherever on the page they stand. The same object where there is nothing to name.
 */
export function visibleProps(props: Props): Props {
  let seen: Record<string, unknown> | null = null;
  for (const name of read) {
    const given = props[name];
    const shown = visible(given);
    if (shown === given) continue;
    seen ??= { ...props };
    seen[name] = shown;
  }
  return seen ?? props;
}

function visible(given: unknown): unknown {
  if (typeof given === 'string') return visibleText(given);
  if (!Array.isArray(given)) return given;
  return given.some((part) => visible(part) !== part) ? given.map(visible) : given;
}
