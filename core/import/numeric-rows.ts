/**
 * The quick tier: rows of plain numbers straight from bytes to doubles, without a string in between.
 *
 * It accepts only what cannot be misunderstood: exactly the expected number of fields, each one a plain number in the
 * file's decimal mark, one delimiter between them, one line end. At the first row that is anything else it stops and
 * returns that row's first byte; the careful tier (`body.ts`) then decides what the row is. Nothing is skipped here.
 */

const minus = 0x2d;
const plus = 0x2b;
const zero = 0x30;
const space = 0x20;
const carriageReturn = 0x0d;
const lineFeed = 0x0a;
const letterE = 0x65;
const point = 0x2e;

/** What a row of the body looks like. Bytes, not characters; `decimalMark` 0 = none was seen yet, so any mark stops the scan. */
export interface RowFormat {
  readonly fields: number;
  readonly delimiter: number;
  readonly decimalMark: number;
  readonly lineEnd: typeof lineFeed | typeof carriageReturn;
  /** Each row ends with one more delimiter and nothing, or blanks, behind it. */
  readonly blankTail: boolean;
}

/** Rows side by side: the value of field f in row r is `values[r · fields + f]`. */
export interface RowBlock {
  readonly values: Float64Array;
  readonly capacity: number;
  rows: number;
}

/** Values in a block: few enough to stay in the processor's cache until they are taken apart. */
const blockValues = 16384;
/** In a file of many columns a block is larger, so that each column gets some rows of it at once. */
const wideBlockValues = 262_144;
const wideBlockRows = 512;
const fewestRows = 16;

/** The room of the last block that was given back: most files of a batch need the same. */
let spare: Float64Array | null = null;

export function emptyBlock(fields: number): RowBlock {
  const wideRows = Math.min(wideBlockRows, Math.floor(wideBlockValues / fields));
  const capacity = Math.max(fewestRows, wideRows, Math.floor(blockValues / fields));
  const values =
    spare !== null && spare.length >= capacity * fields
      ? spare
      : new Float64Array(Math.max(blockValues, capacity * fields));
  spare = null;
  return { values, capacity, rows: 0 };
}

/** Gives a block's room back; the block must not be used any more. */
export function releaseBlock(block: RowBlock): void {
  spare = block.values;
}

const powersOfTen = Float64Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));
/** 1 to 1e15, and behind them the same with a minus. */
const signedPowersOfTen = Float64Array.from({ length: 32 }, (_, i) => (i < 16 ? 1 : -1) * powersOfTen[i & 15]);

/**
 * Reads rows from `bytes[from, to)` into `block` until the range or the block is used up, or an odd row comes.
 * The range must end with a line end. Returns the position of the first byte not taken, always the start of a row.
 *
 * Exactness: up to nine digits are gathered in an integer of 32 bits and divided once by a power of ten that is itself
 * exact, so the quotient is correctly rounded (Clinger 1990, the fast path), the same bits as `Number()`. Longer fields and
 * those with an exponent go to `scanLongField`, which keeps the same promise.
 */
export function scanRows(bytes: Uint8Array, from: number, to: number, format: RowFormat, block: RowBlock): number {
  rowsScanned[0] = block.rows;
  const fours = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const at = scanInto(bytes, fours, from, to, format, block);
  block.rows = rowsScanned[0];
  return at;
}

/**
 * How many rows the block holds, kept up to date row by row: compiled code that is entered in mid-loop must not touch
 * objects behind the loop, or it is thrown away there, file after file.
 */
const rowsScanned = new Int32Array(1);

/** `fours` is a view of the same bytes. */
function scanInto(
  bytes: Uint8Array,
  fours: DataView,
  from: number,
  to: number,
  format: RowFormat,
  block: RowBlock,
): number {
  const { fields, delimiter, decimalMark, lineEnd, blankTail } = format;
  const { values, capacity } = block;
  const lastFour = fours.byteLength - 4;
  let rows = block.rows;
  let out = rows * fields;
  let at = from;
  while (at < to && rows < capacity) {
    const rowStart = at;
    let field = 0;
    for (;;) {
      let byte = bytes[at];
      while (byte === space) byte = bytes[++at];
      const fieldStart = at;
      // 1 for a minus, else 0, without a branch: the signs of noise cannot be foretold.
      const negative = ((byte ^ minus) - 1) >>> 31;
      at += negative;
      const digitsStart = at;
      let mantissa = 0;
      let digit = bytes[at] - zero;
      while (digit >>> 0 < 10) {
        mantissa = (Math.imul(mantissa, 10) + digit) | 0;
        digit = bytes[++at] - zero;
      }
      let digits = at - digitsStart;
      let decimals = 0;
      if (digit + zero === decimalMark) {
        const decimalsStart = ++at;
        // Four decimals at once: bytes of 0 to 9 have no high half, with 6 added neither; then in pairs, and the pairs.
        const four = at <= lastFour ? fours.getUint32(at, true) ^ 0x30303030 : -1;
        if (((four | (four + 0x06060606)) & 0xf0f0f0f0) === 0) {
          const pairs = (Math.imul(four, 10) + (four >>> 8)) & 0x00ff00ff;
          mantissa = (Math.imul(mantissa, 10000) + ((Math.imul(pairs, 100) + (pairs >>> 16)) & 0xffff)) | 0;
          at += 4;
        }
        digit = bytes[at] - zero;
        while (digit >>> 0 < 10) {
          mantissa = (Math.imul(mantissa, 10) + digit) | 0;
          digit = bytes[++at] - zero;
        }
        decimals = at - decimalsStart;
        digits += decimals;
      }
      byte = digit + zero;
      if ((digits - 1) >>> 0 < 9 && (byte | 0x20) !== letterE) {
        values[out++] = mantissa / signedPowersOfTen[decimals + (negative << 4)];
      } else {
        at = scanLongField(bytes, fieldStart, to, decimalMark);
        if (at < 0) return rowStart;
        values[out++] = scanned[0];
        byte = bytes[at];
      }
      field++;
      if (field < fields) {
        if (byte !== delimiter) return rowStart;
        at++;
        continue;
      }
      if (byte === lineEnd) {
        at++;
        break;
      }
      if (blankTail && byte === delimiter) {
        byte = bytes[++at];
        while (byte === space) byte = bytes[++at];
      }
      if (byte === carriageReturn && lineEnd === lineFeed) byte = bytes[++at];
      if (byte !== lineEnd) return rowStart;
      at++;
      break;
    }
    rowsScanned[0] = ++rows;
  }
  return at;
}

/** The value that `scanLongField` found: a typed slot, so that no number object is made. */
const scanned = new Float64Array(1);

/** Mantissas below this can take one more digit and stay below 2^53. */
const roomForOneMore = 900719925474098;

/** Larger exponents are counted as this one: more than any line has decimals to make up for. */
const mostExponent = 1e9;

/** A field with a plus sign, many digits or an exponent. Returns the position behind it, or −1 where it is no plain finite number. */
function scanLongField(bytes: Uint8Array, from: number, to: number, decimalMark: number): number {
  let at = from;
  const negative = bytes[at] === minus;
  if (negative || bytes[at] === plus) at++;
  let mantissa = 0;
  let digits = 0;
  let decimals = 0;
  let exact = true;
  let afterMark = false;
  for (; at < to; at++) {
    const byte = bytes[at];
    const digit = byte - zero;
    if (digit >= 0 && digit < 10) {
      digits++;
      if (mantissa <= roomForOneMore) mantissa = mantissa * 10 + digit;
      else exact = false;
      if (afterMark) decimals++;
    } else if (byte === decimalMark && !afterMark) {
      afterMark = true;
    } else {
      break;
    }
  }
  if (digits === 0) return -1;
  let exponent = 0;
  if ((bytes[at] | 0x20) === letterE) {
    at++;
    const shrinks = bytes[at] === minus;
    if (shrinks || bytes[at] === plus) at++;
    const exponentStart = at;
    while (at < to && (bytes[at] - zero) >>> 0 < 10)
      exponent = Math.min(mostExponent, exponent * 10 + bytes[at++] - zero);
    if (at === exponentStart) return -1;
    if (shrinks) exponent = -exponent;
  }
  const scale = exponent - decimals;
  if (exact && scale >= -22 && scale <= 22) {
    const value = scale < 0 ? mantissa / powersOfTen[-scale] : mantissa * powersOfTen[scale];
    scanned[0] = negative ? -value : value;
    return at;
  }
  let text = '';
  for (let i = from; i < at; i++) text += String.fromCharCode(bytes[i] === decimalMark ? point : bytes[i]);
  scanned[0] = Number(text);
  return Number.isFinite(scanned[0]) ? at : -1;
}
