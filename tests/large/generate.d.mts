export function makeCaptures(folder: string, count: number, samples?: number): void;
export function makeChecks(folder: string, count: number, samples?: number): void;
export function makeWide(path: string, traces: number, samples: number, mark?: number): void;
export function makeLong(path: string, samples: number): void;
export function makeCalibration(path: string): void;
export function setAt(folder: string, name: string): string;
