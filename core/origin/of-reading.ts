import { formulas } from '../formula.ts';
import type { Reading } from '../gate/reading.ts';
import { unreachable } from '../invariant.ts';
import type { Origin } from '../origin.ts';
import { flagsShown, type OriginContext, origin, shown, timingInWords } from './context.ts';
import { figures } from './figure.ts';
import { calibrationInputs, pathFormula, pathUncertainty } from './path-formula.ts';
import { input, type Read, type ReadingAsked, traceInputs } from './reading-context.ts';
import { amplitudeOrigin, belowPeakOrigin, signalToNoiseOrigin } from './reading-height.ts';
import { depthOrigin, legOrigin, surfaceOrigin } from './reading-place.ts';

export function originOfReading(asked: ReadingAsked, context: OriginContext): Origin | null {
  const { evaluation } = context;
  const reading = evaluation.readings?.readings.find((r) => r.captureId === asked.captureId && r.gate === asked.gate);
  if (reading === undefined) return null;
  const gainDb = evaluation.captures.find((c) => c.captureId === asked.captureId)?.gainDb ?? null;
  const made = make({ ...context, asked, reading, gainDb });
  return {
    ...made,
    title: `${made.title} at gate ‘${asked.gate}’`,
    capture: { captureId: reading.captureId, samples: reading.from, timeUs: timeShown(asked.figure, reading) },
    flags: flagsShown(reading.flags),
  };
}

/** Where on the trace the figure was read: a height at the peak, whatever the readings are timed by. */
function timeShown(figure: ReadingAsked['figure'], reading: Reading): number | null {
  if (figure === 'crossing') return reading.crossingUs;
  if (figure === 'amplitude' || figure === 'signal-to-noise' || figure === 'below-peak') return reading.peakUs;
  return reading.timeUs?.value ?? null;
}

function make(read: Read): Origin {
  const { figure } = read.asked;
  switch (figure) {
    case 'time':
      return timeOrigin(read);
    case 'crossing':
      return crossingOrigin(read);
    case 'amplitude':
      return amplitudeOrigin(read);
    case 'signal-to-noise':
      return signalToNoiseOrigin(read);
    case 'sound-path':
      return soundPathOrigin(read);
    case 'depth':
      return depthOrigin(read);
    case 'surface-distance':
      return surfaceOrigin(read);
    case 'leg':
      return legOrigin(read);
    case 'below-peak':
      return belowPeakOrigin(read);
    default:
      return unreachable(figure);
  }
}

function timeOrigin(read: Read): Origin {
  const { review, reading, style } = read;
  const timing = review.readings?.timing ?? 'peak';
  return origin({
    title: timing === 'peak' ? 'Time of the peak' : 'Time of the crossing',
    ...shown(reading.timeUs && figures.timeUs(reading.timeUs, style), style),
    inputs: traceInputs(read),
    source: timingInWords(timing, review.conditioning),
  });
}

function crossingOrigin(read: Read): Origin {
  const { review, reading, style } = read;
  return origin({
    title: 'Crossing of the threshold',
    ...shown(reading.crossingUs === null ? null : figures.timeUs(reading.crossingUs, style), style),
    inputs: traceInputs(read),
    source: timingInWords('crossing', review.conditioning),
  });
}

function soundPathOrigin(read: Read): Origin {
  const { reading, evaluation, style } = read;
  const calibration = evaluation.calibration?.calibration ?? null;
  const { timeUs, soundPathMm } = reading;
  const known = timeUs !== null && calibration !== null && soundPathMm !== null;
  return origin({
    title: 'Sound path',
    ...shown(soundPathMm && figures.lengthMm(soundPathMm, style), style),
    formula: known ? pathFormula(timeUs, calibration, soundPathMm, style) : null,
    uncertaintyFormula: known ? pathUncertainty(timeUs, calibration, soundPathMm, style) : null,
    inputs: [
      input(read, 'time', timeUs && figures.timeUs(timeUs, style), 'time'),
      ...calibrationInputs(calibration, style),
    ],
    source: formulas['sound-path'].source,
  });
}
