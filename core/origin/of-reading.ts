import { formulas, uncertaintyFormulas } from '../formula.ts';
import type { Reading } from '../gate/reading.ts';
import { unreachable } from '../invariant.ts';
import type { FigureAsked, FormulaShown, Origin, OriginInput } from '../origin.ts';
import {
  conditioningInWords,
  flagsShown,
  heightInWords,
  type OriginContext,
  origin,
  shown,
  timingInWords,
} from './context.ts';
import { type Figure, figures, figureWithUncertainty, figureWords } from './figure.ts';
import { withNumbers } from './formula-numbers.ts';
import { calibrationInputs, pathFormula, pathUncertainty } from './path-formula.ts';

type Asked = Extract<FigureAsked, { kind: 'reading' }>;

/** One reading in its context: what the figures of all kinds need. */
interface Read extends OriginContext {
  readonly asked: Asked;
  readonly reading: Reading;
  readonly gainDb: number | null;
}

export function originOfReading(asked: Asked, context: OriginContext): Origin | null {
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
function timeShown(figure: Asked['figure'], reading: Reading): number | null {
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

function input(read: Read, name: string, figure: Figure | null, asked: Asked['figure'] | null): OriginInput {
  return {
    name,
    value: figureWithUncertainty(figure, read.style),
    asked: asked === null ? null : { ...read.asked, figure: asked },
  };
}

function traceInputs({ review, reading, style }: Read): OriginInput[] {
  const gate = review.readings?.gates.find((g) => g.name === reading.gate);
  const { conditioning } = review;
  const gates: OriginInput[] = [];
  if (gate !== undefined) {
    const [from, to] =
      gate.span.axis === 'time'
        ? [figures.timeUs(gate.span.fromUs, style), figures.timeUs(gate.span.toUs, style)]
        : [figures.statedMm(gate.span.fromMm, style), figures.statedMm(gate.span.toMm, style)];
    const value = `${figureWords(from, style)} to ${figureWords(to, style)}, threshold ${gate.thresholdPercent} %`;
    gates.push({ name: 'gate', value, asked: null });
  }
  return [...gates, { name: 'conditioning', value: conditioningInWords(conditioning), asked: null }];
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

function amplitudeOrigin(read: Read): Origin {
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

function signalToNoiseOrigin(read: Read): Origin {
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
            (a, n) => 20 * Math.log10(a / n),
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

function beamInputs({ review, style }: Read): OriginInput[] {
  const { beam = null, uAngleDeg = null } = review.readings ?? {};
  if (beam === null) return [];
  const angle = figures.angleDeg(beam.angleDeg, style);
  const value = uAngleDeg === null ? figureWords(angle, style) : `${figureWords(angle, style)} ± ${uAngleDeg}°`;
  const angleInput: OriginInput = { name: 'beam angle', value, asked: null };
  if (beam.thicknessMm === null) return [angleInput];
  return [
    angleInput,
    { name: 'thickness', value: figureWords(figures.statedMm(beam.thicknessMm, style), style), asked: null },
  ];
}

const cosDeg = (deg: number): number => Math.cos((deg * Math.PI) / 180);
const sinDeg = (deg: number): number => Math.sin((deg * Math.PI) / 180);

function depthOrigin(read: Read): Origin {
  const { reading, review, style } = read;
  const { soundPathMm, depthMm, leg } = reading;
  const beam = review.readings?.beam ?? null;
  const path = soundPathMm && figures.lengthMm(soundPathMm, style);
  const depth = depthMm && figures.lengthMm(depthMm, style);
  return origin({
    title: 'Depth',
    ...shown(depth, style),
    formula:
      path === null || depth === null || leg === null || beam === null ? null : depthFormula(read, path, depth, leg),
    uncertaintyFormula: path === null || depth === null ? null : beamUncertainty(read, 'depth', path, depth),
    inputs: [input(read, 'sound path', path, 'sound-path'), ...beamInputs(read), legInput(read)],
    source: formulas.depth.source,
  });
}

function legInput(read: Read): OriginInput {
  return {
    name: 'leg',
    value: String(read.reading.leg ?? '–'),
    asked: read.reading.leg === null ? null : { ...read.asked, figure: 'leg' },
  };
}

function depthFormula({ review, style }: Read, path: Figure, depth: Figure, leg: number): FormulaShown {
  const beam = review.readings!.beam!;
  const angle = figures.angleDeg(beam.angleDeg, style);
  const { text } = formulas.depth;
  if (leg === 1) {
    const numbers = withNumbers(
      [path, angle],
      (p, a) => p * cosDeg(a),
      (p, a) => `${p} · cos ${a}`,
      depth,
      style,
    );
    return { text, withNumbers: numbers };
  }
  const thickness = figures.statedMm(beam.thicknessMm!, style);
  const whole = { value: leg - 1, decimals: 0, unit: '' };
  const downward = leg % 2 === 1;
  return {
    text,
    withNumbers: withNumbers(
      [path, angle, whole, thickness],
      (p, a, n, t) => (downward ? p * cosDeg(a) - n * t : t - (p * cosDeg(a) - n * t)),
      (p, a, n, t) => (downward ? `${p} · cos ${a} − ${n} · ${t}` : `${t} − (${p} · cos ${a} − ${n} · ${t})`),
      depth,
      style,
    ),
  };
}

function surfaceOrigin(read: Read): Origin {
  const { reading, review, style } = read;
  const beam = review.readings?.beam ?? null;
  const path = reading.soundPathMm && figures.lengthMm(reading.soundPathMm, style);
  const surface = reading.surfaceDistanceMm && figures.lengthMm(reading.surfaceDistanceMm, style);
  const known = path !== null && surface !== null && beam !== null;
  return origin({
    title: 'Surface distance',
    ...shown(surface, style),
    formula: known
      ? {
          text: formulas['surface-distance'].text,
          withNumbers: withNumbers(
            [path, figures.angleDeg(beam.angleDeg, style)],
            (p, a) => p * sinDeg(a),
            (p, a) => `${p} · sin ${a}`,
            surface,
            style,
          ),
        }
      : null,
    uncertaintyFormula: known ? beamUncertainty(read, 'surface-distance', path, surface) : null,
    inputs: [input(read, 'sound path', path, 'sound-path'), ...beamInputs(read).slice(0, 1)],
    source: formulas['surface-distance'].source,
  });
}

/** The path's share and the angle's share, as in `locate`. */
function beamUncertainty(
  { review, style }: Read,
  kind: 'depth' | 'surface-distance',
  path: Figure,
  result: Figure,
): FormulaShown | null {
  const { beam = null, uAngleDeg = null } = review.readings ?? {};
  if (beam === null || uAngleDeg === null || path.standardUncertainty === null || result.standardUncertainty === null)
    return null;
  const [own, other] = kind === 'depth' ? (['cos', 'sin'] as const) : (['sin', 'cos'] as const);
  const by = { cos: cosDeg, sin: sinDeg };
  return {
    text: uncertaintyFormulas[kind].text,
    withNumbers: withNumbers(
      [
        { ...path, value: path.standardUncertainty },
        path,
        figures.angleDeg(beam.angleDeg, style),
        { value: (uAngleDeg * Math.PI) / 180, decimals: 4, unit: '' },
      ],
      (u, p, a, ua) => Math.hypot(by[own](a) * u, p * by[other](a) * ua),
      (u, p, a, ua) => `√([${own} ${a} · ${u}]² + [${p} · ${other} ${a} · ${ua}]²)`,
      { ...result, value: result.standardUncertainty },
      style,
    ),
  };
}

function legOrigin(read: Read): Origin {
  const { reading, review, style } = read;
  const beam = review.readings?.beam ?? null;
  const path = reading.soundPathMm && figures.lengthMm(reading.soundPathMm, style);
  const { leg } = reading;
  const thickness = beam === null || beam.thicknessMm === null ? null : figures.statedMm(beam.thicknessMm, style);
  const known = beam !== null && path !== null && leg !== null && thickness !== null;
  return origin({
    title: 'Leg',
    value: String(leg ?? '–'),
    formula: known
      ? {
          text: formulas.leg.text,
          withNumbers: `${withNumbers(
            [path, figures.angleDeg(beam.angleDeg, style), thickness],
            (p, a, t) => (p * cosDeg(a)) / t,
            (p, a, t) => `${p} · cos ${a} / ${t}`,
            {
              value: (path.value * cosDeg(beam.angleDeg)) / thickness.value,
              decimals: 3,
              unit: '',
            },
            style,
          )}, so it ends in leg ${leg}`,
        }
      : null,
    inputs: [input(read, 'sound path', path, 'sound-path'), ...beamInputs(read)],
    source: thickness === null ? 'No back wall is known: everything counts as the first leg.' : formulas.leg.source,
  });
}

function belowPeakOrigin(read: Read): Origin {
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
  const ratio = (p: number, a: number) => 20 * Math.log10(p / a);
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
