import type { ElementType, Key, ReactElement } from 'react';
import { jsxDEV as element, Fragment, type JSXSource } from 'react/jsx-dev-runtime';
import { type Props, visibleProps } from './visible-props.ts';

// The same as `jsx-runtime.ts`, as React makes elements where it is not built for use: in tests.
export type { JSX } from 'react/jsx-dev-runtime';
export { Fragment };

export function jsxDEV(
  type: ElementType,
  props: Props,
  key: Key | undefined,
  isStatic: boolean,
  source?: JSXSource,
  self?: unknown,
): ReactElement {
  return element(type, visibleProps(props), key, isStatic, source, self);
}
