import { failure, type Outcome, type Problem, problem, success } from '../outcome.ts';
import type { Encoding } from './import-recipe.ts';

/** Zero bytes are looked for in so much; further on they are found as rows that are no numbers. */
const zeroSearch = 4096;

/** Files that are plainly something else, by their first bytes. */
const otherFormats: readonly { readonly begins: readonly number[]; readonly what: string }[] = [
  { begins: [0x50, 0x4b, 0x03, 0x04], what: 'a packed file, such as a spreadsheet workbook' },
  { begins: [0x1f, 0x8b], what: 'a compressed file' },
  { begins: [0x25, 0x50, 0x44, 0x46], what: 'a PDF document' },
  { begins: [0x89, 0x50, 0x4e, 0x47], what: 'a picture' },
  { begins: [0xff, 0xd8, 0xff], what: 'a picture' },
  { begins: [0xd0, 0xcf, 0x11, 0xe0], what: 'an office document in a binary format' },
];

export interface DetectedEncoding {
  readonly encoding: Encoding;
  /** Length of the byte order mark. */
  readonly skip: number;
}

/**
 * The encoding by byte order mark, else by the zero bytes that UTF-16 puts beside plain letters; UTF-8 otherwise (what is
 * not valid UTF-8 is found out while reading, and then read as Latin-1). Refuses what is empty or no text.
 */
export function detectEncoding(file: string, head: Uint8Array, given: Encoding | null): Outcome<DetectedEncoding> {
  if (head.length === 0) {
    return failure(problem('empty-file', { file }, 'The file is empty. Export the waveform again.'));
  }
  const other = otherFormats.find(({ begins }) => begins.every((byte, i) => head[i] === byte));
  if (other !== undefined) {
    return failure(
      problem(
        'binary-file',
        { file, line: 1, column: 1 },
        `This is ${other.what}, not text. Save the waveform as CSV text and open that.`,
      ),
    );
  }
  const marked = byteOrderMark(head);
  const detected =
    marked !== null && (given === null || given === marked.encoding)
      ? marked
      : { encoding: given ?? encodingByZeros(head), skip: 0 };
  if (!detected.encoding.startsWith('utf-16')) {
    const zeroAt = head.subarray(0, zeroSearch).indexOf(0);
    if (zeroAt >= 0) {
      const before = decodeLatin1(head, 0, zeroAt).split(/\r\n|\r|\n/);
      return failure(binaryProblem(file, before.length, before[before.length - 1].length + 1));
    }
  }
  return success(detected);
}

export function binaryProblem(file: string, line: number, column: number): Problem {
  return problem(
    'binary-file',
    { file, line, column },
    'There is a byte here that no text has: this is a binary or a damaged file. Export the waveform as CSV text.',
  );
}

function byteOrderMark(head: Uint8Array): DetectedEncoding | null {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return { encoding: 'utf-8', skip: 3 };
  if (head[0] === 0xff && head[1] === 0xfe) return { encoding: 'utf-16le', skip: 2 };
  if (head[0] === 0xfe && head[1] === 0xff) return { encoding: 'utf-16be', skip: 2 };
  return null;
}

function encodingByZeros(head: Uint8Array): Encoding {
  const length = Math.min(head.length & ~1, 256);
  if (length < 4) return 'utf-8';
  let evenZeros = 0;
  let oddZeros = 0;
  for (let i = 0; i < length; i += 2) {
    if (head[i] === 0) evenZeros++;
    if (head[i + 1] === 0) oddZeros++;
  }
  if (oddZeros > length * 0.4 && evenZeros === 0) return 'utf-16le';
  if (evenZeros > length * 0.4 && oddZeros === 0) return 'utf-16be';
  return 'utf-8';
}

/** UTF-16 in pieces of any size to UTF-8 bytes, so that everything after it knows one kind of text. Lone surrogates become U+FFFD. */
export class Utf16ToUtf8 {
  private pendingByte = -1;
  private pendingHigh = 0;
  private readonly high: 0 | 1;

  constructor(encoding: 'utf-16le' | 'utf-16be') {
    this.high = encoding === 'utf-16le' ? 1 : 0;
  }

  push(bytes: Uint8Array): Uint8Array {
    const out = new Uint8Array((bytes.length >> 1) * 3 + 8);
    let length = 0;
    let at = 0;
    const write = (code: number) => {
      length = writeUtf8(out, length, code);
    };
    const unit = (first: number, second: number) => {
      const code = this.high === 1 ? first | (second << 8) : (first << 8) | second;
      if (this.pendingHigh !== 0) {
        const high = this.pendingHigh;
        this.pendingHigh = 0;
        if (code >= 0xdc00 && code < 0xe000) return write(0x10000 + ((high - 0xd800) << 10) + (code - 0xdc00));
        write(0xfffd);
      }
      if (code >= 0xd800 && code < 0xdc00) this.pendingHigh = code;
      else write(code >= 0xdc00 && code < 0xe000 ? 0xfffd : code);
    };
    if (this.pendingByte >= 0 && bytes.length > 0) {
      unit(this.pendingByte, bytes[0]);
      this.pendingByte = -1;
      at = 1;
    }
    for (; at + 1 < bytes.length; at += 2) unit(bytes[at], bytes[at + 1]);
    if (at < bytes.length) this.pendingByte = bytes[at];
    return out.subarray(0, length);
  }

  /** What the last bytes begin and do not end, half a character or half a pair of them: U+FFFD, so that it shows that the file was cut off. */
  finish(): Uint8Array {
    const isCut = this.pendingByte >= 0 || this.pendingHigh !== 0;
    return isCut ? Uint8Array.of(0xef, 0xbf, 0xbd) : new Uint8Array(0);
  }
}

function writeUtf8(out: Uint8Array, at: number, code: number): number {
  if (code < 0x80) {
    out[at++] = code;
  } else if (code < 0x800) {
    out[at++] = 0xc0 | (code >> 6);
    out[at++] = 0x80 | (code & 0x3f);
  } else if (code < 0x10000) {
    out[at++] = 0xe0 | (code >> 12);
    out[at++] = 0x80 | ((code >> 6) & 0x3f);
    out[at++] = 0x80 | (code & 0x3f);
  } else {
    out[at++] = 0xf0 | (code >> 18);
    out[at++] = 0x80 | ((code >> 12) & 0x3f);
    out[at++] = 0x80 | ((code >> 6) & 0x3f);
    out[at++] = 0x80 | (code & 0x3f);
  }
  return at;
}

const pieceLength = 4096;
/** Up to here, character by character is quicker than a list of arguments. */
const shortLength = 64;

/** Bytes to text; `null` where they are not valid UTF-8. */
export function decodeUtf8(bytes: Uint8Array, from: number, to: number): string | null {
  let ascii = from;
  while (ascii < to && bytes[ascii] < 0x80) ascii++;
  if (ascii === to) return decodeLatin1(bytes, from, to);
  let text = '';
  const units: number[] = [];
  for (let at = from; at < to; ) {
    const byte = bytes[at];
    if (byte < 0x80) {
      units.push(byte);
      at++;
    } else {
      const length = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
      if (byte < 0xc2 || byte > 0xf4 || at + length > to) return null;
      let code = byte & (0x7f >> length);
      for (let i = 1; i < length; i++) {
        if ((bytes[at + i] & 0xc0) !== 0x80) return null;
        code = (code << 6) | (bytes[at + i] & 0x3f);
      }
      const isOverlong = (length === 3 && code < 0x800) || (length === 4 && code < 0x10000);
      if (isOverlong || (code >= 0xd800 && code < 0xe000) || code > 0x10ffff) return null;
      if (code >= 0x10000) units.push(0xd800 + ((code - 0x10000) >> 10), 0xdc00 + ((code - 0x10000) & 0x3ff));
      else units.push(code);
      at += length;
    }
    if (units.length >= pieceLength) {
      text += String.fromCharCode(...units);
      units.length = 0;
    }
  }
  return text + String.fromCharCode(...units);
}

export function decodeLatin1(bytes: Uint8Array, from: number, to: number): string {
  let text = '';
  if (to - from <= shortLength) {
    for (let at = from; at < to; at++) text += String.fromCharCode(bytes[at]);
    return text;
  }
  for (let at = from; at < to; at += pieceLength) {
    text += String.fromCharCode(...bytes.subarray(at, Math.min(to, at + pieceLength)));
  }
  return text;
}
