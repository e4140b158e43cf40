export interface Machine {
  readonly platform: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly userId: number | undefined;
}
export function whyNoWindow(machine: Machine): string | null;
export function findBinary(env?: Machine['env'], folder?: string): string | null;
export function fetchBinary(): string | null;
