export function stage(root: string, folder: string): void;
