import { bestIn } from '../../core/probe/characteristics.ts';
import { type ProbeFigure, probeFigureNames, probeFigures } from '../../core/probe/figures.ts';
import { hindranceTexts } from '../../core/probe/hindrance.ts';
import type { CapturePulse } from '../../core/probe/pulse.ts';
import type { CaptureLookup } from '../../core/report/document.ts';
import type { MaterialResult } from '../../core/steps/material.ts';
import type { ProbeComparison, ProbesResult } from '../../core/steps/probes.ts';
import { formatNumber, formatQuantity, unknown } from '../../core/units/format-quantity.ts';
import { left, printable, right, table } from './table.ts';

/** A table for people ends here; the rest stands in --json and --csv. */
const mostRows = 60;
const mostColumns = 8;

const decimals: Readonly<Record<string, number>> = { MHz: 3, '%': 1, µs: 3, mm: 2, '°': 2, dB: 1, 'dB/µs': 1, '': 1 };

const briefly: readonly ProbeFigure[] = [
  'centre-frequency-e1065',
  'centre-frequency-iso',
  'bandwidth-6-db',
  'duration-iso',
  'half-cycles',
  'sensitivity',
  'signal-to-noise',
];

const inBrief: Partial<Record<ProbeFigure, string>> = {
  'centre-frequency-e1065': 'centre E1065 MHz',
  'centre-frequency-iso': 'centre ISO MHz',
  'bandwidth-6-db': '−6 dB width MHz',
  'duration-iso': 'at 10 % µs',
  'half-cycles': 'half-cycles',
  sensitivity: 'sensitivity dB',
  'signal-to-noise': 'S/N dB',
};

function columnOf(name: ProbeFigure): string {
  const { title, unit } = probeFigures[name];
  return unit === '' ? title : `${title}, ${unit}`;
}

/** One row for each capture. */
export function captureWords({ captures: pulses }: ProbesResult, captures: CaptureLookup): string {
  const rows = pulses
    .slice(0, mostRows)
    .map((pulse) => [
      captures.get(pulse.captureId)?.file ?? pulse.captureId,
      captures.get(pulse.captureId)?.trace ?? '',
      captures.get(pulse.captureId)?.probe ?? '',
      ...briefly.map((name) =>
        formatNumber(pulse.figures[name].quantity?.value ?? null, decimals[probeFigures[name].unit]),
      ),
      remarkOn(pulse),
    ]);
  const columns = [
    left('file'),
    left('trace'),
    left('probe'),
    ...briefly.map((name) => right(inBrief[name] ?? name)),
    left('remark'),
  ];
  const more = pulses.length > mostRows ? `\n… and ${pulses.length - mostRows} more: --json or --csv has all.` : '';
  const reasons = [...new Set(pulses.flatMap(({ hindrance }) => (hindrance === null ? [] : [hindrance])))];
  const legend = reasons.map((reason) => `  ${reason}: ${hindranceTexts[reason]}`).join('\n');
  return table(columns, rows) + more + (legend === '' ? '' : `\n\nNot measurable\n${legend}`);
}

function remarkOn({ hindrance, multiLobed: { at6Db, at20Db } }: CapturePulse): string {
  if (hindrance !== null) return `not measurable: ${hindrance}`;
  if (at6Db) return 'multi-lobed';
  return at20Db ? 'multi-lobed at −20 dB' : '';
}

/** One row for each figure, one column for each probe; the best is marked. */
export function probeTable({ probes }: ProbesResult): string {
  const shown = probes.slice(0, mostColumns);
  const rows = probeFigureNames.map((name) => {
    const best = bestIn(name, probes);
    return [
      columnOf(name),
      ...shown.map(({ probe, figures }) => {
        const { quantity, hindrances } = figures[name];
        if (quantity === null) return hindrances.length === 0 ? unknown : hindrances[0].hindrance;
        return `${formatQuantity(quantity, decimals[probeFigures[name].unit])}${best === probe ? ' *' : ''}`;
      }),
    ];
  });
  const count = ['captures', ...shown.map(({ captureIds }) => String(captureIds.length))];
  const more = probes.length > mostColumns ? `\n… and ${probes.length - mostColumns} more probes: --json has all.` : '';
  const legend = probes.length > 1 ? '\n* best of the probes (shortest, widest, strongest)' : '';
  return table([left('figure'), ...shown.map(({ probe }) => right(probe))], [count, ...rows]) + more + legend;
}

export function statedWords({ probes, rule }: ProbesResult): string | null {
  const rows = probes.flatMap(({ probe, stated }) =>
    stated.map(({ figure, stated: value, deviation, unit, verdict }) => [
      probe,
      columnOf(figure),
      String(value),
      `${formatQuantity(deviation, 1)} ${unit}`,
      verdict === null ? unknown : `${formatNumber(verdict.limit, 1)} ${verdict.unit}`,
      verdict?.outcome ?? 'no limit',
    ]),
  );
  if (rows.length === 0) return null;
  const columns = [left('probe'), left('figure'), right('stated'), right('deviation'), right('limit'), left('verdict')];
  const by = rule === null ? 'No rule was chosen: there are no verdicts.' : printable(`${rule.title}. ${rule.source}`);
  return `${table(columns, rows)}\n${by}`;
}

export function comparisonWords(probe: string, { reference, figures, time, frequency }: ProbeComparison): string {
  const lines = [printable(`${probe} against ${reference}`)];
  if (time !== null) {
    const { by, shiftUs, correlation } = time.alignment;
    lines.push(
      `  aligned by ${by === 'cross-correlation' ? 'cross-correlation' : 'envelope peak'}: shift ${formatNumber(shiftUs, 4)} µs${correlation === null ? '' : `, correlation ${formatNumber(correlation, 3)}`}; difference ${formatNumber(100 * time.relativeRms, 1)} % of the reference (root mean square)`,
    );
  }
  if (frequency !== null && frequency.band !== null)
    lines.push(
      `  spectra compared from ${formatNumber(frequency.band.fromMHz, 2)} to ${formatNumber(frequency.band.toMHz, 2)} MHz`,
    );
  const rows = figures.map(({ figure, difference, test, differs }) => [
    `  ${columnOf(figure)}`,
    formatQuantity(difference, decimals[probeFigures[figure].unit]),
    formatNumber(test?.t ?? null, 2),
    formatNumber(test?.degreesOfFreedom ?? null, 1),
    test === null ? unknown : test.p < 0.0001 ? '< 0.0001' : formatNumber(test.p, 4),
    differs === null ? 'not testable' : differs ? 'differs' : 'no difference shown',
  ]);
  const columns = [
    left('  figure'),
    right('difference'),
    right('Welch t'),
    right('degrees of freedom'),
    right('p'),
    left(''),
  ];
  return [...lines, table(columns, rows), differencesInWords(probe, reference, figures)].join('\n');
}

function differencesInWords(probe: string, reference: string, figures: ProbeComparison['figures']): string {
  const named = (which: boolean | null) =>
    figures.filter(({ differs }) => differs === which).map(({ figure }) => probeFigures[figure].title);
  const [differing, alike, untold] = [named(true), named(false), named(null)];
  const listed = (titles: readonly string[]) => titles.join('; ');
  return [
    differing.length === 0
      ? printable(`  ${probe} is not shown to differ from ${reference} in any figure.`)
      : printable(`  ${probe} differs from ${reference} in ${differing.length} figures by more than chance explains.`),
    ...(alike.length === 0 ? [] : [`  No difference is shown in: ${listed(alike)}.`]),
    ...(untold.length === 0
      ? []
      : [`  Cannot be told (fewer than two captures measured, or no scatter): ${listed(untold)}.`]),
  ].join('\n');
}

export function probesWords(result: ProbesResult, captures: CaptureLookup): string {
  const stated = statedWords(result);
  const parts = [
    captureWords(result, captures),
    probeTable(result),
    ...(stated === null ? [] : [stated]),
    ...result.probes.flatMap(({ probe, comparison }) =>
      comparison === null ? [] : [comparisonWords(probe, comparison)],
    ),
    [`Spectra: ${result.spectrum}.`, ...result.remarks.map(printable)].join('\n'),
  ];
  return parts.join('\n\n');
}

export function materialWords(result: MaterialResult, captures: CaptureLookup): string {
  const echoes = result.captures.flatMap((capture) =>
    capture.echoes.map((echo) => [
      captures.get(capture.captureId)?.file ?? capture.captureId,
      String(echo.multiple),
      formatNumber(echo.timeUs, 4),
      formatNumber(echo.uTimeUs, 5),
      formatNumber(echo.amplitudePercent, 1),
      formatNumber(echo.correlation, 3),
      echo.doubts.join(', '),
    ]),
  );
  const shown = thinned(result.attenuation, 12).map(({ frequencyMHz, dbPerMm }) => [
    formatNumber(frequencyMHz, 2),
    formatQuantity(
      {
        value: 1000 * dbPerMm.value,
        standardUncertainty: dbPerMm.standardUncertainty === null ? null : 1000 * dbPerMm.standardUncertainty,
      },
      1,
    ),
  ]);
  const { velocityMPerS, band } = result;
  return [
    table(
      [
        left('file'),
        right('echo'),
        right('time µs'),
        right('u µs'),
        right('% FSH'),
        right('correlation'),
        left('doubts'),
      ],
      echoes,
    ),
    `Velocity ${formatQuantity(velocityMPerS, 1)} m/s`,
    ...(band === null
      ? ['No attenuation: there is no band in which it means anything.']
      : [
          `Attenuation from ${formatNumber(band.fromMHz, 2)} to ${formatNumber(band.toMHz, 2)} MHz\n${table([right('MHz'), right('dB/m of travel')], shown)}`,
        ]),
    result.remarks.map(printable).join('\n'),
  ].join('\n\n');
}

function thinned<T>(list: readonly T[], most: number): T[] {
  const every = Math.max(1, Math.ceil(list.length / most));
  return list.filter((_, i) => i % every === 0 || i === list.length - 1);
}
