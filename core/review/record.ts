import * as v from 'valibot';
import { name, text } from './decision-parts.ts';

/** What the report says beside the results, by the name of the field; a field that is not here stands empty in the report, for a pen. */
export const recordSchema = v.array(v.strictObject({ field: name, value: text }));

export type ReviewRecord = v.InferOutput<typeof recordSchema>;
