export type Part = 'cli' | 'desktop';
export function stampOf(part: Part, root?: string): string;
export function isStale(part: Part, root?: string): boolean;
