import type { CaptureId } from '../../core/capture/capture.ts';
import type { Evaluation } from '../../core/evaluate.ts';
import { figures, figureWithUncertainty, figureWords } from '../../core/origin/figure.ts';
import type { ExpectedEcho } from '../../core/part/expected-echoes.ts';
import type { ProbePlace } from '../../core/part/locate-in-part.ts';
import { boundSign } from '../../core/report/figure-table.ts';
import { decisionWords } from '../../core/report/indications-table.ts';
import type { Expectation, LocatedReading } from '../../core/steps/locate.ts';
import type { Indication } from '../../core/steps/scan.ts';
import type { FigureStyle } from '../../core/units/figure-style.ts';
import { shortNames } from '../procedures/reading-rows.ts';
import type { PlanEnd, PlanItem } from './plan-layout.ts';
import type { SectionItem } from './section-items.ts';

/** With more readings than this the section shows those of the chosen capture alone. */
export const mostReadings = 400;

export const indicationId = (name: string): string => `indication ${name}`;
export const readingId = (captureId: CaptureId, gate: string): string => `reading ${captureId} ${gate}`;

/** What an item of the section stands for. */
export type Meant =
  | { readonly kind: 'indication'; readonly name: string }
  | { readonly kind: 'reading'; readonly captureId: CaptureId; readonly gate: string };

export interface LocatedItems {
  readonly items: readonly SectionItem[];
  readonly meant: ReadonlyMap<string, Meant>;
  /** Readings that are not shown for their number. */
  readonly leftOut: number;
}

/** Everything that has a place in the part: indications first, then the readings. */
export function locatedItems(evaluation: Evaluation | null, selected: CaptureId | null): LocatedItems {
  const meant = new Map<string, Meant>();
  const items: SectionItem[] = [];
  for (const { name, taken, location, flags, soundPathMm } of evaluation?.scan?.indications ?? []) {
    if (location?.place == null) continue;
    const id = indicationId(name);
    meant.set(id, { kind: 'indication', name });
    const isGeometryExpected = flags.includes('geometry-expected');
    items.push({ id, name, kind: 'indication', taken, isGeometryExpected, place: location.place, soundPathMm });
  }
  const placed = (evaluation?.location?.readings ?? []).filter(({ place }) => place !== null);
  const shown = placed.length <= mostReadings ? placed : placed.filter(({ captureId }) => captureId === selected);
  const names = shortNames(placed.map(({ captureId }) => captureId));
  for (const { captureId, gate, taken, geometry, place, soundPathMm } of shown) {
    const id = readingId(captureId, gate);
    meant.set(id, { kind: 'reading', captureId, gate });
    const isGeometryExpected = geometry.length > 0;
    items.push({
      id,
      name: `${gate}, ${names.get(captureId) ?? captureId}`,
      kind: 'reading',
      taken,
      isGeometryExpected,
      place: place!,
      soundPathMm,
    });
  }
  return { items, meant, leftOut: placed.length - shown.length };
}

/** Where the probe stood for a capture, as the location or an indication of it has it; `null`: not known. */
export function probeUnder(evaluation: Evaluation | null, captureId: CaptureId | null): ProbePlace | null {
  if (evaluation === null || captureId === null) return null;
  const reading = evaluation.location?.readings.find((one) => one.captureId === captureId && one.probe !== null);
  if (reading !== undefined) return reading.probe;
  const expected = expectationUnder(evaluation, captureId);
  if (expected?.probe != null) return expected.probe;
  const shown = evaluation.scan?.indications.find(
    ({ captures, location }) => captures.includes(captureId) && location?.probe != null,
  );
  return shown?.location?.probe ?? null;
}

/** Of the captures that are read, and of those that are scanned, whether a gate reads anything in them or not. */
function expectationUnder({ location, scan }: Evaluation, captureId: CaptureId): Expectation | null {
  const all = [...(location?.expected ?? []), ...(scan?.expected ?? [])];
  return all.find(({ captures }) => captures.includes(captureId)) ?? null;
}

/** The echoes of the part's own that are expected where a capture was taken: those that the location foretells, and those that its indications may be. */
export function expectedUnder(evaluation: Evaluation | null, captureId: CaptureId | null): readonly ExpectedEcho[] {
  if (evaluation === null || captureId === null) return [];
  const foretold = expectationUnder(evaluation, captureId)?.echoes ?? [];
  const matched = (evaluation.scan?.indications ?? [])
    .filter(({ captures }) => captures.includes(captureId))
    .flatMap(({ location }) => (location?.geometry ?? []).map(({ expected }) => expected));
  const isNew = (echo: ExpectedEcho, i: number, all: readonly ExpectedEcho[]) =>
    all.findIndex(({ name, leg }) => name === echo.name && leg === echo.leg) === i;
  return [...foretold, ...matched].filter(isNew);
}

/** The indications as they lie along the weld. */
export function planItems(indications: readonly Indication[], style: FigureStyle): readonly PlanItem[] {
  return indications.flatMap((indication): PlanItem[] => {
    const { name, taken, length, peak, along, captures, location } = indication;
    const own = new Set(captures);
    const positions = along.points.filter(({ captureId }) => own.has(captureId)).map(({ positionMm }) => positionMm);
    const ends = length.low === null || length.high === null ? null : ([end(length.low), end(length.high)] as const);
    const all = [...positions, ...(ends ?? []).map(({ positionMm }) => positionMm)];
    if (all.length === 0) return [];
    return [
      {
        id: indicationId(name),
        name,
        sign: taken === 'geometry' ? 'geometry' : 'indication',
        ends,
        span: [Math.min(...all), Math.max(...all)],
        peakMm: peak?.positionMm ?? null,
        acrossMm: location?.place?.acrossMm?.value ?? null,
        words: planWords(indication, style),
      },
    ];
  });
}

function end({ positionMm, state }: NonNullable<Indication['length']['low']>): PlanEnd {
  const u = positionMm.standardUncertainty;
  return { positionMm: positionMm.value, expandedMm: u === null ? null : 2 * u, isOpen: state !== 'crossed' };
}

function planWords(indication: Indication, style: FigureStyle): string {
  const { name, peak, length, depthMm } = indication;
  const bound = length.atLeast ? 'at-least' : length.atMost ? 'at-most' : null;
  const parts = [
    decisionWords(indication),
    peak === null ? null : `highest at ${figureWords(figures.lengthMm(peak.positionMm, style), style)}`,
    length.lengthMm === null
      ? length.withoutLength
      : `length ${boundSign(bound)}${figureWithUncertainty(figures.lengthMm(length.lengthMm, style), style)}`,
    depthMm === null ? null : `depth ${figureWithUncertainty(figures.lengthMm(depthMm, style), style)}`,
  ].filter((part) => part !== null);
  return [name, ...parts].join(', ');
}

/** The reading of a capture that is meant where none is named: of the chosen gate, else its highest. */
export function readingMeant(
  readings: readonly LocatedReading[],
  selected: CaptureId | null,
  gate: string | null,
): LocatedReading | null {
  const own = readings.filter(({ captureId, place }) => captureId === selected && place !== null);
  return (
    own.find((reading) => reading.gate === gate) ??
    own.toSorted((a, b) => (b.amplitudePercent ?? 0) - (a.amplitudePercent ?? 0))[0] ??
    null
  );
}
