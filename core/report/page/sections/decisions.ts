import { readBlock } from '../../../block/block-by-name.ts';
import { conditioningInWords, heightInWords, timingInWords } from '../../../origin/context.ts';
import { figures, figureWords } from '../../../origin/figure.ts';
import type { StepTable } from '../../../review/linearity-decision.ts';
import type { Review } from '../../../review/review.ts';
import { html, type Markup } from '../markup.ts';
import { given, type Section, table, words } from '../parts.ts';
import type { Report } from '../report-input.ts';
import { partRows, scanRows } from './decisions-on-part.ts';

type Row = readonly [decision: string, as: Markup | string];

/** What a person decided; everything else in the report follows from it and the captures. */
export function decisionsSection({ review, style }: Report): Section {
  const length = (mm: number) => figureWords(figures.statedMm(mm, style), style);
  const rows: Row[] = [
    [
      'Conditioning',
      `${conditioningInWords(review.conditioning)}; ends ${review.conditioning.padding === 'extend' ? 'extended by odd reflection' : 'not extended'}`,
    ],
    ['Height of an echo', heightInWords(review.conditioning)],
    ...calibrationRows(review, length),
    ...readingRows(review),
    ...driftRows(review, length),
    ...linearityRows(review),
    ...sensitivityRows(review, length),
    ...partRows(review, style),
    ...scanRows(review, style),
    ...factRows(review),
  ];
  return {
    id: 'decisions',
    title: 'Decisions',
    body: html`${table('What a person decided; all else follows from it and from the captures', [words('Decision'), words('As it stands')], rows)}`,
  };
}

function calibrationRows(review: Review, length: (mm: number) => string): Row[] {
  const decision = review.calibration;
  if (decision === null) return [];
  if (decision.kind === 'given')
    return [
      [
        'Calibration',
        html`taken over from ${given(decision.file)}, SHA-256 <span class="code">${decision.sha256 ?? 'not known'}</span>`,
      ],
    ];
  return [
    ['Calibration: captures', listed(decision.captures)],
    ['Calibration: reflectors', reflectorsInWords(decision, length)],
    ['Calibration: timing', timingInWords(decision.timing, review.conditioning)],
    ['Calibration: least height', `${decision.thresholdPercent} % FSH`],
    ...(decision.nominal === null
      ? []
      : [['Calibration: expected velocity', `${decision.nominal.material}, ${decision.nominal.mode}`] as const]),
  ];
}

function reflectorsInWords(
  { reflectors }: Extract<Review['calibration'], { kind: 'fit' }>,
  length: (mm: number) => string,
): Markup | string {
  if (reflectors.kind === 'block') {
    const block = readBlock(reflectors.name);
    return block.ok ? `${block.value.title} (${block.value.source})` : reflectors.name;
  }
  return reflectors.list
    .map(
      ({ distanceMm, toleranceMm, fromUs, toUs }) =>
        `${length(distanceMm)}${toleranceMm > 0 ? ` ± ${length(toleranceMm)}` : ''} between ${fromUs} and ${toUs} µs`,
    )
    .join('; ');
}

function readingRows(review: Review): Row[] {
  const decision = review.readings;
  if (decision === null) return [];
  return [
    ['Readings: captures', listed(decision.captures)],
    ['Readings: timing', timingInWords(decision.timing, review.conditioning)],
    [
      'Readings: series',
      decision.series === null
        ? 'the captures are of different reflectors: none is held against another'
        : `the captures are of one reflector; off the peak from ${decision.series.offPeakDb} dB below it`,
    ],
  ];
}

function driftRows(review: Review, length: (mm: number) => string): Row[] {
  const decision = review.drift;
  if (decision === null) return [];
  return [
    ['Drift: captures', listed(decision.captures)],
    [
      'Drift: reflectors',
      decision.reflectors
        .map(({ distanceMm, fromUs, toUs }) => `${length(distanceMm)} between ${fromUs} and ${toUs} µs`)
        .join('; '),
    ],
    [
      'Drift: height at calibration',
      decision.amplitudePercent === null ? 'not stated' : `${decision.amplitudePercent} % FSH for the highest of them`,
    ],
    [
      'Drift: decision',
      decision.decision === 'simple-acceptance' ? 'simple acceptance' : 'with the expanded uncertainty, k = 2',
    ],
  ];
}

function linearityRows({ linearity: { timeBase, screenHeight, gain } }: Review): Row[] {
  const window = ({ fromUs, toUs }: { readonly fromUs: number; readonly toUs: number }) => `${fromUs} to ${toUs} µs`;
  const stepped = (table: StepTable | null) =>
    table === null ? '; gains as the captures say' : `; gains by the step table (${table.rows.length} rows)`;
  const rows: Row[] = [];
  if (timeBase !== null)
    rows.push(
      ['Time base: captures', listed(timeBase.captures)],
      [
        'Time base: reflectors',
        `${
          timeBase.reflectors.kind === 'known-distances'
            ? timeBase.reflectors.list.map(({ distanceMm, ...span }) => `${distanceMm} mm, ${window(span)}`).join('; ')
            : `echoes of one spacing, ${window(timeBase.reflectors)}, above ${timeBase.reflectors.abovePercent} % FSH`
        }; timed by the ${timeBase.timing}, from ${timeBase.thresholdPercent} % FSH`,
      ],
    );
  if (screenHeight !== null)
    rows.push(
      ['Screen height: captures', listed(screenHeight.captures)],
      [
        'Screen height: echoes',
        screenHeight.form === 'two-echo'
          ? `larger ${window(screenHeight.larger)}, smaller ${window(screenHeight.smaller)}`
          : `${window(screenHeight.window)}${stepped(screenHeight.steps)}`,
      ],
    );
  if (gain !== null)
    rows.push(
      ['Gain: captures', listed(gain.captures)],
      ['Gain: echo', `${window(gain.window)}${stepped(gain.steps)}`],
    );
  return rows;
}

function sensitivityRows({ sensitivity }: Review, length: (mm: number) => string): Row[] {
  if (sensitivity === null) return [];
  const { curve, attenuation, probe, uCouplingDb } = sensitivity;
  return [
    ...(curve === null
      ? []
      : [
          ['Curve: captures', listed(curve.captures)] as const,
          [
            'Curve: reflectors',
            `${curve.reflectors.map(({ distanceMm, fromUs, toUs }) => `${length(distanceMm)} between ${fromUs} and ${toUs} µs`).join('; ')}; from ${curve.thresholdPercent} % FSH`,
          ] as const,
        ]),
    ...(attenuation === null
      ? []
      : [
          [
            'Attenuation: back walls',
            html`${listed(attenuation.captures)}: ${length(attenuation.near.distanceMm)} and ${length(attenuation.far.distanceMm)}`,
          ] as const,
        ]),
    [
      'Sensitivity: probe',
      probe === null
        ? 'element and frequency not known'
        : `element ${length(probe.elementMm)}, ${probe.frequencyMHz} MHz${probe.velocityMPerS === null ? '' : `, ${probe.velocityMPerS} m/s`}`,
    ],
    ['Sensitivity: coupling', `standard uncertainty ${uCouplingDb} dB`],
  ];
}

/** What a person knew better than a file stands above what the file says, and is shown for that. */
function factRows(review: Review): Row[] {
  return review.sources.flatMap(({ file, facts }) =>
    facts.map((one): Row => {
      const stated = Object.entries(one).filter(([key, value]) => key !== 'trace' && value !== null);
      return [
        'Facts stated by a person',
        html`${given(one.trace === null ? file : `${file}#${one.trace}`)}: ${stated.map(([key, value]) => `${factNames[key] ?? key} ${value}`).join(', ')}`,
      ];
    }),
  );
}

const factNames: Readonly<Record<string, string>> = {
  gainDb: 'gain in dB',
  positionMm: 'position in mm',
  acrossMm: 'position across in mm',
  takenAt: 'taken at',
  probe: 'probe',
  instrument: 'instrument',
  block: 'block',
  temperatureC: 'temperature in °C',
};

function listed(captures: readonly string[]): Markup {
  return html`${captures.map((capture, i) => html`${i > 0 && ', '}${given(capture)}`)}`;
}
