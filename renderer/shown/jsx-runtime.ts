import type { ElementType, Key, ReactElement } from 'react';
import { jsx as element, jsxs as elementWithSeveral, Fragment } from 'react/jsx-runtime';
import { type Props, visibleProps } from './visible-props.ts';

// What every `<tag>` of the page is made by, in place of React's own: no text comes onto the page past it.
export type { JSX } from 'react/jsx-runtime';
export { Fragment };

export function jsx(type: ElementType, props: Props, key?: Key): ReactElement {
  return element(type, visibleProps(props), key);
}

export function jsxs(type: ElementType, props: Props, key?: Key): ReactElement {
  return elementWithSeveral(type, visibleProps(props), key);
}
