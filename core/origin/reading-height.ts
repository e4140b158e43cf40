import { log10 } from '../elementary/exponential.ts';
import { formulas } from '../formula.ts';
import type { Reading } from '../gate/reading.ts';
import type { FormulaShown, Origin, OriginInput } from '../origin.ts';
import { heightInWords, type OriginContext, origin, shown } from './context.ts';
import { type Figure, figures, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';
import { input, type Read, traceInputs } from './reading-context.ts';

export function amplitudeOrigin(read: Read): Origin {
  const { review, reading, style, gainDb } = read;
  const { value, uncertainty } = shown(
    reading.amplitudePercent === null ? null : figures.amplitudePercent(reading.amplitudePercent, style),
    style,
  );
  return origin({
    title: 'Amplitude',
    value: isLowerBound(reading) && reading.amplitudePercent !== null ? `≥ ${value}` : value,
    uncertainty,
    inputs: [
      ...traceInputs(read),
      input(read, 'gain of the capture', gainDb === null ? null : figures.levelDb(gainDb, style), null),
    ],
    source: heightInWords(review.conditioning),
  });
}

function isLowerBound({ flags }: Reading): boolean {
  return flags.includes('saturated') || flags.includes('cut-by-gate');
}

export function signalToNoiseOrigin(read: Read): Origin {
  const { reading, style } = read;
  const { amplitudePercent, noisePercent, signalToNoiseDb } = reading;
  const known = amplitudePercent !== null && noisePercent !== null && signalToNoiseDb !== null;
  const ratio = signalToNoiseDb === null ? null : figures.levelDb(signalToNoiseDb, style);
  const amplitude = amplitudePercent === null ? null : figures.amplitudePercent(amplitudePercent, style);
  const noise = noisePercent === null ? null : figures.noisePercent(noisePercent, style);
  return origin({
    title: 'Signal to noise',
    ...shown(ratio, style),
    formula: known
      ? {
          text: formulas['signal-to-noise'].text,
          withNumbers: withNumbers(
            [amplitude!, noise!],
            (a, n) => 20 * log10(a / n),
            (a, n) => `20 · log10(${a} / ${n})`,
            ratio!,
            style,
          ),
        }
      : null,
    inputs: [
      input(read, 'amplitude', amplitude, 'amplitude'),
      input(read, 'noise of the capture’s quiet part', noise, null),
    ],
    source: formulas['signal-to-noise'].source,
  });
}

export function belowPeakOrigin(read: Read): Origin {
  const { reading, evaluation, style, gainDb } = read;
  const peak = evaluation.readings?.series.find((s) => s.gate === reading.gate)?.peak ?? null;
  const below = reading.belowPeakDb === null ? null : figures.levelDb(reading.belowPeakDb, style);
  const amplitude =
    reading.amplitudePercent === null ? null : figures.amplitudePercent(reading.amplitudePercent, style);
  const inputs: OriginInput[] = [input(read, 'amplitude', amplitude, 'amplitude')];
  if (peak !== null) {
    const height = figures.amplitudePercent(peak.amplitudePercent, style);
    inputs.unshift({
      name: 'peak of the series',
      value: `${peak.isLowerBound ? '≥ ' : ''}${figureWords(height, style)}`,
      asked: { kind: 'series', gate: reading.gate, figure: 'peak' },
    });
    if (peak.referenceGainDb !== null) {
      inputs.push(input(read, 'gain at that peak', figures.levelDb(peak.referenceGainDb, style), null));
      inputs.push(input(read, 'gain of this capture', gainDb === null ? null : figures.levelDb(gainDb, style), null));
    }
  }
  return origin({
    title: 'Below the peak',
    ...shown(below, style),
    formula:
      peak === null || below === null || amplitude === null
        ? null
        : belowPeakFormula(peak, amplitude, below, gainDb, style),
    inputs,
    source: formulas['below-peak'].source,
  });
}

function belowPeakFormula(
  peak: { readonly amplitudePercent: number; readonly referenceGainDb: number | null },
  amplitude: Figure,
  below: Figure,
  gainDb: number | null,
  style: OriginContext['style'],
): FormulaShown {
  const heights = [figures.amplitudePercent(peak.amplitudePercent, style), amplitude];
  const { text } = formulas['below-peak'];
  const ratio = (p: number, a: number) => 20 * log10(p / a);
  if (peak.referenceGainDb === null || gainDb === null) {
    return { text, withNumbers: withNumbers(heights, ratio, (p, a) => `20 · log10(${p} / ${a})`, below, style) };
  }
  return {
    text,
    withNumbers: withNumbers(
      [...heights, figures.levelDb(gainDb, style), figures.levelDb(peak.referenceGainDb, style)],
      (p, a, g, r) => ratio(p, a) + g - r,
      (p, a, g, r) => `20 · log10(${p} / ${a}) + ${g} − ${r}`,
      below,
      style,
    ),
  };
}
