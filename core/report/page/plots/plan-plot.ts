import { coverageFactor } from '../../../check/verdict.ts';
import type { End } from '../../../sizing/ends.ts';
import type { Indication } from '../../../steps/indication.ts';
import type { ScanResult } from '../../../steps/scan.ts';
import { type FigureStyle, toShown, unitSign } from '../../../units/figure-style.ts';
import type { Quantity } from '../../../units/quantity.ts';
import { html, type Markup } from '../markup.ts';
import { at, type PlotLevel, plot, type Scales } from './frame.ts';

/** A bar of a whole length is drawn so far over its middle. */
const half = 3.5;

/**
 * The weld from above: each indication from its low to its high end, with the expanded uncertainty of both, at its place across; where no place across is known, one
 * below the other. `null` where nothing has a place along the weld. @param weldMm what the weld covers across, `null` where it is not known
 */
export function planPlot(
  { indications, lines }: Pick<ScanResult, 'indications' | 'lines'>,
  weldMm: readonly [number, number] | null,
  style: FigureStyle,
): Markup | null {
  const placed = indications.flatMap((indication, i) =>
    indication.peak === null ? [] : [{ indication, number: i + 1 }],
  );
  if (placed.length === 0) return null;
  const shown = (mm: number) => toShown(mm, 'length', style);
  const unit = unitSign('length', style);
  const isAcross = placed.every(({ indication }) => indication.location?.place?.acrossMm != null);
  const heightOf = ({ indication, number }: (typeof placed)[number]): Quantity =>
    isAcross ? indication.location!.place!.acrossMm! : { value: -number, standardUncertainty: null };
  const stations = lines.flatMap((line) => line.stations.map(({ positionMm }) => positionMm));
  const ends = placed.flatMap(({ indication: { length, peak } }) => [
    ...[length.low, length.high].flatMap((end) => (end === null ? [] : reach(end.positionMm))),
    peak!.positionMm,
  ]);
  const heights = placed.map((one) => heightOf(one).value);
  const levels: PlotLevel[] =
    isAcross && weldMm !== null
      ? [
          { at: shown(weldMm[0]), label: 'edge of weld', kind: 'level' },
          { at: 0, label: 'weld’s middle', kind: 'zero' },
          { at: shown(weldMm[1]), label: 'edge of weld', kind: 'level' },
        ]
      : [];
  const key = placed.map(({ indication, number }) => `${number} ${indication.name}`).join(', ');
  const spare = isAcross ? 3 : 1;
  return plot({
    title: 'Plan along the weld',
    description: `Not to scale across. Bars: from end to end, with the expanded uncertainty of each end (k = 2); an arrow where the end lies there or farther out; rings: where it stands highest. Strokes above the axis: positions scanned. ${key}.`,
    x: {
      title: `along the weld (${unit})`,
      from: shown(Math.min(...stations, ...ends)),
      to: shown(Math.max(...stations, ...ends)),
    },
    y: {
      title: isAcross ? `across (${unit})` : 'indications in order',
      from: isAcross ? shown(Math.min(...heights) - spare) : Math.min(...heights) - spare,
      to: isAcross ? shown(Math.max(...heights) + spare) : 0,
    },
    levels,
    marks: (scales) => [
      stationStrokes(stations, scales, shown),
      ...placed.map((one) => {
        const value = heightOf(one).value;
        return indicationBar(one, scales, scales.y(isAcross ? shown(value) : value), shown);
      }),
    ],
  });
}

export function reach({ value, standardUncertainty }: Quantity): number[] {
  const expanded = coverageFactor * (standardUncertainty ?? 0);
  return [value - expanded, value + expanded];
}

export function stationStrokes(stations: readonly number[], scales: Scales, shown: (mm: number) => number): Markup {
  const bottom = scales.bottom;
  const d = [...new Set(stations)].map((mm) => `M${at(scales.x(shown(mm)))} ${at(bottom)}v-4`).join('');
  return html`<path class="bar" d="${d}"/>\n`;
}

export function indicationBar(
  { indication, number }: { readonly indication: Indication; readonly number: number },
  scales: Scales,
  middle: number,
  shown: (mm: number) => number,
): Markup {
  const { low, high } = indication.length;
  const peak = scales.x(shown(indication.peak!.positionMm));
  const x = (mm: number) => scales.x(shown(mm));
  return html`${
    low !== null &&
    high !== null &&
    html`<rect class="${indication.taken === 'geometry' ? 'span-open' : 'span'}" x="${at(x(low.positionMm.value))}" y="${at(middle - half)}" width="${at(Math.max(0, x(high.positionMm.value) - x(low.positionMm.value)))}" height="${2 * half}"/>
${endMark(low, -1, x, middle)}${endMark(high, 1, x, middle)}`
  }<circle class="mark-open" cx="${at(peak)}" cy="${at(middle)}" r="2.6"/><text class="mark-name" x="${at(peak)}" y="${at(middle - half - 4)}" text-anchor="middle">${number}</text>
`;
}

/** The expanded uncertainty of an end as a bar, or an arrow outwards where it may lie farther out. */
function endMark(
  { positionMm, state }: End,
  outwards: 1 | -1,
  x: (mm: number) => number,
  middle: number,
): Markup | null {
  const place = x(positionMm.value);
  if (state !== 'crossed')
    return html`<path class="bar" d="M${at(place)} ${at(middle)}h${12 * outwards}m${-4 * outwards} -4l${4 * outwards} 4l${-4 * outwards} 4"/>\n`;
  const [from, to] = reach(positionMm).map(x);
  if (from === to) return null;
  return html`<path class="bar" d="M${at(from)} ${at(middle - 4)}v8M${at(from)} ${at(middle)}H${at(to)}M${at(to)} ${at(middle - 4)}v8"/>\n`;
}
