import { type AxisVerdict, evenWithinSteps } from '../capture/uniform-axis.ts';
import { type Problem, problem } from '../outcome.ts';

/** The sentence for an axis that cannot be used; `line` is where it goes wrong. `null` for one that can. */
export function axisProblem(
  file: string,
  verdict: AxisVerdict,
  axisName: string,
  line: number | null,
  column: number | null,
): Problem | null {
  const place = { file, line, column };
  switch (verdict.kind) {
    case 'uniform':
      return null;
    case 'too-short':
      return problem(
        'one-sample',
        place,
        'There is only one sample: a waveform needs at least two. Export the waveform again.',
      );
    case 'zero-step':
      return problem(
        'zero-step',
        place,
        `‘${axisName}’ does not move: all its values are equal. Export it with more digits, or say which column is the axis.`,
      );
    case 'repeated':
      return verdict.count > 1
        ? problem(
            'repeated-time',
            place,
            `‘${axisName}’ repeats its value here, as do ${verdict.count} rows in all: it was written with too few digits. Export it with more digits, or give a sampling rate in its place.`,
          )
        : problem(
            'repeated-time',
            place,
            `‘${axisName}’ repeats its value here: two samples cannot have one time. Export the waveform again.`,
          );
    case 'backward':
      return problem(
        'backward-time',
        place,
        verdict.index === 1
          ? `‘${axisName}’ falls from row to row: the samples stand in reverse, or it is no axis. Export the waveform in order of time.`
          : `‘${axisName}’ goes backward here. Two records may have been written one behind the other; split them; or its counter began anew. Export the waveform again.`,
      );
    case 'uneven':
      return problem(
        'uneven-time',
        place,
        `‘${axisName}’ is not evenly spaced: it jumps here. Its usual step is ${short(verdict.usualStep)}, its mean step ${short(verdict.step)}, and values stand up to ${short(verdict.worstSteps)} steps off (allowed: ${evenWithinSteps}). Export it evenly sampled, or allow it to be resampled.`,
      );
  }
}

export function short(value: number): string {
  return String(Number(value.toPrecision(4)));
}
