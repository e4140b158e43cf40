import { figures, figureWords } from '../../../origin/figure.ts';
import type { PartDecision, Shape } from '../../../review/part-decision.ts';
import type { Review } from '../../../review/review.ts';
import type { ScanDecision } from '../../../review/scan-decision.ts';
import { lengthMethods } from '../../../sizing/formulas.ts';
import type { FigureStyle } from '../../../units/figure-style.ts';
import { html, type Markup, type Shown } from '../markup.ts';
import { given } from '../parts.ts';

type Row = readonly [decision: string, as: Markup | string];

/** What a person decided of the part, its weld, where the probe stood, and what was taken for what. */
export function partRows({ part }: Review, style: FigureStyle): Row[] {
  if (part === null) return [];
  const mm = (value: number) => figureWords(figures.statedMm(value, style), style);
  const { shape, weld, features, placements, probe, damping, confirmed } = part;
  return [
    ['Part', shapeInWords(shape, mm)],
    [
      'Weld',
      weld === null
        ? 'not described'
        : `outline of ${weld.outline.length} corners (across, depth): ${weld.outline.map(({ acrossMm, depthMm }) => `${mm(acrossMm)}, ${mm(depthMm)}`).join('; ')}; each may lie ± ${mm(weld.toleranceMm)} from there`,
    ],
    ...features.map(
      ({ name, acrossMm, depthMm, toleranceMm }): Row => [
        'Other geometry',
        html`${given(name)} at ${mm(acrossMm)} across, ${mm(depthMm)} deep, ± ${mm(toleranceMm)}`,
      ],
    ),
    ...placements.map(
      ({ captures, side, offsetMm, uOffsetMm, position }): Row => [
        'Place of the probe',
        html`${captures.map((capture, i) => html`${i > 0 && ', '}${given(capture)}`)}: ${side} of the weld, index point ${mm(offsetMm)} (u = ${mm(uOffsetMm)}) from its middle; positions count ${position === 'along' ? 'along it' : 'away from it'}`,
      ],
    ),
    ['Probe in the part', probeInWords(probe, mm)],
    ...damping.map(
      ({ before, after, abovePercent, uCouplingDb }): Row => [
        'Damping test',
        html`${given(before)}, then ${given(after)}; echoes above ${abovePercent} % FSH, coupling u = ${uCouplingDb} dB`,
      ],
    ),
    ...confirmed.map(
      ({ capture, gate, taken, notes }): Row => [
        'Taken for',
        html`${given(capture)}, gate ${given(gate)}: ${taken}${notes !== '' && html`; ${given(notes)}`}`,
      ],
    ),
  ];
}

function shapeInWords(shape: Shape, mm: (value: number) => string): string {
  switch (shape.kind) {
    case 'plate':
      return `plate, ${mm(shape.thicknessMm)} thick (u = ${mm(shape.uThicknessMm)})`;
    case 'pipe':
      return `pipe, outside radius ${mm(shape.outsideRadiusMm)}, wall ${mm(shape.thicknessMm)} (u = ${mm(shape.uThicknessMm)}), scanned round its axis from ${shape.from === 'outside' ? 'outside' : 'the bore'}`;
    case 'step-block':
      return `steps: ${shape.steps.map(({ thicknessMm, captures }) => `${mm(thicknessMm)} (${captures.join(', ')})`).join('; ')}`;
  }
}

function probeInWords(probe: PartDecision['probe'], mm: (value: number) => string): string {
  const parts = [
    `${probe.angleDeg}° (u ${probe.uAngleDeg === null ? 'not known' : `= ${probe.uAngleDeg}°`}), ${probe.mode}`,
    probe.indexToFrontMm === null
      ? null
      : `index point ${mm(probe.indexToFrontMm)} behind the front (u = ${mm(probe.uIndexMm)})`,
    probe.elementMm === null ? null : `element ${mm(probe.elementMm)}`,
    probe.frequencyMHz === null ? null : `${probe.frequencyMHz} MHz`,
    probe.wedgeVelocityMPerS === null ? null : `wedge ${probe.wedgeVelocityMPerS} m/s`,
    probe.velocityMPerS === null ? 'velocity of the calibration' : `${probe.velocityMPerS} m/s in the part`,
  ];
  return parts.filter((part) => part !== null).join('; ');
}

/** What a person decided of a scan and of what it shows. */
export function scanRows({ scan }: Review, style: FigureStyle): Row[] {
  if (scan === null) return [];
  const mm = (value: number) => figureWords(figures.statedMm(value, style), style);
  const { captures, fromMm, toMm, reference, rating, indications } = scan;
  return [
    [
      'Scan',
      html`${captures.map((capture, i) => html`${i > 0 && ', '}${given(capture)}`)}; sound paths from ${mm(fromMm)} to ${mm(toMm)}, proposed from ${levelInWords(scan)}${scan.scanningGainDb !== null && `; ${scan.scanningGainDb} dB added for scanning`}`,
    ],
    [
      'Scan: length',
      `${lengthMethods[scan.sizing.kind]}${scan.sizing.kind === 'fixed-level' ? ` (${scan.sizing.percent} % FSH)` : ''}; beam ${scan.beamWidthMm === null ? 'of unknown width' : `${mm(scan.beamWidthMm)} wide (u = ${mm(scan.uBeamWidthMm)})`}; positions u = ${mm(scan.uPositionMm)}`,
    ],
    [
      'Scan: reference',
      reference === null
        ? 'none stated'
        : `${reference.percent} % FSH at ${reference.gainDb} dB (u = ${reference.uGainDb} dB)`,
    ],
    [
      'Scan: rating',
      rating === null
        ? 'none asked for'
        : `AWS D1.1’s arithmetic, ${rating.form === 'si' ? 'SI' : 'inch'} form; nearer than where the formula begins ${rating.floorAtZero ? 'the factor is 0' : 'the formula is carried on'}`,
    ],
    ...indications.map(
      ({ name, captures: own, fromMm: from, toMm: to, taken, notes }): Row => [
        'Indication',
        html`${given(name)}: ${own.length === 1 ? given(own[0]) : html`${given(own[0])} and ${own.length - 1} more`}, sound paths ${mm(from)} to ${mm(to)}; ${takenInWords(taken)}${notes !== '' && html`; ${given(notes)}`}`,
      ],
    ),
  ];
}

function takenInWords(taken: 'reflector' | 'geometry' | null): Shown {
  return taken === null ? 'not decided what it is' : `taken for ${taken === 'reflector' ? 'a reflector' : 'geometry'}`;
}

function levelInWords({ level }: ScanDecision): string {
  return level.kind === 'screen' ? `${level.percent} % FSH on` : `${level.db} dB to the curve on`;
}
