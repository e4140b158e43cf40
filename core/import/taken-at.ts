import type { ImportRecipe } from './import-recipe.ts';

/** What a text says about the instant: as it should be kept, and what is doubtful about it. */
export type TakenAt =
  | { readonly kind: 'instant' | 'without-zone'; readonly text: string }
  | { readonly kind: 'ambiguous-date' }
  | { readonly kind: 'unreadable' };

const iso =
  /^(\d{4})-?(\d{2})-?(\d{2})(?:[T ]\s*(\d{1,2}):?(\d{2})(?::?(\d{2}(?:[.,]\d+)?))?\s*(Z|UTC|[+-]\d{2}:?\d{2})?)?$/i;
const slashed =
  /^(\d{1,2})([/.-])(\d{1,2})\2(\d{4})(?:[T ,]+(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*(Z|UTC|[+-]\d{2}:?\d{2})?)?$/i;

/**
 * Reads a date and time in ISO 8601, or with day and month in either order where only one order is possible (`13/04/2026`), where
 * points separate them (day first by common practice, see `isDayFirstAssumed`), or where the recipe says the order. `03/04/2026` alone is never guessed at.
 */
export function readTakenAt(text: string, dateOrder: ImportRecipe['dateOrder']): TakenAt {
  const trimmed = text.trim();
  const isoMatch = iso.exec(trimmed);
  if (isoMatch !== null) {
    const [, year, month, day, hour, minute, second, zone] = isoMatch;
    return dated(year, Number(month), Number(day), hour, minute, second, zone);
  }
  const match = slashed.exec(trimmed);
  if (match === null) return { kind: 'unreadable' };
  const [, first, separator, second, year, hour, minute, seconds, zone] = match;
  const isDayFirst = dayFirst(Number(first), Number(second), separator, dateOrder);
  if (isDayFirst === null) return { kind: 'ambiguous-date' };
  const [day, month] = isDayFirst ? [first, second] : [second, first];
  return dated(year, Number(month), Number(day), hour, minute, seconds, zone);
}

/** Was the day taken to stand first because points separate the date, and for no other reason? */
export function isDayFirstAssumed(text: string, dateOrder: ImportRecipe['dateOrder']): boolean {
  const [, first, separator, second] = slashed.exec(text.trim()) ?? [];
  return separator === '.' && dateOrder === null && first !== second && Number(first) <= 12 && Number(second) <= 12;
}

function dayFirst(first: number, second: number, separator: string, order: ImportRecipe['dateOrder']): boolean | null {
  if (first > 12) return true;
  if (second > 12) return false;
  if (first === second) return true;
  return order === null ? (separator === '.' ? true : null) : order === 'day-first';
}

function dated(
  year: string,
  month: number,
  day: number,
  hour: string | undefined,
  minute: string | undefined,
  second: string | undefined,
  zone: string | undefined,
): TakenAt {
  if (month < 1 || month > 12 || day < 1 || day > daysIn(Number(year), month)) return { kind: 'unreadable' };
  const date = `${year}-${twoDigits(month)}-${twoDigits(day)}`;
  if (hour === undefined || minute === undefined) return { kind: 'without-zone', text: date };
  if (Number(hour) > 23 || Number(minute) > 59 || Number(second?.slice(0, 2) ?? 0) > 60) return { kind: 'unreadable' };
  const time = `${date}T${twoDigits(Number(hour))}:${minute}:${(second ?? '00').replace(',', '.')}`;
  if (zone === undefined) return { kind: 'without-zone', text: time };
  return isZone(zone) ? { kind: 'instant', text: time + zoneText(zone) } : { kind: 'unreadable' };
}

/** No place on earth is farther from UTC than 14 hours. */
function isZone(zone: string): boolean {
  if (/^(?:z|utc)$/i.test(zone)) return true;
  const [hours, minutes] = [Number(zone.slice(1, 3)), Number(zone.slice(-2))];
  return minutes < 60 && hours * 60 + minutes <= 14 * 60;
}

function zoneText(zone: string): string {
  if (/^(?:z|utc)$/i.test(zone)) return 'Z';
  return zone.includes(':') ? zone : `${zone.slice(0, 3)}:${zone.slice(3)}`;
}

function daysIn(year: number, month: number): number {
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return [31, isLeap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1];
}

function twoDigits(value: number): string {
  return String(value).padStart(2, '0');
}
