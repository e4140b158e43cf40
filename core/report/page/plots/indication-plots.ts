import { type DistanceCalibration, pathFromTime } from '../../../calibration/distance.ts';
import type { End } from '../../../sizing/ends.ts';
import { type Indication, percentOnCurve } from '../../../steps/indication.ts';
import { ratioFromDb } from '../../../units/decibel.ts';
import { type FigureStyle, toShown, unitSign } from '../../../units/figure-style.ts';
import { html, type Markup } from '../markup.ts';
import { at, type PlotLevel, plot } from './frame.ts';

/** The trace in which an indication stands highest, over the sound paths of the scan, its own paths between brackets. `null` without a picture of it. */
export function tracePlot(indication: Indication, calibration: DistanceCalibration, style: FigureStyle): Markup | null {
  const { picture, peak, fromMm, toMm, soundPathMm } = indication;
  if (picture === null || peak === null) return null;
  const shown = (mm: number) => toShown(mm, 'length', style);
  const pathAt = (timeUs: number) => shown(pathFromTime(calibration, timeUs, null).value);
  const { fromUs, toUs, lowPercent, highPercent } = picture;
  const parts = lowPercent.length;
  const xOf = (part: number) => pathAt(parts === 1 ? fromUs : fromUs + ((toUs - fromUs) * part) / (parts - 1));
  const isBothWays = Math.min(...lowPercent) < -10;
  return plot({
    size: 'half',
    title: `Trace, ${indication.name}`,
    description: `The trace ${peak.captureId} in which ‘${indication.name}’ stands highest; brackets: the sound paths between which it lies.`,
    x: { title: `sound path (${unitSign('length', style)})`, from: pathAt(fromUs), to: pathAt(toUs) },
    y: { title: '% FSH', from: isBothWays ? -100 : 0, to: Math.max(100, ...highPercent) },
    levels: [],
    marks: ({ x, y }) => {
      const point = (part: number, percent: number) => `${at(x(xOf(part)))} ${at(y(percent))}`;
      const d = lowPercent.map((low, i) => `M${point(i, low)}L${point(i, highPercent[i])}`).join('');
      const through = highPercent.map((high, i) => `${i === 0 ? 'M' : 'L'}${point(i, high)}`).join('');
      const [left, right] = [x(shown(fromMm)), x(shown(toMm))];
      const top = y(100);
      return [
        html`<path class="trace" d="${d}${through}"/>
<path class="bar" d="M${at(left)} ${at(top + 6)}V${at(top)}H${at(right)}V${at(top + 6)}"/>
`,
        soundPathMm !== null && html`<path class="bar" d="M${at(x(shown(soundPathMm.value)))} ${at(top)}v-4"/>\n`,
      ];
    },
  });
}

/** Heights of an indication along the scan at one gain, the level that its length was taken at, and its ends. `null` where nothing was read. */
export function dynamicPlot(indication: Indication, style: FigureStyle): Markup | null {
  const { along, length } = indication;
  const shown = (mm: number) => toShown(mm, 'length', style);
  const points = along.points.flatMap((point) => {
    const percent = percentOnCurve(point, along);
    return percent === null ? [] : [{ x: shown(point.positionMm), percent, state: point.state }];
  });
  if (points.length === 0) return null;
  const levels: PlotLevel[] =
    length.endLevelDb === null
      ? []
      : [{ at: ratioFromDb(length.endLevelDb), label: 'level of the ends', kind: 'level' }];
  const ends = [length.low, length.high].filter((end) => end !== null);
  return plot({
    size: 'half',
    title: `Echo-dynamic, ${indication.name}${along.gainDb === null ? '' : `, at ${along.gainDb} dB`}`,
    description: `Height of ‘${indication.name}’ against position; rings: bounds; triangles: its ends.`,
    x: {
      title: `along the weld (${unitSign('length', style)})`,
      from: Math.min(...points.map(({ x }) => x)),
      to: Math.max(...points.map(({ x }) => x)),
    },
    y: { title: '% FSH', from: 0, to: Math.max(...points.map(({ percent }) => percent)) },
    levels,
    marks: (scales) => [
      html`<path class="trace" d="${points.map(({ x, percent }, i) => `${i === 0 ? 'M' : 'L'}${at(scales.x(x))} ${at(scales.y(percent))}`).join('')}"/>\n`,
      ...points.map(
        ({ x, percent, state }) =>
          html`<circle class="${state === 'read' ? 'mark-full' : 'mark-open'}" cx="${at(scales.x(x))}" cy="${at(scales.y(percent))}" r="1.7"/>\n`,
      ),
      ...ends.map((end) => endMark(end, scales.x(shown(end.positionMm.value)), scales.y(0))),
    ],
  });
}

function endMark({ state }: End, x: number, bottom: number): Markup {
  return html`<path class="${state === 'crossed' ? 'mark-full' : 'mark-open'}" d="M${at(x)} ${at(bottom - 9)}l-4 8h8Z"/>\n`;
}
