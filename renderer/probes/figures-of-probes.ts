import type { SpectrumOverlay, TimeOverlay } from '../../core/compare/overlays.ts';
import type { TimeFrequencyPicture } from '../../core/compare/time-frequency-picture.ts';
import type { MaterialResult } from '../../core/steps/material.ts';
import type { ProbeResult, ProbesResult } from '../../core/steps/probes.ts';
import { type FigureStyle, toShown, unitSign } from '../../core/units/figure-style.ts';
import { type Panel, type PlotFigure, type PlotLine, places } from './plot-figure.ts';

/** Which line style a probe has: the same in every picture. */
export type StyleOf = (probe: string) => number;

export function stylesOf(probes: readonly Pick<ProbeResult, 'probe'>[]): StyleOf {
  const order = new Map(probes.map(({ probe }, i) => [probe, i]));
  return (probe) => order.get(probe) ?? 0;
}

const timeLabel = ({ reference }: TimeOverlay): string =>
  reference === null ? 'time from envelope peak (µs)' : 'time (µs)';
const heightLabel = (normalised: boolean): string => (normalised ? 'height (peak = 1)' : 'height (% FSH)');
const frequencyLabel = 'frequency (MHz)';

/** Echoes of these probes over one another. */
export function timeFigure(overlay: TimeOverlay, shown: ReadonlySet<string>, styleOf: StyleOf): PlotFigure {
  const lines = overlay.lines.filter(({ probe }) => shown.has(probe));
  return {
    words: `Echoes of ${namesOf(lines)} over time, ${overlay.normalised ? 'each of its own height' : 'in % of full screen height'}`,
    panels: [
      timePanel(
        overlay,
        lines.map((line) => timeLine(line, styleOf)),
        null,
        heightsOf(lines),
      ),
    ],
    across: 1,
  };
}

type TimeLine = TimeOverlay['lines'][number];

function timeLine({ probe, startUs, stepUs, values }: TimeLine, styleOf: StyleOf): PlotLine {
  return { name: probe, style: styleOf(probe), weight: 'full', x: places(startUs, stepUs, values.length), y: values };
}

function timePanel(overlay: TimeOverlay, lines: readonly PlotLine[], title: string | null, most: number): Panel {
  const [from, to] = spanOf(lines);
  return {
    ...empty,
    title,
    x: { label: timeLabel(overlay), from, to },
    y: { label: heightLabel(overlay.normalised), from: -most * 1.08, to: most * 1.08 },
    lines,
  };
}

const empty = { title: null, lines: [], bands: [], levels: [], image: null } as const;

function heightsOf(lines: readonly { readonly values: Float64Array }[]): number {
  let most = 0;
  for (const { values } of lines) for (const value of values) most = Math.max(most, Math.abs(value));
  return most > 0 ? most : 1;
}

function spanOf(lines: readonly PlotLine[]): readonly [number, number] {
  let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { x } of lines) {
    if (x.length === 0) continue;
    from = Math.min(from, x[0]!);
    to = Math.max(to, x[x.length - 1]!);
  }
  return from < to ? [from, to] : [0, 1];
}

/** So far down spectra are shown; below it there is nothing to be told of a probe. */
const floorDb = -42;

/** Spectra of these probes over one another, with the levels at which bands are read where each has its own 0 dB. */
export function spectrumFigure(overlay: SpectrumOverlay, shown: ReadonlySet<string>, styleOf: StyleOf): PlotFigure {
  const lines = overlay.lines.filter(({ probe }) => shown.has(probe));
  return {
    words: `Amplitude spectra of ${namesOf(lines)}, ${overlay.zeroOf === null ? 'each to its own highest line' : `to the highest line of ${overlay.zeroOf}`}`,
    panels: [
      spectrumPanel(
        overlay,
        lines.map((line) => spectrumLine(line, styleOf)),
        null,
      ),
    ],
    across: 1,
  };
}

type SpectrumLine = SpectrumOverlay['lines'][number];

function spectrumLine({ probe, stepMHz, db }: SpectrumLine, styleOf: StyleOf): PlotLine {
  return { name: probe, style: styleOf(probe), weight: 'full', x: places(0, stepMHz, db.length), y: db };
}

function spectrumPanel(
  { zeroOf, lines: all, toMHz }: SpectrumOverlay,
  lines: readonly PlotLine[],
  title: string | null,
): Panel {
  const highest = Math.max(0, ...(zeroOf === null ? [] : all.map(({ db }) => Math.max(...db))));
  return {
    ...empty,
    title,
    x: { label: frequencyLabel, from: 0, to: toMHz > 0 ? toMHz : 1 },
    y: {
      label: 'level (dB)',
      from: floorDb,
      to: highest + 3,
    },
    levels:
      zeroOf === null
        ? [
            { at: -6, label: '−6 dB' },
            { at: -20, label: '−20 dB' },
          ]
        : [],
    lines,
  };
}

/** Which of the probes stand on one page, `to` excluded. */
export interface Page {
  readonly from: number;
  readonly to: number;
}

/** A panel for each probe, with the reference thin behind it: where many cannot lie over one another. */
export function manyInTime(overlay: TimeOverlay, page: Page, across: number): PlotFigure {
  const reference = overlay.lines.find(({ probe }) => probe === overlay.reference) ?? null;
  const lines = overlay.lines.slice(page.from, page.to);
  return {
    words: `Echoes of ${namesOf(lines)} over time, each by itself${reference === null ? '' : `, with ${reference.probe} behind it`}`,
    panels: lines.map((line) =>
      timePanel(
        overlay,
        withReference(
          timeLine(line, alone),
          reference === null || reference === line ? null : timeLine(reference, alone),
        ),
        line.probe,
        heightsOf(overlay.lines),
      ),
    ),
    across,
  };
}

export function manySpectra(
  overlay: SpectrumOverlay,
  reference: string | null,
  page: Page,
  across: number,
): PlotFigure {
  const behind = overlay.lines.find(({ probe }) => probe === reference) ?? null;
  const lines = overlay.lines.slice(page.from, page.to);
  return {
    words: `Amplitude spectra of ${namesOf(lines)}, each by itself${behind === null ? '' : `, with ${behind.probe} behind it`}`,
    panels: lines.map((line) =>
      spectrumPanel(
        overlay,
        withReference(
          spectrumLine(line, alone),
          behind === null || behind === line ? null : spectrumLine(behind, alone),
        ),
        line.probe,
      ),
    ),
    across,
  };
}

/** Of the difference itself: unbroken, and in no probe’s first colours. */
const apart = 13;

const alone: StyleOf = () => 0;

function withReference(line: PlotLine, reference: PlotLine | null): PlotLine[] {
  const own = { ...line, name: null };
  return reference === null ? [own] : [{ ...reference, name: null, style: 1, weight: 'thin' }, own];
}

/** What parts one probe from the reference: in time, and by frequency in the band in which both are more than noise. */
export function differenceFigure(
  result: ProbesResult,
  probe: string,
  normalised: boolean,
  styleOf: StyleOf,
): PlotFigure | null {
  const comparison = result.probes.find((each) => each.probe === probe)?.comparison ?? null;
  if (comparison === null) return null;
  const { time, frequency, reference } = comparison;
  const panels: Panel[] = [];
  if (time !== null) {
    const x = places(time.startUs, time.stepUs, time.difference.length);
    const thin = (name: string, y: Float64Array): PlotLine => ({ name, style: styleOf(name), weight: 'thin', x, y });
    const most = heightsOf([{ values: time.reference }, { values: time.other }, { values: time.difference }]);
    panels.push({
      ...empty,
      title: 'In time',
      x: { label: 'time (µs)', from: x[0]!, to: x.at(-1)! },
      y: { label: heightLabel(normalised), from: -most * 1.08, to: most * 1.08 },
      lines: [
        thin(reference, time.reference),
        thin(probe, time.other),
        { name: `${probe} less ${reference}`, style: apart, weight: 'full', x, y: time.difference },
      ],
    });
  }
  if (frequency?.band != null) {
    const { differenceDb, stepMHz, band } = frequency;
    const finite = differenceDb.filter(Number.isFinite);
    const most = Math.max(1, ...finite.map(Math.abs)) * 1.1;
    const room = (band.toMHz - band.fromMHz) * 0.08;
    panels.push({
      ...empty,
      title: `By frequency, to ${reference}`,
      x: { label: frequencyLabel, from: Math.max(0, band.fromMHz - room), to: band.toMHz + room },
      y: { label: 'level (dB)', from: -most, to: most },
      levels: [{ at: 0, label: 'alike' }],
      lines: [
        {
          name: `${probe} less ${reference}`,
          style: apart,
          weight: 'full',
          x: places(0, stepMHz, differenceDb.length),
          y: differenceDb,
        },
      ],
    });
  }
  if (panels.length === 0) return null;
  return {
    words: `Difference of ${probe} from ${reference}: ${panels.map(({ title }) => title?.toLowerCase()).join(' and ')}`,
    panels,
    across: panels.length,
  };
}

/** One echo over time and frequency, as an image. */
export function timeFrequencyFigure(picture: TimeFrequencyPicture, captureId: string): PlotFigure {
  const { startUs, stepUs, columns, startMHz, stepMHz, rows, levelsDb, floorDb: floor, method } = picture;
  const x = [startUs - stepUs / 2, startUs + (columns - 0.5) * stepUs] as const;
  const y = [Math.max(0, startMHz - stepMHz / 2), startMHz + (rows - 0.5) * stepMHz] as const;
  return {
    words: `${method} of ${captureId}: levels from 0 dB, its highest, down to ${floor} dB and below`,
    panels: [
      {
        ...empty,
        x: { label: 'time (µs)', from: x[0], to: x[1] },
        y: { label: frequencyLabel, from: y[0], to: y[1] },
        image: { levelsDb, columns, rows, floorDb: floor, x, y: [startMHz - stepMHz / 2, y[1]] },
      },
    ],
    across: 1,
  };
}

/** Attenuation over frequency in the band in which it means something, with two standard uncertainties on either side. */
export function attenuationFigure({ attenuation, band }: MaterialResult, style: FigureStyle): PlotFigure | null {
  if (band === null || attenuation.length < 2) return null;
  const perLength = 1 / toShown(1, 'length', style);
  const x = attenuation.map(({ frequencyMHz }) => frequencyMHz);
  const y = attenuation.map(({ dbPerMm }) => dbPerMm.value * perLength);
  const half = attenuation.map(({ dbPerMm }) => 2 * (dbPerMm.standardUncertainty ?? 0) * perLength);
  const low = y.map((value, i) => value - half[i]!);
  const high = y.map((value, i) => value + half[i]!);
  const [least, most] = [Math.min(0, ...low), Math.max(0, ...high)];
  const room = (band.toMHz - band.fromMHz) * 0.05;
  const isKnown = attenuation.every(({ dbPerMm }) => dbPerMm.standardUncertainty !== null);
  return {
    words: `Attenuation over frequency from ${band.fromMHz.toFixed(2)} to ${band.toMHz.toFixed(2)} MHz`,
    panels: [
      {
        ...empty,
        x: { label: frequencyLabel, from: Math.max(0, band.fromMHz - room), to: band.toMHz + room },
        y: {
          label: `attenuation (dB/${unitSign('length', style)})`,
          from: least,
          to: most + (most - least) * 0.08,
        },
        lines: [{ name: 'attenuation', style: 0, weight: 'full', x, y }],
        bands: isKnown ? [{ name: '± 2 u', style: 0, x, low, high }] : [],
      },
    ],
    across: 1,
  };
}

function namesOf(lines: readonly { readonly probe: string }[]): string {
  const names = lines.map(({ probe }) => probe);
  if (names.length <= 4) return names.join(', ');
  return `${names.slice(0, 3).join(', ')} and ${names.length - 3} more`;
}
