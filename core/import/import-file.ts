import type { Capture, MetadataEntry } from '../capture/capture.ts';
import type { AmplitudeUnit, Rectification } from '../capture/waveform.ts';
import { invariant } from '../invariant.ts';
import { failure, type Outcome, type Problem } from '../outcome.ts';
import { assemble, type Opened } from './assemble.ts';
import { BodyReader } from './body.ts';
import { planColumns } from './columns.ts';
import { readFacts } from './facts.ts';
import { type Head, readHead } from './head.ts';
import type { DecimalMark, Delimiter, Encoding, ImportRecipe } from './import-recipe.ts';
import { RowGroups } from './row-groups.ts';
import { detectEncoding, Utf16ToUtf8 } from './text.ts';

/** What was understood of one trace; `null` where the file does not say and it could not be told. */
export interface TraceDescription {
  readonly name: string;
  readonly samples: number;
  readonly startUs: number | null;
  readonly stepUs: number | null;
  readonly amplitudeUnit: AmplitudeUnit | null;
  readonly rectification: Rectification;
  /** The amplitude of the base line, in the amplitude unit. */
  readonly zeroLevel: number;
}

/** A file that was read whole. `captures` is empty as long as `asks` is not: what a person must say before it can be measured with. */
export interface ImportedFile {
  readonly file: string;
  /** As the caller gave it to `finish`. */
  readonly sha256: string | null;
  readonly bytes: number;
  readonly encoding: Encoding;
  /** `null` where there is one column only. */
  readonly delimiter: Delimiter | null;
  readonly decimalMark: DecimalMark;
  readonly traces: readonly TraceDescription[];
  readonly metadata: readonly MetadataEntry[];
  readonly captures: readonly Capture[];
  /** Completed by what was inferred: import of the next file of this shape needs no inference. */
  readonly recipe: ImportRecipe;
  readonly asks: readonly Problem[];
  readonly warnings: readonly Problem[];
}

export interface RunningImport {
  /** Takes the next bytes and keeps none of them. Returns the problems so far; there is no use in going on where there are any. */
  push(chunk: Uint8Array): readonly Problem[];
  /** Read so far, of all traces together. */
  readonly samples: number;
  finish(sha256: string | null): Outcome<ImportedFile>;
}

/** The head is judged on this many bytes, doubled while they do not suffice. Pieces and whole are judged alike. */
const headBytes = 64 * 1024;
const mostHeadBytes = 2 * 1024 * 1024;

/**
 * Reads one exported waveform file from bytes to captures.
 *
 *     bytes -> encoding -> head (preamble, header, delimiter, decimal mark) -> columns' meaning -> rows -> axis and amplitudes -> captures
 *
 * `file` is the name under which problems are reported. `expectedBytes`, the file's length where the caller knows it, saves a long column
 * from being copied once more; it need not be right. Nothing half-read is given out: a file with a problem has no captures.
 */
export function startImport(file: string, recipe: ImportRecipe, expectedBytes: number | null = null): RunningImport {
  return new FileImport(file, recipe, expectedBytes);
}

/** The same for bytes that are all at hand. `sha256` is that of the bytes, where the caller knows it. */
export function importBytes(
  file: string,
  bytes: Uint8Array,
  recipe: ImportRecipe,
  sha256: string | null,
): Outcome<ImportedFile> {
  const running = new FileImport(file, recipe, bytes.length);
  running.pushWhole(bytes);
  return running.finish(sha256);
}

/** A view without a host's own methods: a `slice` of Node's buffers, for one, would not copy. */
function plainView(bytes: Uint8Array): Uint8Array {
  return new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.length);
}

class FileImport implements RunningImport {
  private readonly file: string;
  private readonly recipe: ImportRecipe;
  private readonly expectedBytes: number | null;
  private bytes = 0;
  private waiting: Uint8Array[] = [];
  private waitingLength = 0;
  private window = headBytes;
  private encoding: Encoding | null = null;
  private transcoder: Utf16ToUtf8 | null = null;
  private opened: Opened | null = null;
  private problems: readonly Problem[] = [];

  constructor(file: string, recipe: ImportRecipe, expectedBytes: number | null) {
    this.file = file;
    this.recipe = recipe;
    this.expectedBytes = expectedBytes;
  }

  push(chunk: Uint8Array): readonly Problem[] {
    const bytes = plainView(chunk);
    this.bytes += bytes.length;
    if (this.problems.length > 0) return this.problems;
    if (this.opened !== null) this.opened.body.push(this.transcoder === null ? bytes : this.transcoder.push(bytes));
    else if (this.waitingLength === 0 && bytes.length > this.window) this.open(bytes, false);
    else this.wait(bytes);
    return this.fatal();
  }

  get samples(): number {
    return this.opened === null ? 0 : this.opened.body.rows * this.opened.plan.traces.length;
  }

  /** All of a file at once: what fits the head's window is not copied. */
  pushWhole(chunk: Uint8Array): void {
    const bytes = plainView(chunk);
    if (bytes.length > this.window) {
      this.push(bytes);
    } else {
      this.bytes = bytes.length;
      this.open(bytes, true);
    }
  }

  finish(sha256: string | null): Outcome<ImportedFile> {
    if (this.problems.length === 0 && this.opened === null) this.open(this.takeWaiting(), true);
    if (this.transcoder !== null) this.opened?.body.push(this.transcoder.finish());
    this.opened?.body.finish();
    const problems = this.fatal();
    if (problems.length > 0) return failure(...problems);
    invariant(this.opened !== null && this.encoding !== null, 'a file without problems was opened');
    const { head, read, plan, groups, body } = this.opened;
    return assemble({
      head,
      read,
      plan,
      groups,
      body,
      file: this.file,
      recipe: this.recipe,
      bytes: this.bytes,
      encoding: this.encoding,
      sha256,
    });
  }

  private fatal(): readonly Problem[] {
    return this.problems.length > 0 ? this.problems : (this.opened?.body.problems ?? []);
  }

  private wait(bytes: Uint8Array): void {
    this.waiting.push(bytes.slice());
    this.waitingLength += bytes.length;
    if (this.waitingLength > this.window) this.open(this.takeWaiting(), false);
  }

  private takeWaiting(): Uint8Array {
    const whole = this.waiting.length === 1 ? this.waiting[0] : new Uint8Array(this.waitingLength);
    if (this.waiting.length !== 1) {
      let at = 0;
      for (const piece of this.waiting) {
        whole.set(piece, at);
        at += piece.length;
      }
    }
    this.waiting = [];
    this.waitingLength = 0;
    return whole;
  }

  private open(bytes: Uint8Array, isWhole: boolean): void {
    const detected = detectEncoding(this.file, bytes.subarray(0, headBytes), this.recipe.encoding);
    if (!detected.ok) {
      this.problems = detected.problems;
      return;
    }
    const { encoding, skip } = detected.value;
    for (;;) {
      const isAll = bytes.length <= this.window;
      if (isAll && !isWhole) {
        this.wait(bytes);
        return;
      }
      const transcoder = encoding === 'utf-16le' || encoding === 'utf-16be' ? new Utf16ToUtf8(encoding) : null;
      const raw = bytes.subarray(skip, isAll ? bytes.length : this.window);
      const start = transcoder === null ? raw : transcoder.push(raw);
      const head = readHead(
        this.file,
        { bytes: start, isWhole: isAll, isMost: this.window >= mostHeadBytes },
        encoding === 'latin-1',
        this.recipe,
      );
      if (head !== null) {
        this.transcoder = transcoder;
        this.encoding = encoding;
        this.begin(head, start, bytes.subarray(raw.length + skip));
        return;
      }
      this.window *= 2;
    }
  }

  private begin(head: Outcome<Head>, start: Uint8Array, rest: Uint8Array): void {
    if (!head.ok) {
      this.problems = head.problems;
      return;
    }
    if (head.value.latin1 && this.encoding === 'utf-8') this.encoding = 'latin-1';
    const read = readFacts(
      this.file,
      head.value.preamble,
      this.recipe,
      head.value.isMarkDoubtful ? null : head.value.decimalMark,
    );
    const plan = planColumns(this.file, head.value, read.facts, this.recipe);
    if (!plan.ok) {
      this.problems = plan.problems;
      return;
    }
    // Named one by one, here and in `finish`: spreading a wide object took a tenth of a small file's import.
    const { fields, delimiter, decimalMark, isMarkDoubtful, lineEnd, blankTail, latin1 } = head.value;
    const groups = new RowGroups(plan.value, fields, this.recipe.uneven === 'resample');
    const body = new BodyReader(
      this.file,
      {
        fields,
        delimiter,
        decimalMark,
        isMarkStated: this.recipe.decimalMark !== null,
        isMarkDoubtful,
        lineEnd,
        blankTail,
        latin1,
        roles: plan.value.roles,
        names: plan.value.names,
        expectedBytes: this.transcoder === null ? this.expectedBytes : null,
      },
      head.value.firstLine,
      groups,
    );
    this.opened = { head: head.value, read, plan: plan.value, groups, body };
    body.push(start.subarray(head.value.offset));
    if (rest.length > 0) body.push(this.transcoder === null ? rest : this.transcoder.push(rest));
  }
}
