import type { CaptureId } from '../capture/capture.ts';
import { log10 } from '../elementary/exponential.ts';
import type { CapturePulse, PulseCurves } from '../probe/pulse.ts';
import type { ProbesResult } from '../steps/probes.ts';

/** One probe's echo as it lies over the others. */
export interface TimeLine {
  readonly probe: string;
  readonly captureId: CaptureId;
  readonly startUs: number;
  readonly stepUs: number;
  /** In % FSH, or of its own highest envelope where normalised. */
  readonly values: Float64Array;
  /** What was taken off its times; 0 for the reference. */
  readonly shiftUs: number;
  /** At that shift; `null` where it was not worked out. */
  readonly correlation: number | null;
}

export interface TimeOverlay {
  /** Times are those of this probe's record; `null`: each counts from its own envelope's peak. */
  readonly reference: string | null;
  readonly normalised: boolean;
  readonly lines: readonly TimeLine[];
  /** Probes that have no curve to be drawn. */
  readonly without: readonly string[];
}

/**
 * The captures that show each probe, one over the other: shifted onto the reference, gain taken out, as `differenceInTime` has them; without a reference each from its
 * own envelope's peak, at its own gain.
 */
export function timeOverlay(result: ProbesResult, normalised: boolean): TimeOverlay {
  const { reference, probes } = result;
  const curves = curvesByProbe(result);
  const lines = probes.flatMap(({ probe, comparison, shownBy }): TimeLine[] => {
    const own = curves.get(probe);
    if (own === undefined || shownBy === null) return [];
    const at = { probe, captureId: shownBy };
    if (reference === null) return [{ ...at, ...fromOwnPeak(own, normalised), correlation: null }];
    if (probe === reference)
      return [
        {
          ...at,
          startUs: own.startUs,
          stepUs: own.stepUs,
          values: scaled(own, normalised),
          shiftUs: 0,
          correlation: null,
        },
      ];
    const time = comparison?.time ?? null;
    if (time === null) return [];
    const { alignment, startUs, stepUs, other } = time;
    return [{ ...at, startUs, stepUs, values: other, shiftUs: alignment.shiftUs, correlation: alignment.correlation }];
  });
  return { reference, normalised, lines, without: missing(result, lines) };
}

/** One probe's spectrum as it lies over the others. */
export interface SpectrumLine {
  readonly probe: string;
  readonly captureId: CaptureId;
  readonly stepMHz: number;
  /** To its own highest line where normalised, else to that of the reference, gain taken out. */
  readonly db: Float64Array;
  /** The noise's own spectrum on the same scale; `null` where it is not known. */
  readonly noiseDb: Float64Array | null;
}

export interface SpectrumOverlay {
  /** The probe whose highest line is 0 dB; `null` where each has its own. */
  readonly zeroOf: string | null;
  readonly lines: readonly SpectrumLine[];
  /** Beyond this no spectrum stands within 40 dB of its own peak. */
  readonly toMHz: number;
  /** Gains that were not stated count as all alike. */
  readonly gainsKnown: boolean;
  readonly without: readonly string[];
}

/** Levels farther below a peak than this tell nothing of a probe (common practice). */
const shownDb = 40;

/**
 * The spectra of the captures that show each probe, one over the other.
 * @param gainDbOf the stated gain of a capture; `null` where it states none
 */
export function spectrumOverlay(
  result: ProbesResult,
  normalised: boolean,
  gainDbOf: (captureId: CaptureId) => number | null,
): SpectrumOverlay {
  const curves = curvesByProbe(result);
  const drawn = result.probes.flatMap(({ probe, shownBy }) => {
    const own = curves.get(probe);
    return own === undefined || shownBy === null ? [] : [{ probe, captureId: shownBy, own }];
  });
  const gainsKnown = drawn.every(({ captureId }) => gainDbOf(captureId) !== null);
  const levelOf = ({ own, captureId }: (typeof drawn)[number]): number =>
    20 * log10(own.spectrumPeak) - (gainsKnown ? (gainDbOf(captureId) ?? 0) : 0);
  const zero = drawn.find(({ probe }) => probe === result.reference) ?? drawn[0];
  const lines = drawn.map((line): SpectrumLine => {
    const by = normalised || zero === undefined ? 0 : levelOf(line) - levelOf(zero);
    const moved = (values: Float64Array) => values.map((value) => value + by);
    const { spectrumDb, noiseDb, spectrumStepMHz } = line.own;
    return {
      probe: line.probe,
      captureId: line.captureId,
      stepMHz: spectrumStepMHz,
      db: moved(spectrumDb),
      noiseDb: noiseDb === null ? null : moved(noiseDb),
    };
  });
  const toMHz = Math.max(
    0,
    ...drawn.map(({ own }) => own.spectrumStepMHz * own.spectrumDb.findLastIndex((db) => db >= -shownDb)),
  );
  return {
    zeroOf: normalised ? null : (zero?.probe ?? null),
    lines,
    toMHz,
    gainsKnown,
    without: missing(result, lines),
  };
}

function curvesByProbe({ probes, captures }: ProbesResult): ReadonlyMap<string, PulseCurves> {
  const byCapture = new Map<CaptureId, CapturePulse>(captures.map((pulse) => [pulse.captureId, pulse]));
  const found = new Map<string, PulseCurves>();
  for (const { probe, shownBy } of probes) {
    const curves = shownBy === null ? null : (byCapture.get(shownBy)?.curves ?? null);
    if (curves !== null) found.set(probe, curves);
  }
  return found;
}

function fromOwnPeak(curves: PulseCurves, normalised: boolean) {
  return {
    startUs: curves.startUs - curves.peakUs,
    stepUs: curves.stepUs,
    values: scaled(curves, normalised),
    shiftUs: curves.peakUs,
  };
}

function scaled({ rf, envelope }: PulseCurves, normalised: boolean): Float64Array {
  if (!normalised) return rf;
  const highest = envelope.reduce((most, value) => Math.max(most, value), 0);
  return highest > 0 ? rf.map((value) => value / highest) : rf;
}

function missing({ probes }: ProbesResult, lines: readonly { readonly probe: string }[]): string[] {
  const drawn = new Set(lines.map(({ probe }) => probe));
  return probes.map(({ probe }) => probe).filter((probe) => !drawn.has(probe));
}
