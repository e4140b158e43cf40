export const notAnswered: number;
export function judged(
  report: unknown,
  lock: { readonly packages: Readonly<Record<string, { readonly dev?: boolean }>> },
): { readonly status: number; readonly lines: readonly string[] };
