export function findChromium(): string | null;
export const flags: readonly string[];
