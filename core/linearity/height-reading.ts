import type { CaptureId } from '../capture/capture.ts';
import type { SampleRange } from '../capture/waveform.ts';
import type { Flag } from '../flag.ts';
import type { Reading } from '../gate/reading.ts';
import { propagate, type Quantity } from '../units/quantity.ts';

/** The height of one echo in one capture; `percent` is a lower bound where the flag `saturated` or `cut-by-gate` stands, and `null` where there is no echo. */
export interface HeightReading {
  readonly captureId: CaptureId;
  readonly percent: Quantity | null;
  readonly timeUs: number | null;
  readonly flags: readonly Flag[];
  readonly from: SampleRange | null;
}

/** The same at a setting of the gain: `levelDb` in dB on any scale on which more of it draws the echo higher; `null` where it is not known. */
export interface SteppedReading extends HeightReading {
  readonly levelDb: number | null;
}

/**
 * The height that a gate read, with its standard uncertainty by the capture's own noise and rounding. What the contact of the probe does between two captures is
 * not in it. The envelope of a crest that is cut off shoots above where it was cut, so that is the height then.
 */
export function heightOf(
  reading: Reading,
  { uHeightPercent, cutOffPercent }: { readonly uHeightPercent: number | null; readonly cutOffPercent: number | null },
): HeightReading {
  const { captureId, amplitudePercent, timeUs, peakUs, flags, from } = reading;
  const bound = flags.includes('saturated') && cutOffPercent !== null ? cutOffPercent : Number.POSITIVE_INFINITY;
  return {
    captureId,
    percent:
      amplitudePercent === null
        ? null
        : { value: Math.min(amplitudePercent, bound), standardUncertainty: uHeightPercent },
    timeUs: peakUs ?? timeUs?.value ?? null,
    flags,
    from,
  };
}

/** Why a height cannot be used as one; `null` where it can. */
export function unusableHeight({ percent, flags }: HeightReading): string | null {
  if (percent === null) return 'no echo reaches the threshold in the window; lower the threshold or move the window';
  if (flags.includes('saturated'))
    return `the crest is cut off by the screen or the converter: its height is only known to be at least ${percent.value.toFixed(1)} % FSH; capture it with less gain`;
  return null;
}

/** A height and its uncertainty times a factor that is exact. */
export function scaled({ value, standardUncertainty }: Quantity, factor: number): Quantity {
  return propagate(value * factor, [{ sensitivity: factor, standardUncertainty }]);
}

/** `80`, `39.8`: heights and levels as they stand in a name. */
export function plain(value: number): string {
  return String(Number(value.toFixed(1)));
}

/** `+6 dB`, `−12 dB`. */
export function signedDb(value: number): string {
  return `${value < 0 ? '−' : '+'}${plain(Math.abs(value))} dB`;
}
