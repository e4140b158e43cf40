import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { metricStyle } from '../../../core/units/figure-style.ts';
import { CaptureLine } from '../../../renderer/captures/CaptureLine.tsx';
import { visibleProps } from '../../../renderer/shown/visible-props.ts';

describe('the properties of an element', () => {
  it.each([
    ['a text alone', { children: 'a\u202Eb' }, { children: 'a⟨U+202E⟩b' }],
    ['a text among others', { children: ['x', 3, 'a\0b', null] }, { children: ['x', 3, 'a⟨U+0000⟩b', null] }],
    ['a text in a list within', { children: [['\u200B'], true] }, { children: [['⟨U+200B⟩'], true] }],
    ['what is read out', { 'aria-label': '\u2066x', id: 'a' }, { 'aria-label': '⟨U+2066⟩x', id: 'a' }],
    ['what a choice is called', { textValue: '\u2066x' }, { textValue: '⟨U+2066⟩x' }],
    ['what a pointer shows', { title: 'a\u001bb\nc' }, { title: 'a⟨U+001B⟩b\nc' }],
  ])('%s', (_name, props, shown) => {
    expect(visibleProps(props)).toEqual(shown);
  });

  it('are the very same where there is nothing to name, lists and all', () => {
    const props = { children: ['a', ['b', { type: 'p' }]], title: 'c', onPress: () => {} };
    expect(visibleProps(props)).toBe(props);
  });

  it('keep what is no text to be read: a field holds the very text, names stay names', () => {
    const props = { value: '\u202E', id: '\u202E', className: '\u202E', 'data-file': '\u202E' };
    expect(visibleProps(props)).toBe(props);
  });
});

it('every component is made so: a capture’s line names what its file’s name would hide', () => {
  const row = {
    id: 'x',
    kind: 'capture',
    file: 'x',
    name: 'weld\u202Evsc.exe\0',
    positionMm: null,
    takenAt: null,
    gainDb: null,
    probe: null,
    block: null,
    state: 'ready',
    problem: null,
    moreProblems: 0,
    flags: [],
  } as const;
  const more = { id: 'x', place: 0, count: 1, top: 0, height: 20, active: false, chosen: false, overlayNumber: null };
  const page = renderToStaticMarkup(createElement(CaptureLine, { row, style: metricStyle, ...more }));
  expect(page).not.toMatch(/[\u202E\0]/);
  expect(page.match(/⟨U\+202E⟩/g)?.length).toBeGreaterThanOrEqual(2);
});
