/**
 * A number in a cell, read slowly from the conventions alone: an optional sign; digits with at most one decimal mark; an optional exponent.
 * Digits may stand in groups of three, with commas, points, apostrophes or narrow spaces between them, where that cannot be taken for a decimal mark.
 * Written without a line of the program's own code; the digits are put into a string and left to the language.
 */
export interface SlowNumber {
  readonly value: number;
  /** The number's digits in one spelling for one number: `1.50` and `15e-1` are the same. */
  readonly exactly: string;
}

const minusSign = '\u2212';
const groupMarks = ["'", '’', '\u00a0', '\u202f', '\u2009'];

/** `null` for what is no finite number with this decimal mark; where a person told the mark, the other one can only part digits into groups. */
export function slowNumber(cell: string, mark: '.' | ',', isMarkTold = false): SlowNumber | null {
  let text = cell.trim();
  let sign = '';
  if (text[0] === '-' || text[0] === '+' || text[0] === minusSign) {
    sign = text[0] === '+' ? '' : '-';
    text = text.slice(1);
  }
  const digits = ungrouped(text, mark, isMarkTold);
  if (digits === null) return null;
  const value = Number(`${sign}${digits.whole}.${digits.fraction}e${digits.exponent}`.replace('.e', '.0e'));
  return Number.isFinite(value) ? { value, exactly: sign + spelled(digits) } : null;
}

interface Digits {
  readonly whole: string;
  readonly fraction: string;
  readonly exponent: string;
}

function ungrouped(text: string, mark: string, isMarkTold: boolean): Digits | null {
  const at = text.search(/[eE]/);
  const exponent = at < 0 ? '0' : text.slice(at + 1);
  if (!isExponent(exponent)) return null;
  const parts = (at < 0 ? text : text.slice(0, at)).split(mark);
  if (parts.length > 2) return null;
  const [whole, fraction = ''] = parts;
  if (fraction !== '' && !isDigits(fraction)) return null;
  if (whole === '' || isDigits(whole)) {
    return whole === '' && fraction === '' ? null : { whole: whole === '' ? '0' : whole, fraction, exponent };
  }
  // With digits in groups there is no exponent, and a mark has digits behind it.
  if (at >= 0 || (parts.length === 2 && fraction === '')) return null;
  const other = mark === '.' ? ',' : '.';
  const separator = [...whole].find((character) => character < '0' || character > '9') ?? '';
  const groups = whole.split(separator);
  const isOther = separator === other;
  if (!isOther && !groupMarks.includes(separator)) {
    // Apostrophes and spaces may be mixed: each is a separator in its own right.
    return null;
  }
  if (groups[0].length < 1 || groups[0].length > 3 || !groups.every(isDigits)) return null;
  if (!groups.slice(1).every((group) => group.length === 3)) return null;
  // One group behind the other mark alone may be decimals: that is nobody's to guess.
  if (isOther && parts.length === 1 && groups.length < 3 && !isMarkTold) return null;
  return { whole: groups.join(''), fraction, exponent };
}

function isDigits(text: string): boolean {
  return text !== '' && [...text].every((character) => character >= '0' && character <= '9');
}

function isExponent(text: string): boolean {
  return isDigits(text[0] === '-' || text[0] === '+' ? text.slice(1) : text);
}

function spelled({ whole, fraction, exponent }: Digits): string {
  const all = `${whole}${fraction}`.replace(/^0+/, '');
  const digits = all.replace(/0+$/, '');
  if (digits === '') return '0';
  return `${digits}e${BigInt(exponent.replace('+', '')) - BigInt(fraction.length) + BigInt(all.length - digits.length)}`;
}
