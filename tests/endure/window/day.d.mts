import type { Page } from '@playwright/test';

export function round(
  page: Page,
  r: number,
  given: { readonly moves: number; readonly scan: readonly string[] },
): Promise<number>;
export function scanFiles(folder: string): readonly string[];
