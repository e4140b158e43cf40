import type { Capture } from '../capture/capture.ts';
import type { SourceFile } from './review.ts';

/** What the person knows better than the file, laid over what the file says. Facts of one trace stand above those of its whole file. */
export function withFacts(capture: Capture, sources: readonly SourceFile[]): Capture {
  const source = sources.find((candidate) => candidate.file === capture.file);
  if (source === undefined || source.facts.length === 0) return capture;
  const layers = [
    ...source.facts.filter((facts) => facts.trace === null),
    ...source.facts.filter((facts) => facts.trace === capture.trace),
  ];
  return layers.reduce<Capture>(
    (known, facts) => ({
      ...known,
      gainDb: facts.gainDb ?? known.gainDb,
      positionMm: facts.positionMm ?? known.positionMm,
      takenAt: facts.takenAt ?? known.takenAt,
      probe: facts.probe ?? known.probe,
      block: facts.block ?? known.block,
      temperatureC: facts.temperatureC ?? known.temperatureC,
    }),
    capture,
  );
}
