export function mostMemoryBytes(inputBytes: number): number;
export function tooMuch(): Promise<string>;
