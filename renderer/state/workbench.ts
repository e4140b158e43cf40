import { createContext, useContext } from 'react';
import { type StoreApi, useStore } from 'zustand';
import { invariant } from '../../core/invariant.ts';
import type { Workbench } from './workbench-state.ts';

export type WorkbenchStore = StoreApi<Workbench>;

/** `<WorkbenchContext value={createWorkbench(host, engine)}>` around the page. */
export const WorkbenchContext = createContext<WorkbenchStore | null>(null);

/** A part of the workbench, and a new rendering whenever that part is another value. */
export function useWorkbench<Part>(part: (workbench: Workbench) => Part): Part {
  const store = useContext(WorkbenchContext);
  invariant(store !== null, 'a screen outside the workbench');
  return useStore(store, part);
}
