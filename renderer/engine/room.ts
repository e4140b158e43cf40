import { failure, type Problem, problem } from '../../core/outcome.ts';

/**
 * What a window can hold. A sample takes 8 bytes as it was read and about 30 more while its trace is looked at, so that a hundred million of them
 * stand in some 4 GB: what is beyond is refused, before the window would end without a word.
 */
export interface Room {
  /** Of all captures together. */
  readonly samples: number;
  /** Of these, how many others have taken. */
  readonly taken: number;
  /** Of one file: browsers hand over no more at once. */
  readonly fileBytes: number;
}

export const usualRoom: Room = { samples: 100e6, taken: 0, fileBytes: 2e9 };

export function tooLarge(file: string, bytes: number, room: Room) {
  const sentence = `the file has ${gigabytes(bytes)} GB, and the window takes in files of at most ${gigabytes(room.fileBytes)} GB; export a part of it, or read it on the command line, which takes longer ones`;
  return failure(problem('file-too-large', { file }, sentence));
}

export function tooManySamples(file: string, room: Room) {
  const sentence = `with this file there would be more than ${millions(room.samples)} million samples in the window, which is as many as it can hold; take other files out of the review, or read this one on the command line`;
  return failure(problem(wantOfRoom, { file }, sentence));
}

export function isForWantOfRoom({ code }: Problem): boolean {
  return code === wantOfRoom;
}

const wantOfRoom = 'too-many-samples';

function gigabytes(bytes: number): string {
  return String(Math.round(bytes / 1e8) / 10);
}

function millions(samples: number): string {
  return String(Number((samples / 1e6).toPrecision(3)));
}
