import { basename } from 'node:path';
import * as v from 'valibot';

export const recentSchema = v.array(v.strictObject({ path: v.string(), at: v.string() }));
export type RecentReviews = v.InferOutput<typeof recentSchema>;

const most = 12;

/** The list with a review that was just opened or saved at its head; each stands once. */
export function withRecent(recent: RecentReviews, path: string, at: string): RecentReviews {
  return [{ path, at }, ...recent.filter((one) => one.path !== path)].slice(0, most);
}

export function withoutRecent(recent: RecentReviews, path: string): RecentReviews {
  return recent.filter((one) => one.path !== path);
}

export function recentName(path: string): string {
  return basename(path);
}
