import type { Waveform } from './waveform.ts';

/** What names a capture inside a review: its file, and its trace within the file (`FILE#TRACE`). */
export type CaptureId = string;

/** One waveform and what is known of how it was taken. Unknown is `null`. Never altered. */
export interface Capture {
  readonly id: CaptureId;
  readonly file: string;
  readonly trace: string;
  /** Of the source file's bytes, lower-case hexadecimal; the host computes it. */
  readonly sha256: string | null;
  readonly waveform: Waveform;
  readonly gainDb: number | null;
  /** An instant in ISO 8601 with its offset (`2026-03-02T06:05:00Z`). */
  readonly takenAt: string | null;
  /** Position of the probe along the scan. */
  readonly positionMm: number | null;
  /** Its second position, across that: which line of a raster, or how far it stood from the weld. */
  readonly acrossMm: number | null;
  readonly probe: string | null;
  /** Name or serial number of the instrument. */
  readonly instrument: string | null;
  readonly block: string | null;
  readonly temperatureC: number | null;
  /** The preamble whole, as the file has it, in file order. */
  readonly metadata: readonly MetadataEntry[];
}

export interface MetadataEntry {
  readonly key: string;
  readonly value: string;
}
