import { type Problem, problem } from '../../core/outcome.ts';
import type { Engine } from '../engine/engine.ts';
import type { TraceFacts } from '../engine/messages.ts';
import type { Host } from '../host/host.ts';

/** What has become of a file that was asked for. */
export type Opening =
  | { readonly phase: 'reading'; readonly name: string }
  | { readonly phase: 'refused'; readonly problems: readonly Problem[] }
  | { readonly phase: 'unanswered'; readonly asks: readonly Problem[] }
  | { readonly phase: 'open'; readonly trace: TraceFacts; readonly warnings: readonly Problem[] };

/** Fetches a demonstration capture from the host, has it imported, and says how that ended; never rejects. */
export async function openSample(host: Host, engine: Engine, name: string): Promise<Opening> {
  try {
    const { bytes } = await host.openSample(name);
    const opened = await engine.ask('open', { file: name, bytes }, [bytes.buffer]);
    if (!opened.ok) return { phase: 'refused', problems: opened.problems };
    const { asks, traces } = opened.value;
    const first = traces[0];
    if (first !== undefined) return { phase: 'open', trace: first, warnings: opened.warnings };
    if (asks.length > 0) return { phase: 'unanswered', asks };
    return { phase: 'refused', problems: [problem('no-trace', { file: name }, 'There is no trace in this file.')] };
  } catch (error) {
    const sentence = error instanceof Error ? error.message : String(error);
    return { phase: 'refused', problems: [problem('not-opened', { file: name }, sentence)] };
  }
}
