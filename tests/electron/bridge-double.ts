import * as v from 'valibot';
import { type Bridge, callNames, calls } from '../../electron/bridge.ts';

/** The bridge as the page sees it, derived from the table of calls: what goes in and what comes out must fit it. */
export function bridgeDouble(answers: Bridge): Bridge {
  return Object.fromEntries(
    callNames.map((name) => [
      name,
      async (...given: unknown[]) => {
        const carryOut = answers[name] as (...checked: readonly unknown[]) => Promise<unknown>;
        return v.parse(calls[name].answer, await carryOut(...v.parse(calls[name].arguments, given)));
      },
    ]),
  ) as unknown as Bridge;
}
