import * as v from 'valibot';

const token = v.pipe(v.string(), v.uuid());
const name = v.pipe(v.string(), v.minLength(1), v.maxLength(1000));
const sha256 = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/));
/** A review with ten thousand files takes some megabytes. */
const text = v.pipe(v.string(), v.maxLength(100_000_000));
/** A package that a window makes is held whole; a larger one is made by the command line. */
const fileBytes = v.pipe(
  v.instance(Uint8Array<ArrayBuffer>),
  v.check((bytes) => bytes.byteLength <= 640 << 20, 'at most 640 MB'),
);
const instant = v.pipe(v.string(), v.isoTimestamp());

/** How much of a file travels at once: small enough that neither side is held up. */
export const partBytes = 8 << 20;

/** A file that the page may read, piece by piece, by its token. */
const offered = v.strictObject({ token, name, bytes: v.pipe(v.number(), v.safeInteger(), v.minValue(0)) });

const place = v.strictObject({ id: token, name });

/** A saved review as it was read; `version` is the SHA-256 of what stood there. */
const foundReview = v.strictObject({ place, name, text, version: sha256 });

const saved = v.variant('kind', [
  v.strictObject({ kind: v.literal('saved'), place, name, version: sha256 }),
  v.strictObject({ kind: v.literal('changed-since'), place, at: v.nullable(instant) }),
]);

/** What a report is printed on. */
const paper = v.picklist(['A4', 'Letter']);
export type Paper = v.InferOutput<typeof paper>;

export const settingsSchema = v.strictObject({
  theme: v.picklist(['system', 'light', 'dark']),
  units: v.picklist(['metric', 'inch']),
  decimalMark: v.picklist(['.', ',']),
});
export type KeptSettings = v.InferOutput<typeof settingsSchema>;
export const initialSettings: KeptSettings = { theme: 'system', units: 'metric', decimalMark: '.' };

const pixels = v.pipe(v.number(), v.minValue(0), v.maxValue(10_000));
/** How the person left the page: its columns, and the orders of its lists. */
export const layoutSchema = v.strictObject({
  panels: v.strictObject({
    open: v.strictObject({ captures: v.boolean(), procedures: v.boolean() }),
    only: v.nullable(v.picklist(['captures', 'procedures'])),
    series: v.boolean(),
    widths: v.strictObject({ captures: pixels, procedures: pixels }),
    belowShare: v.pipe(v.number(), v.minValue(0), v.maxValue(1)),
  }),
  captureOrder: v.picklist(['name', 'time', 'position']),
  readingOrder: v.nullable(v.strictObject({ column: v.pipe(v.string(), v.maxLength(40)), falling: v.boolean() })),
  /** Not told by a layout from before there were several pictures. */
  picture: v.optional(v.picklist(['series', 'depth', 'section', 'plan']), 'series'),
});
export type KeptLayout = v.InferOutput<typeof layoutSchema>;

const draftSource = v.strictObject({ file: name, sha256, token });

const draftToKeep = v.strictObject({
  name: v.nullable(name),
  place: v.nullable(place),
  version: v.nullable(sha256),
  text,
  sources: v.pipe(v.array(draftSource), v.maxLength(100_000)),
});

const draft = v.strictObject({
  id: token,
  at: instant,
  name: v.nullable(name),
  place: v.nullable(place),
  version: v.nullable(sha256),
  text,
});

const words = v.pipe(v.string(), v.minLength(1), v.maxLength(300));
export const menuSchema = v.pipe(
  v.array(
    v.strictObject({
      label: words,
      items: v.pipe(
        v.array(
          v.strictObject({
            id: v.pipe(v.string(), v.regex(/^[a-z0-9-]{1,60}$/)),
            label: words,
            /** As the list of commands has it, or `null`. */
            shortcut: v.nullable(v.pipe(v.string(), v.maxLength(40))),
            enabled: v.boolean(),
            /** Begins a new group within its menu. */
            apart: v.boolean(),
          }),
        ),
        v.maxLength(60),
      ),
    }),
  ),
  v.maxLength(12),
);
export type MenuTold = v.InferOutput<typeof menuSchema>;

const nothing = v.void();

/**
 * **The one table of calls** between the page and the desktop host: name, what it is called with, what it answers.
 * The preload script (names), the host's validation of what arrives (arguments) and the tests' double (both) are derived from it,
 * so a call is written here, and once more where it is carried out. Paths never cross it: the page holds tokens.
 */
export const calls = {
  about: { arguments: v.strictTuple([]), answer: v.strictObject({ version: v.string() }) },

  /** Asks the person for waveform files, or a folder of them; empty where the dialog was closed. */
  pickCaptures: { arguments: v.strictTuple([]), answer: v.array(offered) },
  pickFolder: { arguments: v.strictTuple([]), answer: v.array(offered) },
  /** A file that was dropped on the page. The page gives the file itself; the preload script puts its path in the file's place. */
  offerDropped: { arguments: v.strictTuple([v.pipe(v.string(), v.maxLength(32_000))]), answer: v.nullable(offered) },
  readPart: {
    arguments: v.strictTuple([
      token,
      v.pipe(v.number(), v.safeInteger(), v.minValue(0)),
      v.pipe(v.number(), v.safeInteger(), v.minValue(0), v.maxValue(partBytes)),
    ]),
    answer: v.instance(Uint8Array<ArrayBuffer>),
  },

  /** The review that this window was opened for (a double click on it, or the command line); `null` for none. */
  reviewGiven: { arguments: v.strictTuple([]), answer: v.nullable(foundReview) },
  pickReview: { arguments: v.strictTuple([]), answer: v.nullable(foundReview) },
  recentReviews: {
    arguments: v.strictTuple([]),
    answer: v.array(v.strictObject({ id: token, name, at: instant })),
  },
  openRecent: { arguments: v.strictTuple([token]), answer: foundReview },
  /** A waveform file by its name relative to a review. */
  fileBeside: { arguments: v.strictTuple([token, name]), answer: v.nullable(offered) },

  choosePlace: { arguments: v.strictTuple([name]), answer: v.nullable(place) },
  saveReview: {
    arguments: v.strictTuple([v.strictObject({ place: token, text, version: v.nullable(sha256) })]),
    answer: saved,
  },
  /** What files are called as seen from a place, in the order given; `null` where no relative name leads there. */
  namesFrom: {
    arguments: v.strictTuple([token, v.pipe(v.array(token), v.maxLength(100_000))]),
    answer: v.array(v.nullable(name)),
  },
  saveText: { arguments: v.strictTuple([name, text]), answer: v.boolean() },
  /** The same for what is no text: a package. */
  saveBytes: { arguments: v.strictTuple([name, fileBytes]), answer: v.boolean() },
  /** Sets a page as PDF and saves it where the person says; false where the dialog was closed. */
  printPage: {
    arguments: v.strictTuple([v.strictObject({ suggestedName: name, page: text, paper })]),
    answer: v.boolean(),
  },

  /** The window's own draft. */
  keepDraft: { arguments: v.strictTuple([draftToKeep]), answer: nothing },
  dropDraft: { arguments: v.strictTuple([]), answer: nothing },
  /** What windows that are gone have left. */
  drafts: { arguments: v.strictTuple([]), answer: v.array(draft) },
  draftSource: {
    arguments: v.strictTuple([token, name, v.nullable(sha256)]),
    answer: v.nullable(offered),
  },
  forgetDraft: { arguments: v.strictTuple([token]), answer: nothing },

  settings: { arguments: v.strictTuple([]), answer: settingsSchema },
  keepSettings: { arguments: v.strictTuple([settingsSchema]), answer: nothing },
  /** `null` where none was kept: the page then is as at first. */
  layout: { arguments: v.strictTuple([]), answer: v.nullable(layoutSchema) },
  keepLayout: { arguments: v.strictTuple([layoutSchema]), answer: nothing },

  /** The list of commands, for the window's menu. */
  showMenu: { arguments: v.strictTuple([menuSchema]), answer: nothing },
  /** Whether closing the window now would leave work unsaved. */
  sayUnsaved: { arguments: v.strictTuple([v.boolean()]), answer: nothing },
  closeWindow: { arguments: v.strictTuple([]), answer: nothing },
} as const;

/** What the host tells the page without being asked: the other direction, as a table too. */
export const events = {
  /** A command of the native menu was chosen. */
  command: v.strictObject({ id: v.string() }),
  /** The person wants to close the window while work is unsaved. */
  closeAsked: v.strictObject({}),
} as const;

export type CallName = keyof typeof calls;
export type EventName = keyof typeof events;
export type Told<Name extends EventName> = v.InferOutput<(typeof events)[Name]>;
export type Offered = v.InferOutput<typeof offered>;
export type PlaceTold = v.InferOutput<typeof place>;
export type FoundReviewTold = v.InferOutput<typeof foundReview>;
export type SavedTold = v.InferOutput<typeof saved>;
export type DraftKept = v.InferOutput<typeof draftToKeep>;
export type DraftTold = v.InferOutput<typeof draft>;

/** Where the page itself gives a file of the browser's (`File`), whose path the preload script reads. */
export type FileCall = 'offerDropped';
export const fileCall: FileCall = 'offerDropped';

export type Called<Name extends CallName> = v.InferOutput<(typeof calls)[Name]['arguments']>;
export type Answered<Name extends CallName> = v.InferOutput<(typeof calls)[Name]['answer']>;

/** The calls as the host carries them out. */
export type Carried<Caller> = {
  readonly [Name in CallName]: (caller: Caller, ...called: Called<Name>) => Promise<Answered<Name>>;
};

/** What the page finds at `window.workbench` in the desktop window. */
export type Bridge = {
  readonly [Name in Exclude<CallName, FileCall>]: (...called: Called<Name>) => Promise<Answered<Name>>;
} & {
  /** `File` of the page; `unknown` here, since this room has no such type. */
  readonly [Name in FileCall]: (file: unknown) => Promise<Answered<Name>>;
} & {
  /** Listens to an event; the answer stops it. */
  readonly on: <Name extends EventName>(event: Name, listener: (told: Told<Name>) => void) => () => void;
};

export const callNames = Object.keys(calls) as readonly CallName[];
export const eventNames = Object.keys(events) as readonly EventName[];

export function channelOf(named: CallName | EventName): string {
  return `workbench:${named}`;
}
