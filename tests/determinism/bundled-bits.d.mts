export function bundledBits(): Promise<string>;
