import type { ReviewRecord } from './record.ts';

/**
 * The record with another value of a field, at the place where the field stands or at its end; several entries under one name become one. An empty value takes the
 * field out, so that the report leaves its line for a pen.
 */
export function withField(record: ReviewRecord, field: string, value: string): ReviewRecord {
  const entry = { field, value };
  const at = record.findIndex((one) => one.field === field);
  if (value.trim() === '') return record.filter((one) => one.field !== field);
  if (at < 0) return [...record, entry];
  return record.flatMap((one, i) => (one.field !== field ? [one] : i === at ? [entry] : []));
}
