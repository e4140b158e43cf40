import type { TraceFacts } from '../engine/messages.ts';

/** What can be chosen for a procedure: a file with all its captures, or one capture of a file with several. */
export interface CaptureChoice {
  /** `FILE` or `FILE#TRACE`, as the review refers to it. */
  readonly reference: string;
  readonly title: string;
  /** What tells it from others: block, probe, how many captures. */
  readonly detail: string;
  /** It stands below its file. */
  readonly isTrace: boolean;
}

/** All choices in the order of the review. */
export function captureChoices(captures: Iterable<TraceFacts>): readonly CaptureChoice[] {
  const byFile = new Map<string, TraceFacts[]>();
  for (const capture of captures) {
    const list = byFile.get(capture.file);
    if (list === undefined) byFile.set(capture.file, [capture]);
    else list.push(capture);
  }
  return [...byFile].flatMap(([file, traces]) => {
    const whole = { reference: file, title: file, detail: detailOf(traces), isTrace: false };
    if (traces.length === 1) return [whole];
    return [
      whole,
      ...traces.map((capture) => ({
        reference: capture.id,
        title: capture.trace,
        detail: traceDetail(capture),
        isTrace: true,
      })),
    ];
  });
}

function detailOf(captures: readonly TraceFacts[]): string {
  const [first] = captures;
  const parts = [
    captures.length > 1 ? `${captures.length} captures` : null,
    first?.block ?? null,
    first?.probe ?? null,
    captures.length === 1 && first?.takenAt ? first.takenAt.replace('T', ' ') : null,
  ];
  return parts.filter((part) => part !== null).join(' · ');
}

/** What tells it from the other captures of its file. */
function traceDetail({ positionMm, takenAt }: TraceFacts): string {
  const parts = [positionMm === null ? null : `at ${positionMm} mm`, takenAt?.replace('T', ' ') ?? null];
  return parts.filter((part) => part !== null).join(' · ');
}

/** Those whose file, trace or detail has all the words. */
export function choicesWith(choices: readonly CaptureChoice[], words: string): readonly CaptureChoice[] {
  const wanted = words.toLowerCase().split(/\s+/).filter(Boolean);
  if (wanted.length === 0) return choices;
  return choices.filter(({ reference, detail }) => {
    const text = `${reference} ${detail}`.toLowerCase();
    return wanted.every((word) => text.includes(word));
  });
}

/** The references with one more or one fewer. A whole file takes the place of its captures, and one capture that of its whole file. */
export function toggled(chosen: readonly string[], choice: CaptureChoice, isChosen: boolean): readonly string[] {
  if (!isChosen) return chosen.filter((reference) => reference !== choice.reference);
  const file = choice.reference.split('#')[0];
  const kept = chosen.filter((reference) => (choice.isTrace ? reference !== file : reference.split('#')[0] !== file));
  return [...kept, choice.reference];
}

/** The references with all of these; a whole file stands for its captures. */
export function withAll(chosen: readonly string[], choices: readonly CaptureChoice[]): readonly string[] {
  const taken = withoutAll(chosen, choices);
  const whole = new Set([...taken, ...choices.filter(({ isTrace }) => !isTrace).map(({ reference }) => reference)]);
  const added = choices.filter(({ reference, isTrace }) => !(isTrace && whole.has(fileOf(reference))));
  return [...taken, ...added.map(({ reference }) => reference)];
}

/** The references without any of these, nor any capture of a file among them. */
export function withoutAll(chosen: readonly string[], choices: readonly CaptureChoice[]): readonly string[] {
  const left = new Set(choices.map(({ reference }) => reference));
  return chosen.filter((reference) => !left.has(reference) && !left.has(fileOf(reference)));
}

function fileOf(reference: string): string {
  return reference.split('#')[0] ?? reference;
}

/** `reference-block.csv`, or `9 files`, or what is needed where nothing is chosen. */
export function chosenInWords(chosen: readonly string[], nothing: string): string {
  if (chosen.length === 0) return nothing;
  if (chosen.length <= 2) return chosen.join(' and ');
  const files = new Set(chosen.map((reference) => reference.split('#')[0])).size;
  return files === chosen.length ? `${files} files` : `${chosen.length} captures of ${files} files`;
}
