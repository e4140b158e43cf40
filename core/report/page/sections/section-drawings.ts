import { type MarkInSection, sectionDrawing } from '../../../drawing/section-drawing.ts';
import { figures, figureWords } from '../../../origin/figure.ts';
import type { ExpectedEcho } from '../../../part/expected-echoes.ts';
import type { ProbePlace } from '../../../part/locate-in-part.ts';
import type { PartDecision } from '../../../review/part-decision.ts';
import type { CaptureFacts } from '../../../steps/examine.ts';
import { html, type Markup } from '../markup.ts';
import { sectionPlot } from '../plots/section-plot.ts';
import type { Report } from '../report-input.ts';

/** What is drawn of one reading or indication. */
interface Item extends MarkInSection {
  /** `null` for one of many readings, which are dots without names. */
  readonly name: string | null;
  readonly capture: CaptureFacts | null;
  readonly probe: ProbePlace | null;
  readonly pathMm: number;
  readonly expected: readonly ExpectedEcho[];
}

/** As many places of the probe have a drawing of their own; with more, the beam is drawn from that of the highest echo alone. */
const mostDrawings = 4;
/** So many readings have their ellipses and names where there are no indications. */
const mostNamed = 12;

/** The part's section: a drawing for each place of the probe, and one close about the weld with everything that lies in it. */
export function sectionDrawings(report: Report): Markup | null {
  const { part } = report.review;
  const { location } = report.evaluation;
  if (part === null || location === null) return null;
  const items = itemsOf(report);
  if (items.length === 0) return null;
  const places = groupedByPlace(items, part);
  const shown = places.length <= mostDrawings ? places : [places[0]];
  const names = new Map(items.flatMap(({ id, name }) => (name === null ? [] : [[id, name]])));
  const drawn = (group: readonly Item[], marks: readonly Item[]) =>
    sectionDrawing(
      part,
      {
        capture: group[0].capture,
        probe: group[0].probe,
        toPathMm: Math.max(...group.map(({ pathMm }) => pathMm)),
        edges: location.beam?.edgesMinus6Db ?? null,
        velocityMPerS: location.beam?.velocityMPerS ?? null,
      },
      marks,
      distinct(group.flatMap(({ expected }) => expected)),
    );
  const keyOf = (marks: readonly Item[]) =>
    marks.flatMap(({ id, name }) => (name === null ? [] : [`${name} ${id}`])).join(', ');
  const key = keyOf(items);
  const whole = shown.flatMap((group) => {
    const marks = places.length <= mostDrawings ? group : items;
    const drawing = drawn(group, marks);
    if (drawing === null) return [];
    const [{ probe }] = group;
    const from =
      probe === null
        ? ''
        : `, index point ${figureWords(figures.statedMm(probe.offsetMm, report.style), report.style)} from the weld’s middle, on the ${probe.side}`;
    const description = `To scale. Line: the beam’s axis with its skips; shaded: its −6 dB spread${drawing.beam?.spread.length ? '' : ' is not known'}; triangle: the index point. ${key === '' ? '' : `Numbers: ${keyOf(marks)}. `}Small rings: readings. Diamonds: geometry expected.${drawing.notDrawn > 0 ? ` ${drawing.notDrawn} without a known place of the probe are not drawn.` : ''}`;
    return [
      sectionPlot(drawing, drawing.whole, names, { title: `Section of the part${from}`, description }, report.style),
    ];
  });
  const near = drawn(places[0], items);
  const isFlat = part.shape.kind !== 'step-block';
  return html`${whole}${
    near?.close != null &&
    isFlat &&
    sectionPlot(
      { ...near, beam: null, probe: null, expected: [] },
      near.close,
      names,
      {
        title: 'The same, close',
        description: `To scale, without the beam. Ellipses: uncertainty of the place (k = 2; for normal errors it lies within with 86 %). ${key === '' ? '' : `${key}. `}Small rings: readings.`,
      },
      report.style,
    )
  }`;
}

/** Indications by their numbers, and readings; readings have names only where there are no indications and few of them. */
function itemsOf({ evaluation, captures }: Report): Item[] {
  const indications = (evaluation.scan?.indications ?? []).flatMap(
    ({ name, location, peak, soundPathMm }, i): Item[] =>
      location?.place == null || peak === null || soundPathMm === null
        ? []
        : [
            {
              id: name,
              name: String(i + 1),
              place: location.place,
              capture: captures.get(peak.captureId) ?? null,
              probe: location.probe,
              pathMm: soundPathMm.value,
              expected: location.geometry.map(({ expected }) => expected),
            },
          ],
  );
  const expectedOf = new Map(
    (evaluation.location?.expected ?? []).flatMap(({ captures: ids, echoes }) => ids.map((id) => [id, echoes])),
  );
  const placed = (evaluation.location?.readings ?? []).filter(({ place }) => place !== null);
  const isNamed = indications.length === 0 && placed.length <= mostNamed;
  const readings = placed
    .toSorted((a, b) => (b.amplitudePercent ?? 0) - (a.amplitudePercent ?? 0))
    .map(
      ({ captureId, gate, place, probe, soundPathMm }, i): Item => ({
        id: `${captureId} ${gate}`,
        name: isNamed ? String(i + 1) : null,
        place: place!,
        capture: captures.get(captureId) ?? null,
        probe,
        pathMm: soundPathMm!.value,
        expected: expectedOf.get(captureId) ?? [],
      }),
    );
  return [...indications, ...readings];
}

/** What was taken from one place of the probe, on one step, belongs together; in the order in which they first appear. */
function groupedByPlace(items: readonly Item[], { shape }: PartDecision): Item[][] {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const step = shape.kind === 'step-block' ? (item.capture?.captureId ?? null) : null;
    const key = JSON.stringify([item.probe, step]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return [...groups.values()];
}

function distinct(echoes: readonly ExpectedEcho[]): ExpectedEcho[] {
  const found = new Map(echoes.map((echo) => [`${echo.leg} ${echo.name}`, echo]));
  return [...found.values()];
}
