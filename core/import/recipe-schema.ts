import * as v from 'valibot';
import type { ImportRecipe } from './import-recipe.ts';

const finite = v.pipe(v.number(), v.finite());
const positive = v.pipe(finite, v.gtValue(0));
const column = v.union([v.string(), v.pipe(v.number(), v.integer(), v.minValue(1))]);

/** The import recipe as it stands in a review or in a file of its own. */
export const importRecipeSchema = v.strictObject({
  encoding: v.nullable(v.picklist(['utf-8', 'utf-16le', 'utf-16be', 'latin-1'])),
  delimiter: v.nullable(v.picklist([',', ';', '\t', ' '])),
  decimalMark: v.nullable(v.picklist(['.', ','])),
  headerLine: v.nullable(v.pipe(v.number(), v.integer(), v.minValue(0))),
  axis: v.nullable(v.picklist(['time', 'distance'])),
  timeUnit: v.nullable(v.picklist(['s', 'ms', 'us', 'ns'])),
  distanceUnit: v.nullable(v.picklist(['mm', 'cm', 'm', 'in'])),
  startUs: v.nullable(finite),
  sampleRateMHz: v.nullable(positive),
  axisVelocityMPerS: v.nullable(positive),
  amplitudeUnit: v.nullable(v.picklist(['percent', 'volt', 'count', 'fraction'])),
  fullScreen: v.nullable(positive),
  zeroLevel: v.nullable(finite),
  rectification: v.nullable(v.picklist(['rf', 'full', 'positive', 'negative', 'envelope'])),
  columns: v.strictObject({
    axis: v.nullable(column),
    amplitudes: v.nullable(v.array(column)),
    captureId: v.nullable(column),
  }),
  uneven: v.picklist(['refuse', 'resample']),
  dateOrder: v.nullable(v.picklist(['day-first', 'month-first'])),
}) satisfies v.GenericSchema<unknown, ImportRecipe>;
