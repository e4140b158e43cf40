import * as v from 'valibot';
import {
  type Bridge,
  type Carried,
  callNames,
  calls,
  type EventName,
  events,
  fileCall,
  type Told,
} from '../../electron/bridge.ts';

export interface BridgeDouble {
  readonly bridge: Bridge;
  /** Plays the host: tells the page an event that fits the table. */
  tell<Name extends EventName>(name: Name, told: Told<Name>): void;
}

/** The bridge as the page sees it, derived from the table of calls: what goes in and what comes out must fit it. */
export function bridgeDouble<Caller>(carried: Carried<Caller>, caller: Caller): BridgeDouble {
  const listeners = new Map<string, Set<(told: unknown) => void>>();
  const called = callNames.map((name) => [
    name,
    async (...given: unknown[]) => {
      const carryOut = carried[name] as (caller: Caller, ...checked: readonly unknown[]) => Promise<unknown>;
      // A file of the page stands for its path, as the preload script has it.
      const passed = name === fileCall ? [(given[0] as { path?: string }).path ?? ''] : given;
      return v.parse(calls[name].answer, await carryOut(caller, ...v.parse(calls[name].arguments, passed)));
    },
  ]);
  return {
    bridge: {
      ...Object.fromEntries(called),
      on(name: EventName, listener: (told: never) => void) {
        const those = listeners.get(name) ?? new Set();
        listeners.set(name, those.add(listener as (told: unknown) => void));
        return () => those.delete(listener as (told: unknown) => void);
      },
    } as Bridge,
    tell(name, told) {
      for (const listener of listeners.get(name) ?? []) listener(v.parse(events[name], told));
    },
  };
}
