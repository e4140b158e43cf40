import type { Indication } from '../../../steps/indication.ts';
import type { ScanResult } from '../../../steps/scan.ts';
import { type FigureStyle, toShown, unitSign } from '../../../units/figure-style.ts';
import { html, type Markup } from '../markup.ts';
import { at, type PlotLevel, plot, type Scales } from './frame.ts';
import { indicationBar, reach, stationStrokes } from './plan-plot.ts';

/**
 * The weld from its side: each indication from its low to its high end at its true depth, with the expanded uncertainty of ends and depth. `null` where the depth of none is
 * known. @param thicknessMm of the part, `null` where it is not known or not one
 */
export function sidePlot(
  { indications, lines }: Pick<ScanResult, 'indications' | 'lines'>,
  thicknessMm: number | null,
  style: FigureStyle,
): Markup | null {
  const placed = indications.flatMap((indication, i) =>
    indication.peak === null || indication.depthMm === null ? [] : [{ indication, number: i + 1 }],
  );
  if (placed.length === 0) return null;
  const shown = (mm: number) => toShown(mm, 'length', style);
  const unit = unitSign('length', style);
  const stations = lines.flatMap((line) => line.stations.map(({ positionMm }) => positionMm));
  const along = placed.flatMap(({ indication: { length, peak } }) => [
    ...[length.low, length.high].flatMap((end) => (end === null ? [] : reach(end.positionMm))),
    peak!.positionMm,
  ]);
  const depths = placed.flatMap(({ indication }) => reach(indication.depthMm!));
  const levels: PlotLevel[] = [
    { at: 0, label: 'scanned surface', kind: 'zero' },
    ...(thicknessMm === null ? [] : [{ at: shown(thicknessMm), label: 'far surface', kind: 'zero' } as const]),
  ];
  const key = placed
    .map(({ indication, number }) => `${number} ${indication.name}, ${legWords(indication)}`)
    .join('; ');
  return plot({
    title: 'Side view along the weld',
    description: `Not to scale in depth. Bars: from end to end at the true depth; upright strokes: its expanded uncertainty (k = 2); the rest as in the plan. ${key}.`,
    x: {
      title: `along the weld (${unit})`,
      from: shown(Math.min(...stations, ...along)),
      to: shown(Math.max(...stations, ...along)),
    },
    y: {
      title: `depth (${unit})`,
      from: shown(Math.min(0, ...depths)),
      to: shown(Math.max(thicknessMm ?? 0, ...depths)),
    },
    isDown: true,
    levels,
    marks: (scales) => [
      stationStrokes(stations, scales, shown),
      ...placed.map(
        (one) =>
          html`${depthStroke(one.indication, scales, shown)}${indicationBar(one, scales, scales.y(shown(one.indication.depthMm!.value)), shown)}`,
      ),
    ],
  });
}

function legWords({ leg }: Indication): string {
  return leg === null ? 'leg not known' : `leg ${leg}`;
}

function depthStroke({ depthMm, peak }: Indication, scales: Scales, shown: (mm: number) => number): Markup | null {
  const [from, to] = reach(depthMm!).map((mm) => scales.y(shown(mm)));
  if (from === to) return null;
  const x = scales.x(shown(peak!.positionMm));
  return html`<path class="bar" d="M${at(x - 4)} ${at(from)}h8M${at(x)} ${at(from)}V${at(to)}M${at(x - 4)} ${at(to)}h8"/>\n`;
}
