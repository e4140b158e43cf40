/**
 * A drift rule is data: one edition, one file in `check/rules/`. The person's own rule is a file of the same form.
 * A distance limit of several parts allows the greatest of them; an amplitude limit of several parts allows the least.
 */
export interface DriftRule {
  readonly name: string;
  readonly title: string;
  readonly edition: string;
  readonly clause: string;
  /** Where the figures come from and how sure they are. */
  readonly source: string;
  readonly distance: {
    readonly limits: readonly { readonly of: 'reading' | 'range'; readonly percent: number }[];
    readonly whenExceeded: string;
  } | null;
  readonly amplitude: {
    readonly limits: readonly ({ readonly db: number } | { readonly percent: number })[];
    readonly whenLower: string;
    readonly whenHigher: string;
  } | null;
}
