/** Our own line drawings on a grid of 16; never the only sign of what a button does. */
const paths = {
  undo: 'M6 3.5 2.5 7 6 10.5M3 7h6.5a4 4 0 0 1 0 8H8',
  redo: 'M10 3.5 13.5 7 10 10.5M13 7H6.5a4 4 0 0 0 0 8H8',
  close: 'M4 4l8 8M12 4l-8 8',
  search: 'M7 11.5a4.5 4.5 0 1 1 0-9 4.5 4.5 0 0 1 0 9ZM10.5 10.5 14 14',
  'chevron-down': 'M4 6.5 8 10.5 12 6.5',
  'chevron-left': 'M10 3.5 5.5 8 10 12.5',
  'chevron-right': 'M6 3.5 10.5 8 6 12.5',
  list: 'M5.5 4H14M5.5 8H14M5.5 12H14M2 4h.5M2 8h.5M2 12h.5',
  steps: 'M3 3h4v3H3zM3 10h4v3H3zM9.5 4.5H14M9.5 11.5H14M5 6v4',
  doubt: 'M8 2 14.5 13.5h-13ZM8 6.5v3.2M8 11.6v.3',
  check: 'M3 8.5 6.5 12 13 4.5',
  cross: 'M8 14.5a6.5 6.5 0 1 1 0-13 6.5 6.5 0 0 1 0 13ZM5.7 5.7l4.6 4.6M10.3 5.7l-4.6 4.6',
  wait: 'M8 14.5a6.5 6.5 0 1 1 0-13 6.5 6.5 0 0 1 0 13ZM8 4.5V8l2.5 1.8',
  file: 'M4 1.5h5L12.5 5v9.5H4zM9 1.5V5h3.5',
  folder: 'M1.5 3.5h4.5l1.5 2h7v8h-13z',
  copy: 'M5.5 5.5h8v9h-8zM10.5 5.5v-4h-8v9h3',
  save: 'M2.5 2.5h9l2 2v9h-11zM5 2.5v3.5h5V2.5M5 13.5v-4h6v4',
  add: 'M8 3v10M3 8h10',
  remove: 'M3 8h10',
  above: 'M3 13.5h10M8 11V3M4.5 6 8 2.5 11.5 6',
  below: 'M3 2.5h10M8 5v8M4.5 10 8 13.5 11.5 10',
  ring: 'M8 13.5a5.5 5.5 0 1 1 0-11 5.5 5.5 0 0 1 0 11ZM5.5 8h5',
} as const;

export type IconName = keyof typeof paths;

export function Icon({ name }: { readonly name: IconName }) {
  return (
    <svg
      width="16"
      height="16"
      viewBox="0 0 16 16"
      fill="none"
      stroke="currentColor"
      strokeWidth="1.4"
      strokeLinecap="round"
      strokeLinejoin="round"
      aria-hidden="true"
      focusable="false"
    >
      <path d={paths[name]} />
    </svg>
  );
}
