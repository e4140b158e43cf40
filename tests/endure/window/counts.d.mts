import type { Page } from '@playwright/test';

export interface Counted {
  readonly heapMb: number;
  readonly arraysMb: number;
  readonly workerMb: number;
  readonly workerArraysMb: number;
  readonly nodes: number;
  readonly documents: number;
  readonly listeners: number;
  readonly urls: number;
  readonly timers: number;
  readonly workers: number;
  readonly observers: number;
  readonly kept: number;
}

export function keepCount(): void;
export function counterOf(page: Page): Promise<() => Promise<Counted>>;
