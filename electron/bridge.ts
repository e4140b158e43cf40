import * as v from 'valibot';

/**
 * A file of the demonstration captures, by its path below their folder: `reference-block.csv`, `plate-weld/manifest.csv`.
 * Plain words only, so that no path leads out of it.
 */
const sampleName = v.pipe(v.string(), v.maxLength(100), v.regex(/^[a-z0-9-]+(\/[a-z0-9-]+)*\.(csv|json)$/));

/**
 * **The one table of calls** between the page and the desktop host: name, what it is called with, what it answers.
 * The preload script (names), the host's validation of what arrives (arguments) and the tests' double (both) are derived from it,
 * so a call is written here, and once more where it is carried out.
 */
export const calls = {
  openSample: {
    arguments: v.strictTuple([sampleName]),
    answer: v.strictObject({ name: v.string(), bytes: v.instance(Uint8Array) }),
  },
  about: {
    arguments: v.strictTuple([]),
    answer: v.strictObject({ version: v.string() }),
  },
} as const;

export type CallName = keyof typeof calls;

/** What the page finds at `window.workbench` in the desktop window. */
export type Bridge = {
  readonly [Name in CallName]: (
    ...called: v.InferOutput<(typeof calls)[Name]['arguments']>
  ) => Promise<v.InferOutput<(typeof calls)[Name]['answer']>>;
};

export const callNames = Object.keys(calls) as readonly CallName[];

export function channelOf(name: CallName): string {
  return `workbench:${name}`;
}
