export function licences(): string;
