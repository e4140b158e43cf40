export interface Given {
  readonly env?: Readonly<Record<string, string>>;
  readonly jobs?: number | null;
  readonly only?: readonly string[];
}
export const expectedBits: readonly number[];
export const names: readonly string[];
export const places: readonly Readonly<Record<string, string>>[];
export function commandLine(): string;
export function hashesOf(node: string, cli: string, given?: Given): Record<string, string>;
export function listed(): Record<string, string>;
export function list(hashes: Readonly<Record<string, string>>): void;
export function differing(
  hashes: Readonly<Record<string, string>>,
  expected: Readonly<Record<string, string>>,
): string[];
