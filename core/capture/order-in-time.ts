const iso = /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:[.,](\d+))?)?\s*(Z|[+-]\d{2}(?::?\d{2})?)?$/i;

/** The order in which captures were taken, as indexes. */
export interface OrderInTime {
  /** All of them: first those with a usable time, earliest first; then the others, as given. */
  readonly order: readonly number[];
  /** Those without a usable time: none told, not ISO 8601, or without an offset where others have one. */
  readonly unplaced: readonly number[];
}

/**
 * Orders captures by the time taken (ISO 8601). Offsets are taken into account; equal instants keep the order given. Times without an offset are
 * compared with one another only when none has an offset: which zone they were told in is not known.
 */
export function orderInTime(takenAt: readonly (string | null)[]): OrderInTime {
  const usable = comparableSeconds(takenAt);
  const all = takenAt.map((_, index) => index);
  const placed = all.filter((index) => usable[index] !== null).sort((a, b) => usable[a]! - usable[b]! || a - b);
  const unplaced = all.filter((index) => usable[index] === null);
  return { order: [...placed, ...unplaced], unplaced };
}

/**
 * When each capture was taken, in seconds on one scale (that of UTC; of an unknown zone where none states its offset); `null` for those that cannot be
 * compared with the others, as in `orderInTime`.
 */
export function comparableSeconds(takenAt: readonly (string | null)[]): (number | null)[] {
  const instants = takenAt.map((text) => (text === null ? null : instantOf(text)));
  const zoned = instants.some((instant) => instant?.zoned === true);
  return instants.map((instant) => (instant !== null && (instant.zoned || !zoned) ? instant.seconds : null));
}

/** Seconds since 1970-01-01T00:00:00Z in the proleptic Gregorian calendar, without leap seconds; `null` for what is no such time. */
function instantOf(text: string): { readonly seconds: number; readonly zoned: boolean } | null {
  const match = iso.exec(text.trim());
  if (match === null) return null;
  const [year, month, day, hour, minute] = match.slice(1, 6).map(Number);
  const second = Number(match[6] ?? 0) + Number(`0.${match[7] ?? 0}`);
  if (month < 1 || month > 12 || day < 1 || day > daysIn(year, month) || hour > 23 || minute > 59 || second >= 61)
    return null;
  const zone = match[8];
  const days = daysBeforeYear(year) - daysBeforeYear(1970) + daysBeforeMonth(year, month) + day - 1;
  const seconds = days * 86_400 + hour * 3600 + minute * 60 + second - (zone === undefined ? 0 : offsetSeconds(zone));
  return { seconds, zoned: zone !== undefined };
}

function offsetSeconds(zone: string): number {
  if (zone.toUpperCase() === 'Z') return 0;
  const digits = zone.slice(1).replace(':', '').padEnd(4, '0');
  const seconds = Number(digits.slice(0, 2)) * 3600 + Number(digits.slice(2)) * 60;
  return zone.startsWith('-') ? -seconds : seconds;
}

function isLeap(year: number): boolean {
  return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
}

function daysIn(year: number, month: number): number {
  return month === 2 ? (isLeap(year) ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31;
}

function daysBeforeMonth(year: number, month: number): number {
  let days = 0;
  for (let m = 1; m < month; m++) days += daysIn(year, m);
  return days;
}

function daysBeforeYear(year: number): number {
  const y = year - 1;
  return y * 365 + Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400);
}
