import type { Capture } from '../capture/capture.ts';
import type { Facts, SourceFile } from './review.ts';

/** What the person knows better than the file, laid over what the file says. Facts of one trace stand above those of its whole file. */
export function withFacts(capture: Capture, sources: readonly SourceFile[]): Capture {
  const source = sources.find((candidate) => candidate.file === capture.file);
  if (source === undefined || source.facts.length === 0) return capture;
  const ofTrace = source.facts.filter((facts) => facts.trace === capture.trace);
  const ofFile = source.facts.filter((facts) => facts.trace === null);
  const told = <K extends keyof Facts & keyof Capture>(key: K): Capture[K] => {
    const facts = [...ofTrace, ...ofFile].find((candidate) => candidate[key] !== null);
    return facts === undefined ? capture[key] : (facts[key] as Capture[K]);
  };
  return {
    ...capture,
    gainDb: told('gainDb'),
    positionMm: told('positionMm'),
    acrossMm: told('acrossMm'),
    takenAt: told('takenAt'),
    probe: told('probe'),
    instrument: told('instrument'),
    block: told('block'),
    temperatureC: told('temperatureC'),
  };
}
